#include "cli/conversion.h"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/file.h"
#include "base/message.h"
#include "cli/flute_files.h"
#include "cli/loading.h"
#include "cli/log.h"
#include "cli/page_output.h"
#include "cli/summary_line.h"
#include "fingering/summary.h"
#include "model/play_out.h"

namespace yubifu::cli {
namespace {

using base::message;

void explain(const fingering::Resolved& resolved, Log& log) {
  if (resolved.explained.empty()) return;
  log.add_line(
      message("Effort in points: the way through the melody with the least sum is taken (*)."));
  log.add_line(
      message("note: what the fingers ask by themselves; change: to come from the note before;"));
  log.add_line(
      message("detour: how much more the whole melody would cost with these fingers here."));
  for (const std::string& line : fingering::explanation(resolved)) log.add_line(line);
}

// Flutes come back with the repeats: the table of each flute of the played score.
std::vector<std::shared_ptr<const flute::Flute>> tables_of(const model::Score& played,
                                                           const fingering::Resolved& written) {
  std::vector<std::shared_ptr<const flute::Flute>> tables;
  for (const model::FluteInUse& in_use : played.flutes) {
    const auto& known = written.score.flutes;
    const auto same = std::find_if(known.begin(), known.end(), [&](const model::FluteInUse& one) {
      return one.name == in_use.name;
    });
    tables.push_back(written.flutes[static_cast<std::size_t>(same - known.begin())]);
  }
  return tables;
}

// What is written: one document, or one a page. Standard output takes only one.
base::Outcome<std::vector<std::string>> documents_of(const Format& to, const std::string& output,
                                                     const fingering::Resolved& resolved,
                                                     const Options& options) {
  if (to.write_pages != nullptr && output != "-") return to.write_pages(resolved, options);
  base::Outcome<std::string> written = to.write(resolved, options);
  base::Outcome<std::vector<std::string>> documents;
  documents.diagnostics = std::move(written.diagnostics);
  if (written.value) documents.value.emplace({std::move(*written.value)});
  return documents;
}

}  // namespace

JobResult convert(const Conversion& conversion, const Options& options) {
  Log log(options.strictness, options.proof.report);
  const std::string& path = conversion.input.path;
  const std::string input = input_name(path);
  log.open(input);
  if (log.add_problem(conversion.input)) return log.take();
  std::optional<Loaded> loaded = load(path, options, log);
  if (!loaded) return log.take();

  const std::filesystem::path folder = folder_of(path);
  fingering::ResolveOptions resolve = options.resolve;
  resolve.origin = loaded->format->origin;
  resolve.octave = options.octave;
  resolve.flutes = flute_supply(folder, loaded->source, log);
  if (conversion.flute) resolve.flute = moved(*conversion.flute, ".", folder);
  if (!take_settings(loaded->score, loaded->source, options, resolve, log)) return log.take();
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
    resolved.value->flutes = tables_of(played.value->score, *resolved.value);
    resolved.value->score = std::move(played.value->score);
    writing.json_write.source = std::move(played.value->source);
  }
  move_flutes(resolved.value->score, folder, folder_of(conversion.output));
  const base::Outcome<std::vector<std::string>> written =
      documents_of(*conversion.to, conversion.output, *resolved.value, writing);
  log.add(written.diagnostics, loaded->source);
  if (!written.ok()) return log.take();

  const std::vector<std::string> paths = document_paths(conversion.output, written.value->size());
  for (std::size_t i = 0; i < paths.size(); ++i) {
    log.add(base::write_file(paths[i], (*written.value)[i]),
            base::SourceText(output_name(paths[i]), {}));
  }
  if (log.failed()) return log.take();
  std::string output = output_name(paths.front());
  if (paths.size() > 1) output += message(" to {}", output_name(paths.back()));
  const auto& bars = options.midi_write.practice.bars;
  log.add_line(bars && conversion.to->name == "midi"
                   ? summary_line(input, output, *resolved.value, *bars)
                   : summary_line(input, output, *resolved.value));
  return log.take();
}

}  // namespace yubifu::cli
