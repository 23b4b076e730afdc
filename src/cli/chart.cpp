// The verb chart: the fingering chart of a flute.
#include <string>

#include "base/file.h"
#include "base/message.h"
#include "cli/flute_files.h"
#include "cli/log.h"
#include "cli/messages.h"
#include "cli/verbs.h"
#include "page/chart_text.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr double kConcertPitchHz = 440;

ExitStatus refuse(const std::string& sentence) {
  print_message(without_control_characters(message("yubifu: error: {}\n", sentence)));
  return ExitStatus::unusable;
}

}  // namespace

ExitStatus run_chart(const Options& options) {
  if (!options.inputs.empty()) {
    return refuse(message("chart takes no input; name the flute with --flute"));
  }
  if (options.flutes.size() > 1) return refuse(message("chart shows one flute at a time"));
  const model::FluteName name =
      options.flutes.empty() ? model::FluteName(model::kDefaultFluteSize) : options.flutes.front();
  if (options.flutes.empty()) {
    print_message(message("yubifu: note: no flute was named; this is size {}\n", to_text(name)));
  }
  Log log(options.strictness);
  const auto flute =
      flute_supply(".", log)(name, options.resolve.tuning_hz.value_or(kConcertPitchHz));
  log.add(flute.diagnostics, base::SourceText(to_text(name), {}));
  print_message(log.take().messages);
  if (!flute.value) return ExitStatus::unusable;
  const base::Diagnostics placed = base::write_file(
      options.output,
      page::chart_text(*flute.value, options.notation_write.alphabet == notation::Alphabet::ascii
                                         ? page::ChartAlphabet::ascii
                                         : page::ChartAlphabet::printed));
  print_message(printed(placed, base::SourceText(options.output, {})));
  return placed.empty() ? ExitStatus::done : ExitStatus::unusable;
}

}  // namespace yubifu::cli
