#include "page/page.h"

#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/xml_text.h"
#include "page/layout.h"
#include "page/style.h"
#include "page/svg.h"

namespace yubifu::page {
namespace {

// On paper one sheet a page. On a screen the sheets lie under one another; a narrow one shows
// columns large enough to read and lets them be moved sideways, from the first one on. There the
// foot of the sheets would be cut, so it stands below them as text of the page. Rows are always
// seen whole: nobody can play and move each of them to and fro.
std::string style_sheet(const Sheet& sheet) {
  constexpr double kLeastPixels = 2.95;  // for a millimetre
  return fmt::format(R"(@page {{ size: {0}mm {1}mm; margin: 0 }}
html {{ background: {2}; color: {3}; font-family: {4} }}
body {{ margin: 0 }}
.sheet {{ break-after: page; break-inside: avoid; overflow: hidden }}
.sheet:last-child {{ break-after: auto }}
.sheet svg {{ display: block; direction: ltr; width: {0}mm; height: {1}mm; background: {2} }}
.notes {{ display: none }}
@media screen {{
  html {{ background: {6} }}
  .sheet {{ overflow-x: auto; margin: 0 auto 12px }}
  .from-right {{ direction: rtl }}
  .sheet svg {{ width: max(min(100%, {0}mm), {5:.0f}px); height: auto; margin: 0 auto }}
  .rows svg {{ width: min(100%, {0}mm) }}
}}
@media screen and (max-width: {5:.0f}px) {{
  .foot {{ visibility: hidden }}
  .notes {{ display: block; padding: 4px 16px; background: {2}; line-height: 1.5 }}
}}
)",
                     number_text(sheet.width), number_text(sheet.height), style::kPaper,
                     style::kInk, style::kFonts, sheet.width * kLeastPixels, style::kDesk);
}

// A chart has no bars, and neither columns nor rows.
std::string_view further_class(const Sheet& sheet) {
  if (sheet.start == SheetStart::right) return " from-right";
  return sheet.bars.empty() ? "" : " rows";
}

std::string html_of(const std::vector<Sheet>& sheets, const std::string& title) {
  std::string out =
      fmt::format("<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n",
                  message_language());
  out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  out += "<meta name=\"description\" content=\"" + base::xml_escaped(sheets.front().description) +
         "\">\n";
  out += "<title>" + base::xml_escaped(title) + "</title>\n<style>\n";
  out += style_sheet(sheets.front()) + "</style>\n</head>\n<body>\n";
  out += "<svg width=\"0\" height=\"0\" aria-hidden=\"true\" style=\"position:absolute\">\n";
  out += svg_definitions(sheets) + "</svg>\n<main>\n";
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    out +=
        fmt::format("<section class=\"sheet{}\" aria-labelledby=\"yf-title-{}\" tabindex=\"0\">\n",
                    further_class(sheets[i]), i + 1);
    out += svg_of_sheet(sheets[i], i + 1) + "</section>\n";
  }
  out += "</main>\n<footer class=\"notes\">\n";
  for (const std::string& note : sheets.front().notes)
    out += "<p>" + base::xml_escaped(note) + "</p>\n";
  return out + "</footer>\n</body>\n</html>\n";
}

}  // namespace

base::Outcome<std::vector<std::string>> write_page_svg(const model::Score& score,
                                                       const FluteList& flutes,
                                                       const PageOptions& options) {
  base::Outcome<std::vector<std::string>> result;
  auto sheets = lay_out(score, flutes, options);
  result.diagnostics = std::move(sheets.diagnostics);
  if (!sheets.value) return result;
  result.value.emplace();
  if (options.documents == SvgDocuments::one_tall) {
    result.value->push_back(svg_document(*sheets.value));
  } else {
    for (const Sheet& sheet : *sheets.value) result.value->push_back(svg_document({sheet}));
  }
  return result;
}

base::Outcome<std::string> write_page_html(const model::Score& score, const FluteList& flutes,
                                           const PageOptions& options) {
  base::Outcome<std::string> result;
  auto sheets = lay_out(score, flutes, options);
  result.diagnostics = std::move(sheets.diagnostics);
  if (!sheets.value) return result;
  const std::string title =
      score.header.title.empty() ? base::message("Fingering score") : score.header.title;
  result.value = html_of(*sheets.value, title);
  return result;
}

}  // namespace yubifu::page
