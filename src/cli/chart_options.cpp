// Options of chart.
#include "cli/chart_options.h"

#include "base/message.h"
#include "cli/option_groups.h"

namespace yubifu::cli {
namespace {

using base::message;

std::optional<ChartFormat> chart_format(const std::string& text) {
  if (text == "text") return ChartFormat::text;
  if (text == "svg") return ChartFormat::svg;
  return std::nullopt;
}

std::optional<page::ChartSize> chart_size(const std::string& text) {
  if (text == "screen") return page::ChartSize::screen;
  if (text == "a4") return page::ChartSize::a4;
  if (text == "letter") return page::ChartSize::letter;
  return std::nullopt;
}

}  // namespace

std::vector<OptionRow> chart_options() {
  return {
      {"to",
       0,
       "FORMAT",
       OptionGroup::files,
       {"chart"},
       "text or svg, where the name of the output does not tell",
       [](Options& o, const std::string& v) {
         return keep(chart_format(v), o.chart.to, message("text or svg"));
       },
       {"text", "svg"}},
      {"score",
       0,
       "FILE",
       OptionGroup::files,
       {"chart"},
       "show only the fingerings that this score uses, on its own flute unless --flute names "
       "another",
       [](Options& o, const std::string& v) -> Complaint {
         o.chart.score = v;
         return std::nullopt;
       }},
      {"size",
       0,
       "SIZE",
       OptionGroup::page,
       {"chart"},
       "of an SVG chart: a4 (the default) or letter for paper, screen for one tall picture",
       [](Options& o, const std::string& v) {
         return keep(chart_size(v), o.chart.size, message("screen, a4 or letter"));
       },
       {"a4", "letter", "screen"}},
  };
}

}  // namespace yubifu::cli
