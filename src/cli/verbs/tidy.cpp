// The verb tidy: fingering text in its canonical layout.
#include <algorithm>

#include "base/file.h"
#include "base/message.h"
#include "check/alignment.h"
#include "cli/loading.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "notation/rules.h"

namespace yubifu::cli {
namespace {

using base::message;

bool is_text_path(const std::string& path) {
  const Format* format = format_of_path(path);
  return format != nullptr && format->name == "text";
}

// Faults of the text and of writing it. Of notes only the encoding is changed by tidying.
template <typename Value>
std::optional<Value> taken(base::Outcome<Value> outcome, const base::SourceText& source, Log& log) {
  std::erase_if(outcome.diagnostics, [](const base::Diagnostic& diagnostic) {
    return diagnostic.severity == base::Severity::note &&
           diagnostic.rule != &notation::rule::other_encoding;
  });
  return log.taken(std::move(outcome), source);
}

std::optional<std::string> wrong_tidy_usage(const Options& options) {
  const auto& inputs = options.inputs;
  if (options.tidy_task == TidyTask::write) {
    if (inputs.empty()) {
      return message("tidy needs a file; 'yubifu help tidy' shows how it is used");
    }
    if (auto refusal = wrong_ending(options.output, {"text"})) return refusal;
    if (inputs.size() == 1) return std::nullopt;
    return message("several files need --in-place, or --check to change nothing");
  }
  const bool is_piped = std::find(inputs.begin(), inputs.end(), "-") != inputs.end();
  if (options.tidy_task == TidyTask::in_place && is_piped) {
    return message("standard input cannot be rewritten in its place");
  }
  if (inputs.empty()) {
    return message("tidy needs files or folders; 'yubifu help tidy' shows how it is used");
  }
  if (options.output == "-") return std::nullopt;
  return message("-o is for one file without --in-place or --check");
}

JobResult tidy_one(const FoundFile& file, const Options& options) {
  Log log(options.strictness);
  const std::string name = input_name(file.path);
  if (log.add_problem(file)) return log.take();
  const auto bytes = log.taken(base::read_file(file.path), name);
  if (!bytes) return log.take();
  const Format* format = format_of_input(file.path, *bytes);
  if (format != nullptr && format->name != "text") {
    log.add(rule::unknown_format, name,
            message("tidy takes fingering text; this is {}", format->name));
    return log.take();
  }
  auto read = find_format("text")->read(file.path, std::string(*bytes), options);
  const auto score = taken(std::move(read.outcome), read.source, log);
  if (!score) return log.take();
  const auto text = taken(notation::write_notation(*score, options.alphabet), read.source, log);
  if (!text) return log.take();
  // A text in another encoding is changed even where both agree.
  const bool changed = *bytes != *text;
  std::string shown;
  if (options.tidy_task == TidyTask::write) {
    log.write(options.output, *text);
  } else if (changed && options.tidy_task == TidyTask::tell) {
    shown = check::unified_diff(read.source.text(), *text, name, message("{} (tidy)", name));
    log.raise(ExitStatus::findings);
  } else if (changed && log.write(file.path, *text)) {
    log.add_line(message("{}: tidied", file.path));
  }
  JobResult result = log.take();
  result.output = std::move(shown);
  return result;
}

}  // namespace

ExitStatus run_tidy(const Options& options) {
  if (const auto complaint = wrong_tidy_usage(options)) return refuse(*complaint);
  const std::vector<FoundFile> files =
      options.tidy_task == TidyTask::write
          ? std::vector<FoundFile>{{options.inputs.front(), FoundBy::name, std::nullopt}}
          : find_files(options.inputs, is_text_path);
  std::vector<Job> jobs;
  for (const FoundFile& file : files) {
    jobs.push_back([&options, &file] { return tidy_one(file, options); });
  }
  return run_jobs(jobs, options.jobs).status;
}

}  // namespace yubifu::cli
