#include "cli/conversion.h"

#include <utility>

#include "base/file.h"
#include "base/message.h"
#include "cli/messages.h"
#include "cli/summary_line.h"
#include "fingering/summary.h"
#include "model/play_out.h"

namespace yubifu::cli {
namespace {

using base::message;

// Standard input and output have no name to print.
std::string input_name(const std::string& path) {
  return path == "-" ? message("standard input") : path;
}

std::string output_name(const std::string& path) {
  return path == "-" ? message("standard output") : path;
}

// The diagnostics of one conversion and what they mean for its exit status.
class Log {
 public:
  explicit Log(const Options& options) : options_(options) {}

  void add(const base::Diagnostics& diagnostics, const base::SourceText& source) {
    result_.messages += printed(diagnostics, source);
    for (const base::Diagnostic& diagnostic : diagnostics) {
      const bool lost = diagnostic.severity == base::Severity::warning;
      if (lost && options_.strictness == Strictness::strict) raise(ExitStatus::findings);
    }
    if (base::has_errors(diagnostics)) raise(ExitStatus::unusable);
  }

  void add_line(const std::string& line) {
    result_.messages += without_control_characters(line) + '\n';
  }

  void raise(ExitStatus status) { result_.status = worse(result_.status, status); }

  bool failed() const { return result_.status == ExitStatus::unusable; }

  JobResult take() { return std::move(result_); }

 private:
  const Options& options_;
  JobResult result_;
};

void explain(const fingering::Resolved& resolved, Log& log) {
  for (const std::string& line : fingering::explanation(resolved)) log.add_line(line);
}

}  // namespace

std::string unknown_format_message(const std::string& input) {
  return message("{}: error: cannot tell the format of this file (say it with --from: {})\n",
                 without_control_characters(input_name(input)), format_names());
}

JobResult convert(const Conversion& conversion, const Options& options) {
  Log log(options);
  const std::string name = input_name(conversion.input);
  base::Outcome<std::string> bytes = base::read_file(conversion.input);
  if (!bytes.value) {
    log.add(bytes.diagnostics, base::SourceText(name, {}));
    return log.take();
  }
  const Format* from = options.from.empty() ? format_of_input(conversion.input, *bytes.value)
                                            : find_format(options.from);
  if (from == nullptr || from->read == nullptr) {
    return {ExitStatus::unusable, unknown_format_message(conversion.input)};
  }
  Reading reading = from->read(name, std::move(*bytes.value), options);
  log.add(reading.outcome.diagnostics, reading.source);
  if (!reading.outcome.ok()) return log.take();

  fingering::ResolveOptions resolve = options.resolve;
  resolve.origin = from->origin;
  resolve.flute = conversion.flute;
  auto resolved = fingering::resolve(std::move(*reading.outcome.value), resolve);
  log.add(resolved.diagnostics, reading.source);
  if (!resolved.value || log.failed()) {
    log.raise(ExitStatus::unusable);
    return log.take();
  }
  if (options.resolve.explain != fingering::Explain::nothing) explain(*resolved.value, log);
  if (options.repeats == Repeats::played_out) {
    auto played = model::play_out(resolved.value->score);
    log.add(played.diagnostics, reading.source);
    if (!played.ok()) return log.take();
    resolved.value->score = std::move(played.value->score);
  }
  const base::Outcome<std::string> written = conversion.to->write(*resolved.value, options);
  log.add(written.diagnostics, reading.source);
  if (!written.ok()) return log.take();
  const base::Diagnostics placed = base::write_file(conversion.output, *written.value);
  log.add(placed, base::SourceText(output_name(conversion.output), {}));
  if (log.failed()) return log.take();
  log.add_line(summary_line(name, output_name(conversion.output), *resolved.value));
  return log.take();
}

}  // namespace yubifu::cli
