#include "cli/loading.h"

#include <utility>

#include "base/file.h"
#include "base/message.h"

namespace yubifu::cli {
namespace {

using base::message;

}  // namespace

std::string input_name(const std::string& path) {
  return path == "-" ? message("standard input") : path;
}

std::string output_name(const std::string& path) {
  return path == "-" ? message("standard output") : path;
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
