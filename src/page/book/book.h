// Many tunes as one book: title leaf, contents, the tunes in their parts, the fingerings that they
// use, and an index by first words.
#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "flute/flute.h"
#include "model/score.h"
#include "page/drawing.h"
#include "page/page.h"
#include "page/sheet/layout.h"

namespace yubifu::page {

/// Where a tune begins.
enum class TuneStart { new_sheet, following_on };

/// Gathers laid out tunes, so that no score needs to be kept.
class Book {
 public:
  /// `options.chart` and `options.documents` have no meaning in a book. Tunes that follow on have
  /// signs of one size.
  Book(std::string title, const PageOptions& options, TuneStart start);

  /// The tunes added from here on belong to a part, which begins with a leaf of its own.
  void begin_part(std::string title);

  /// Lays a tune out. `name` is what it is called where it has no title. With an error among what
  /// is reported, the tune is not in the book.
  base::Diagnostics add(const std::string& name, const model::Score& score,
                        const FluteList& flutes);

  std::size_t tune_count() const { return tune_count_; }
  const std::string& title() const { return title_; }

  /// All sheets in order. The book is used up. Reports `page-same-title` and `page-not-in-chart`.
  base::Outcome<std::vector<Sheet>> bind();

 private:
  // A sheet with what stands over it.
  struct Leaf {
    Sheet sheet;
    std::string head;
    bool numbered = true;
  };

  // A line of the contents or the index.
  struct Row {
    std::string text;
    std::optional<std::size_t> leaf;  // index into leaves_, from which its page follows
    TextWeight weight = TextWeight::regular;
  };

  struct Use {
    std::shared_ptr<const flute::Flute> flute;
    std::map<std::string, model::Fingering> fingerings;  // each once, by its spelling
  };

  Sheet blank(const std::string& title) const;
  std::vector<Leaf> title_leaf() const;
  std::vector<Leaf> list_leaves(const std::string& title, const std::vector<Row>& rows,
                                std::size_t leaves_before) const;
  void place(MusicSheets music, const std::string& name);
  void add_uses(const model::Score& score, const FluteList& flutes);
  void add_first_words(const model::Score& score, const std::string& name, std::size_t leaf);
  base::Diagnostics add_charts();
  base::Diagnostics same_titles(std::size_t leaves_before) const;
  void finish(std::vector<Leaf>& leaves) const;

  std::string title_;
  PageOptions options_;
  TuneStart start_;
  SheetSize size_;
  double foot_;
  double taken_ = 0;  // of the last leaf, by a tune
  std::size_t tune_count_ = 0;
  std::optional<std::string> part_;  // that has no leaf yet
  std::vector<Leaf> leaves_;         // without title leaf and contents
  std::vector<Row> contents_;
  std::vector<Row> tunes_;
  std::vector<Row> first_words_;
  std::vector<Row> sources_;
  std::vector<Use> uses_;
  std::set<std::string> explained_;
  std::string caution_;
};

}  // namespace yubifu::page
