#include "page/page.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/message.h"
#include "page/chart/chart.h"
#include "page/drawing.h"
#include "page/print/print.h"
#include "page/sheet/layout.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// What stands over the pages.
std::string title_of(const model::Score& score) {
  return score.header.title.empty() ? base::message("Fingering score") : score.header.title;
}

std::string description_of(const model::Score& score, ReadingDirection direction) {
  std::string text =
      base::message("Fingering score for the shinobue, {} bars", score.measures.size());
  if (!score.header.composer.empty()) {
    text += base::message("; composer: {}", score.header.composer);
  }
  text += direction == ReadingDirection::down
              ? base::message(". Columns are read from top to bottom and from right to left.")
              : base::message(". Rows are read from left to right.");
  return text;
}

// Titles, page numbers and the foot, when the number of sheets is known.
void finish(std::vector<Sheet>& sheets, const model::Score& score, const PageOptions& options) {
  const Box area = area_of(sheet_size(options.paper, options.orientation));
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    Sheet& sheet = sheets[i];
    sheet.title = sheets.size() == 1
                      ? title_of(score)
                      : base::message("{}, page {} of {}", title_of(score), i + 1, sheets.size());
    if (sheet.description.empty()) sheet.description = description_of(score, options.direction);
    append(sheet.items,
           draw_footer(sheet.notes, area, page_line(i + 1, sheets.size(), score.header.title)));
  }
}

}  // namespace

SheetSize sheet_size(PaperSize paper, Orientation orientation) {
  SheetSize size = paper == PaperSize::a4 ? SheetSize{210, 297} : SheetSize{215.9, 279.4};
  if (orientation == Orientation::landscape) std::swap(size.width, size.height);
  return size;
}

base::Outcome<std::vector<Sheet>> lay_out(const model::Score& score, const FluteList& flutes,
                                          const PageOptions& options) {
  auto music = music_sheets(score, flutes, options);
  base::Outcome<std::vector<Sheet>> sheets{std::nullopt, std::move(music.diagnostics)};
  if (!music.value) return sheets;
  sheets.value = std::move(music.value->sheets);
  if (options.chart == ChartPages::used_fingerings) {
    auto chart =
        chart_sheets(flutes_used(score, flutes), sheet_size(options.paper, options.orientation));
    base::append(sheets.diagnostics, std::move(chart.diagnostics));
    std::move(chart.value->begin(), chart.value->end(), std::back_inserter(*sheets.value));
  }
  if (std::string caution = caution_for(score, flutes); !caution.empty()) {
    sheets.value->back().notes.push_back(std::move(caution));
  }
  finish(*sheets.value, score, options);
  return sheets;
}

base::Outcome<std::vector<std::string>> write_pages(const model::Score& score,
                                                    const FluteList& flutes,
                                                    const PageOptions& options, PrintedAs as) {
  auto sheets = lay_out(score, flutes, options);
  if (!sheets.value) return {std::nullopt, std::move(sheets.diagnostics)};
  const bool one_tall = as == PrintedAs::svg && options.documents == SvgDocuments::one_tall;
  if (one_tall) return {{{svg_document(*sheets.value)}}, std::move(sheets.diagnostics)};
  auto documents = documents_of(*sheets.value, as, {title_of(score), score.header.composer});
  base::append(sheets.diagnostics, std::move(documents.diagnostics));
  return {std::move(documents.value), std::move(sheets.diagnostics)};
}

}  // namespace yubifu::page
