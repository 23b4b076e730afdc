#include "cli/loading.h"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "base/file.h"
#include "base/message.h"

namespace yubifu::cli {

using base::message;

std::string input_name(const std::string& path) {
  return path == "-" ? message("standard input") : path;
}

std::string output_name(const std::string& path) {
  return path == "-" ? message("standard output") : path;
}

std::optional<std::string> unwritable_output(const std::string& path) {
  if (path == "-") return std::nullopt;
  std::error_code error;
  const std::filesystem::path folder = std::filesystem::path(path).parent_path();
  if (!folder.empty() && !std::filesystem::is_directory(folder, error)) {
    return message("there is no folder {}; make it first, or choose another place with -o",
                   folder.string());
  }
  if (std::filesystem::is_directory(path, error)) {
    return message("{} is a folder; name a file in it with -o", path);
  }
  return std::nullopt;
}

bool has_fingers(const model::Score& score) {
  return std::any_of(score.notes.begin(), score.notes.end(),
                     [](const model::Note& note) { return note.tone.fingering.has_value(); });
}

std::optional<Loaded> load(const std::string& input, const Options& options, Log& log) {
  const std::string name = input_name(input);
  base::Outcome<std::string> bytes = base::read_file(input);
  if (!bytes.value) {
    log.add(bytes.diagnostics, base::SourceText(name, {}));
    return std::nullopt;
  }
  const Format* format =
      options.from.empty() ? format_of_input(input, *bytes.value) : find_format(options.from);
  if (format == nullptr || format->read == nullptr) {
    log.add({no_reader(format)}, base::SourceText(name, {}));
    return std::nullopt;
  }
  Reading reading = format->read(name, std::move(*bytes.value), options);
  log.add(reading.outcome.diagnostics, reading.source);
  if (!reading.outcome.ok()) return std::nullopt;
  return Loaded{format, std::move(reading.source), std::move(*reading.outcome.value)};
}

}  // namespace yubifu::cli
