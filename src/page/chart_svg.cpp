#include "page/chart_svg.h"

#include <utility>

#include "base/message.h"
#include "flute/hearing.h"
#include "page/chart_layout.h"
#include "page/heading.h"
#include "page/layout.h"
#include "page/style.h"
#include "page/svg.h"
#include "page/text_fit.h"

namespace yubifu::page {
namespace {

SheetSize size_of(ChartSize size) {
  switch (size) {
    case ChartSize::screen:
      return {style::kChartScreenWidth, 0};
    case ChartSize::a4:
      return sheet_size(PaperSize::a4, Orientation::portrait);
    case ChartSize::letter:
      return sheet_size(PaperSize::letter, Orientation::portrait);
  }
  return {};
}

void add_footer(std::vector<Sheet>& sheets, const std::string& caution, ChartSize size) {
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    Sheet& sheet = sheets[i];
    Box area = area_of({sheet.width, sheet.height});
    const auto lines = wrapped(caution, area.width() / style::kFooterText);
    if (size == ChartSize::screen) {
      // The sheet grows by its foot.
      sheet.height += footer_height(lines);
      area = area_of({sheet.width, sheet.height});
    }
    append(sheet.items, draw_footer(lines, area, i + 1, sheets.size()));
  }
}

}  // namespace

base::Outcome<std::vector<std::string>> write_chart_svg(const flute::Flute& flute,
                                                        const ChartSvgOptions& options) {
  base::Outcome<std::vector<std::string>> result;
  std::vector<ChartEntry> entries;
  if (options.only) {
    auto wanted = entries_of(flute, *options.only);
    result.diagnostics = std::move(wanted.diagnostics);
    entries = std::move(*wanted.value);
  } else {
    entries = all_entries(flute);
  }
  const SheetSize size = size_of(options.size);
  std::vector<Sheet> sheets = chart_sheets(flute, entries, size.width, size.height);
  const bool loud = has_loud(flute, entries);
  add_footer(sheets,
             loud ? base::message("{}.", sentence_case(flute::hearing_caution())) : std::string(),
             options.size);
  result.value.emplace();
  for (const Sheet& sheet : sheets) result.value->push_back(svg_document({sheet}));
  return result;
}

}  // namespace yubifu::page
