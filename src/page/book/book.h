// Many tunes as one book: title, contents, the tunes in parts, their fingerings, an index, sources.
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "page/chart/chart.h"
#include "page/drawing.h"
#include "page/page.h"
#include "page/sheet/layout.h"

namespace yubifu::page {

/// Where a tune begins.
enum class TuneStart { new_sheet, following_on };

/// Gathers laid out tunes, so that no score needs to be kept.
class Book {
 public:
  /// Without `options.chart` and `options.documents`. Tunes that follow on have signs of one size.
  Book(std::string title, const PageOptions& options, TuneStart start);

  /// The tunes added from here on belong to a part, which begins with a leaf of its own.
  void begin_part(std::string title) { part_ = std::move(title); }

  /// Lays a tune out; `name` stands in for a title. After an error the tune is not in the book.
  base::Diagnostics add(const std::string& name, const model::Score& score,
                        const FluteList& flutes);

  std::size_t tune_count() const { return tunes_.size(); }
  const std::string& title() const { return title_; }

  /// All sheets in order. The book is used up. Reports `page-same-title` and `page-not-in-chart`.
  base::Outcome<std::vector<Sheet>> bind();

 private:
  // A sheet with what stands over it.
  struct Leaf {
    Sheet sheet;
    std::string head;
  };

  // A line of the contents or the index.
  struct Row {
    std::string text;
    std::optional<std::size_t> leaf;  // index into leaves_, from which its page follows
    TextWeight weight = TextWeight::regular;
  };

  Sheet blank(const std::string& title) const;
  Leaf title_leaf(const std::string& title, double size) const;
  std::vector<Leaf> list_leaves(const std::string& title, const std::vector<Row>& rows,
                                std::size_t leaves_before) const;
  void place(MusicSheets music, const std::string& name);
  void add_uses(const model::Score& score, const FluteList& flutes);
  base::Diagnostics same_titles(std::size_t leaves_before) const;
  void finish(std::vector<Leaf>& leaves) const;

  std::string title_;
  PageOptions options_;
  TuneStart start_;
  SheetSize size_;
  double foot_;
  double taken_ = 0;                 // of the last leaf, by a tune
  std::optional<std::string> part_;  // that has no leaf yet
  std::vector<Leaf> leaves_;         // without title leaf and contents
  std::vector<Row> contents_;
  std::vector<Row> tunes_;
  std::vector<Row> first_words_;
  std::vector<Row> sources_;
  std::vector<ChartOfFlute> uses_;  // each fingering once, without its bend
  std::set<std::string> explained_;
  std::string caution_;
};

}  // namespace yubifu::page
