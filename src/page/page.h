// The traditional page: a score as columns of numbers that a player reads from the music stand.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "flute/flute.h"
#include "model/score.h"

namespace yubifu::page {

struct Sheet;
struct SheetSize;

/// The paper.
enum class PaperSize { a4, letter };
/// How it lies.
enum class Orientation { portrait, landscape };

/// Columns from top to bottom and from right to left, or rows from left to right.
enum class ReadingDirection { down, across };

/// How held beats are written: with the strokes of the tradition, or the dashes of some schools.
enum class HeldBeats { strokes, dashes };

/// Whether song text and sung syllables are printed.
enum class SongText { shown, hidden };

/// Whether hole patterns stand beside the notes for which the score asks for one, or beside all.
enum class HolesShown { asked, all };

/// Whether the fingerings that the score uses follow on pages of their own.
enum class ChartPages { none, used_fingerings };

/// SVG: one document a page, or all pages in one tall document.
enum class SvgDocuments { one_a_page, one_tall };

/// Limits of PageOptions::scale and PageOptions::columns.
inline constexpr double kLeastScale = 0.5;
inline constexpr double kMostScale = 3;
inline constexpr int kMostColumns = 40;

/// How the pages look.
struct PageOptions {
  PaperSize paper = PaperSize::a4;
  Orientation orientation = Orientation::portrait;
  ReadingDirection direction = ReadingDirection::down;
  HeldBeats held = HeldBeats::strokes;
  SongText song_text = SongText::shown;
  HolesShown holes = HolesShown::asked;
  ChartPages chart = ChartPages::none;
  SvgDocuments documents = SvgDocuments::one_a_page;
  /// 1 prints digits 6 mm high, 3 18 mm; without one as large as the pages of scale 1 allow.
  std::optional<double> scale;
  /// Columns (rows, when read across) a page; without a number as many as fit.
  std::optional<int> columns;
};

/// The flutes of a score, one for each of Score::flutes.
using FluteList = std::vector<std::shared_ptr<const flute::Flute>>;

/// The size of a sheet: A4 of ISO 216, Letter of ANSI/ASME Y14.1.
SheetSize sheet_size(PaperSize paper, Orientation orientation);

/// The pages as positioned items, at least one; no value beside errors, told as by write_pages.
base::Outcome<std::vector<Sheet>> lay_out(const model::Score& score, const FluteList& flutes,
                                          const PageOptions& options);

/// SVG, a document a sheet; one HTML document that prints a sheet a page; or one PDF document.
enum class PrintedAs { svg, html, pdf };

/// The pages as documents, at least one. Every note needs a fingering or must be a gap. `flutes`
/// tell which signs are loud and give the chart. Reports the rules of page/rules.h.
base::Outcome<std::vector<std::string>> write_pages(const model::Score& score,
                                                    const FluteList& flutes,
                                                    const PageOptions& options, PrintedAs as);

}  // namespace yubifu::page
