// The verb tidy: fingering text in its canonical layout.
#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/file.h"
#include "base/message.h"
#include "check/alignment.h"
#include "cli/formats.h"
#include "cli/found_files.h"
#include "cli/loading.h"
#include "cli/report/batch.h"
#include "cli/report/log.h"
#include "cli/report/messages.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "notation/rules.h"
#include "notation/write/writer.h"

namespace yubifu::cli {
namespace {

using base::message;

bool is_text_path(const std::string& path) {
  const Format* format = format_of_path(path);
  return format != nullptr && format->name == "text";
}

// A text as it stands and as it should; in another encoding it is changed even where both agree.
struct Tidied {
  std::string before;
  std::string after;
  bool changed = false;
};

// Faults of the text, and whatever the writer could not keep. Notes say nothing that tidying
// changes, but for the encoding.
void add_faults(base::Diagnostics diagnostics, const base::SourceText& source, Log& log) {
  std::erase_if(diagnostics, [](const base::Diagnostic& diagnostic) {
    return diagnostic.severity == base::Severity::note &&
           diagnostic.rule != &notation::rule::other_encoding;
  });
  log.add(diagnostics, source);
}

std::optional<Tidied> tidied(const FoundFile& file, const Options& options, Log& log) {
  const std::string name = input_name(file.path);
  if (log.add_problem(file)) return std::nullopt;
  const base::SourceText nowhere(name, {});
  base::Outcome<std::string> bytes = base::read_file(file.path);
  log.add(bytes.diagnostics, nowhere);
  if (!bytes.value) return std::nullopt;
  const Format* format = format_of_input(file.path, *bytes.value);
  if (format != nullptr && format->name != "text") {
    log.add({base::report(rule::unknown_format, std::nullopt,
                          message("tidy takes fingering text; this is {}", format->name))},
            nowhere);
    return std::nullopt;
  }
  const std::string as_found = *bytes.value;
  auto read = find_format("text")->read(file.path, std::move(*bytes.value), options);
  const base::SourceText& source = read.source;
  const bool readable = read.outcome.ok();
  add_faults(std::move(read.outcome.diagnostics), source, log);
  if (!readable) return std::nullopt;
  auto written = notation::write_notation(*read.outcome.value, options.notation_write);
  const bool writable = written.ok();
  add_faults(std::move(written.diagnostics), source, log);
  if (!writable) return std::nullopt;
  const bool changed = as_found != *written.value;
  return Tidied{std::string(source.text()), std::move(*written.value), changed};
}

// Shows what would change.
std::string difference(const std::string& path, const Tidied& text) {
  const std::string name = input_name(path);
  return check::unified_diff(text.before, text.after, name, message("{} (tidy)", name));
}

void place(const std::string& path, const Tidied& text, Log& log) {
  log.add(base::write_file(path, text.after), base::SourceText(output_name(path), {}));
  if (!log.failed()) log.add_line(message("{}: tidied", path));
}

std::optional<std::string> wrong_tidy_usage(const Options& options) {
  const bool many = options.inputs.size() > 1;
  switch (options.proof.tidy_task) {
    case TidyTask::write:
      if (options.inputs.empty()) {
        return message("tidy needs a file; 'yubifu help tidy' shows how it is used");
      }
      if (const auto refusal = wrong_ending(options.output, {"text"})) return refusal;
      if (many) return message("several files need --in-place, or --check to change nothing");
      return std::nullopt;
    case TidyTask::in_place:
      if (std::find(options.inputs.begin(), options.inputs.end(), "-") != options.inputs.end()) {
        return message("standard input cannot be rewritten in its place");
      }
      [[fallthrough]];
    case TidyTask::tell:
      if (options.inputs.empty()) {
        return message("tidy needs files or folders; 'yubifu help tidy' shows how it is used");
      }
      if (options.output != "-") return message("-o is for one file without --in-place or --check");
      return std::nullopt;
  }
  return std::nullopt;
}

JobResult tidy_one(const FoundFile& file, const Options& options) {
  Log log(options.strictness);
  const std::optional<Tidied> text = tidied(file, options, log);
  std::string shown;
  if (text && options.proof.tidy_task == TidyTask::write) {
    log.add(base::write_file(options.output, text->after),
            base::SourceText(output_name(options.output), {}));
  } else if (text && text->changed) {
    if (options.proof.tidy_task == TidyTask::tell) {
      shown = difference(file.path, *text);
      log.raise(ExitStatus::findings);
    } else {
      place(file.path, *text, log);
    }
  }
  JobResult result = log.take();
  result.output = std::move(shown);
  return result;
}

}  // namespace

ExitStatus run_tidy(const Options& options) {
  if (const auto complaint = wrong_tidy_usage(options)) return refuse(*complaint);
  const std::vector<FoundFile> files =
      options.proof.tidy_task == TidyTask::write
          ? std::vector<FoundFile>{{options.inputs.front(), FoundBy::name, std::nullopt}}
          : find_files(options.inputs, is_text_path);
  std::vector<Job> jobs;
  for (const FoundFile& file : files) {
    jobs.push_back([&options, &file] { return tidy_one(file, options); });
  }
  return run_jobs(jobs, options.jobs).status;
}

}  // namespace yubifu::cli
