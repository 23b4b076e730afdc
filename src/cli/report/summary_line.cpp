#include "cli/report/summary_line.h"

#include <fmt/format.h>

#include "base/message.h"
#include "fingering/summary.h"
#include "flute/flute.h"

namespace yubifu::cli {
namespace {

using base::message;

std::string octaves_text(int shift) {
  if (shift == 0) return {};
  const std::string octaves = model::octaves_text(shift);
  return shift > 0 ? message(", {} up", octaves) : message(", {} down", octaves);
}

// Adds "2 half-holed" to a list in which what there is none of has no place.
void add_count(std::string& list, std::size_t count, std::string_view what) {
  if (count == 0) return;
  list += fmt::format("{}{} {}", list.empty() ? "" : ", ", count, what);
}

}  // namespace

std::string summary_line(const std::string& input, const std::string& output,
                         const fingering::Resolved& resolved,
                         const std::optional<midi::BarRange>& bars) {
  const auto figures = fingering::summarize(resolved, [&](const model::Measure& measure) {
    if (!bars) return true;
    const int number = midi::bar_number(measure);
    return number >= bars->first && number <= bars->last;
  });
  std::string line = fmt::format("{} → {}: ", input, output);
  if (bars) {
    line += bars->first == bars->last ? message("bar {}, ", bars->first)
                                      : message("bars {}-{}, ", bars->first, bars->last);
  }
  const std::string octaves = octaves_text(figures.octave_shift);
  line += figures.notes == 1
              ? message("flute {}{}, 1 note", figures.flute_title, octaves)
              : message("flute {}{}, {} notes", figures.flute_title, octaves, figures.notes);
  std::string special;
  add_count(special, figures.half_holed, message("half-holed"));
  add_count(special, figures.bent, message("bent"));
  add_count(special, figures.third_register, message("third-register"));
  add_count(special, figures.gaps, figures.gaps == 1 ? message("gap") : message("gaps"));
  if (!special.empty()) line += fmt::format(" ({})", special);
  if (figures.loud > 0) line += '\n' + flute::hearing_caution();
  return line;
}

}  // namespace yubifu::cli
