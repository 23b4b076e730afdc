#include "cli/conversion.h"

#include <filesystem>
#include <optional>
#include <utility>

#include "base/file.h"
#include "cli/flute_files.h"
#include "cli/loading.h"
#include "cli/log.h"
#include "cli/summary_line.h"
#include "fingering/summary.h"
#include "model/play_out.h"

namespace yubifu::cli {
namespace {

void explain(const fingering::Resolved& resolved, Log& log) {
  for (const std::string& line : fingering::explanation(resolved)) log.add_line(line);
}

}  // namespace

JobResult convert(const Conversion& conversion, const Options& options) {
  Log log(options.strictness);
  std::optional<Loaded> loaded = load(conversion.input, options, log);
  if (!loaded) return log.take();

  const std::filesystem::path folder = folder_of(conversion.input);
  fingering::ResolveOptions resolve = options.resolve;
  resolve.origin = loaded->format->origin;
  resolve.flutes = flute_supply(folder, log);
  if (conversion.flute) resolve.flute = moved(*conversion.flute, ".", folder);
  auto resolved = fingering::resolve(std::move(loaded->score), resolve);
  log.add(resolved.diagnostics, loaded->source);
  if (!resolved.value || log.failed()) {
    log.raise(ExitStatus::unusable);
    return log.take();
  }
  if (options.resolve.explain != fingering::Explain::nothing) explain(*resolved.value, log);

  Options writing = options;
  if (options.repeats == Repeats::played_out) {
    auto played = model::play_out(resolved.value->score);
    log.add(played.diagnostics, loaded->source);
    if (!played.ok()) return log.take();
    resolved.value->score = std::move(played.value->score);
    writing.json_write.source = std::move(played.value->source);
  }
  move_flutes(resolved.value->score, folder, folder_of(conversion.output));
  const base::Outcome<std::string> written = conversion.to->write(*resolved.value, writing);
  log.add(written.diagnostics, loaded->source);
  if (!written.ok()) return log.take();

  const std::string output = output_name(conversion.output);
  log.add(base::write_file(conversion.output, *written.value), base::SourceText(output, {}));
  if (log.failed()) return log.take();
  log.add_line(summary_line(input_name(conversion.input), output, *resolved.value));
  return log.take();
}

}  // namespace yubifu::cli
