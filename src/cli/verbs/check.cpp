// The verb check: faults in scores, staff files, MIDI files and flute files.
#include <algorithm>
#include <iterator>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/file.h"
#include "base/json_writer.h"
#include "base/message.h"
#include "base/rules.h"
#include "base/utf8.h"
#include "base/word_table.h"
#include "check/findings.h"
#include "check/score_check.h"
#include "cli/formats.h"
#include "cli/found_files.h"
#include "cli/loading.h"
#include "cli/report/batch.h"
#include "cli/report/log.h"
#include "cli/report/messages.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "fingering/resolve.h"
#include "fingering/rules.h"
#include "flute/flute_file.h"
#include "notation/write/writer.h"

namespace yubifu::cli {
namespace {

using base::message;

// An example, its lines set in under a word.
std::string example_lines(std::string_view word, std::string_view example) {
  std::string text;
  while (!example.empty()) {
    const std::size_t end = std::min(example.find('\n'), example.size());
    text += fmt::format("  {:<6} | {}\n", text.empty() ? word : std::string_view(),
                        example.substr(0, end));
    example.remove_prefix(std::min(end + 1, example.size()));
  }
  return text;
}

std::string rule_text(const base::Rule& rule) {
  const std::string severity = rule.standing == base::Standing::off
                                   ? message("off, else {}", base::name(rule.severity))
                                   : std::string(base::name(rule.severity));
  return fmt::format("{} ({})\n  {}\n", rule.name, severity, base::translated(rule.sentence)) +
         example_lines(message("wrong"), rule.wrong) + example_lines(message("right"), rule.right);
}

std::string rules_json(const std::vector<const base::Rule*>& rules) {
  base::JsonWriter json;
  json.begin_array();
  for (const base::Rule* rule : rules) {
    json.begin_object();
    json.key("rule").text(rule->name);
    json.key("severity")
        .text(rule->standing == base::Standing::off ? check::kOff : base::name(rule->severity));
    json.key("sentence").text(base::translated(rule->sentence));
    json.key("wrong").text(rule->wrong);
    json.key("right").text(rule->right);
    json.end_object();
  }
  json.end_array();
  return json.take();
}

ExitStatus list_rules(const Options& options) {
  std::vector<const base::Rule*> rules;
  for (const std::string& name : options.inputs) {
    const base::Rule* rule = find_rule(name);
    if (rule == nullptr) {
      const auto meant = base::nearest_word(name, rule_names());
      return refuse(meant
                        ? message("there is no rule {}: did you mean {}?", name, *meant)
                        : message("there is no rule {}; 'yubifu check --rules' lists them", name));
    }
    rules.push_back(rule);
  }
  if (rules.empty()) rules = all_rules();
  std::string text;
  if (options.proof.report == check::ReportKind::text) {
    for (const base::Rule* rule : rules) text += (text.empty() ? "" : "\n") + rule_text(*rule);
  } else if (options.proof.report == check::ReportKind::json) {
    text = rules_json(rules);
  } else {
    return refuse(message("the rules are listed as text or json"));
  }
  return print_result(text) ? ExitStatus::done : ExitStatus::unusable;
}

void tell_counts(const std::vector<check::FileReport>& files) {
  const check::Counts counts = check::count(files);
  const auto counted = [](std::size_t count, const std::string& one, const std::string& many) {
    return count == 1 ? one : many;
  };
  print_message(message(
      "{} checked: {}, {}, {}\n",
      counted(files.size(), message("1 file"), message("{} files", files.size())),
      counted(counts.errors, message("1 error"), message("{} errors", counts.errors)),
      counted(counts.warnings, message("1 warning"), message("{} warnings", counts.warnings)),
      counted(counts.notes, message("1 note"), message("{} notes", counts.notes))));
}

// What a file is must be said this early in it.
constexpr std::size_t kHeadBytes = 4096;

bool is_flute_file(std::string_view bytes) {
  if (bytes.starts_with(base::kByteOrderMark)) bytes.remove_prefix(base::kByteOrderMark.size());
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && bytes[first] == '{' &&
         bytes.substr(0, kHeadBytes).find("\"yubifu-flute\"") != std::string_view::npos;
}

// A file of a folder that shares an ending with our formats and nothing else.
bool is_foreign(const std::string& path, std::string_view bytes) {
  const std::string extension = extension_of(path);
  if (extension == "json") {
    return !is_flute_file(bytes) &&
           bytes.substr(0, kHeadBytes).find("\"yubifu-score\"") == std::string_view::npos;
  }
  const bool is_utf16 = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
  if (extension != "xml" || is_utf16) return false;
  const std::string_view head = bytes.substr(0, kHeadBytes);
  return head.find("score-partwise") == std::string_view::npos &&
         head.find("score-timewise") == std::string_view::npos;
}

ExitStatus status_of(const check::FileReport& report) {
  ExitStatus status = ExitStatus::done;
  for (const check::Finding& finding : report.findings) {
    if (finding.severity == base::Severity::note) continue;
    const bool unusable = finding.rule == &base::rule::unreadable_file ||
                          finding.rule == &base::rule::input_too_large ||
                          finding.rule == &rule::unknown_format;
    status = worse(status, unusable ? ExitStatus::unusable : ExitStatus::findings);
  }
  return status;
}

// What is wrong with the flute files that scores name, each told once however many name it. Any
// number of threads may add.
class FluteReports {
 public:
  // The report of one flute file; a second one of the same path is dropped.
  void add(const check::FileReport& report) {
    const std::lock_guard lock(mutex_);
    by_path_.try_emplace(std::filesystem::path(report.name).lexically_normal().string(), report);
  }

  // The reports of files that were not checked for themselves, in the order of their paths.
  JobResult take(const std::vector<FoundFile>& checked, const Options& options) {
    const std::lock_guard lock(mutex_);
    for (const FoundFile& file : checked) {
      by_path_.erase(std::filesystem::path(file.path).lexically_normal().string());
    }
    JobResult result;
    for (auto& [path, report] : by_path_) {
      check::choose(report, options.proof.rules);
      result.status = worse(result.status, status_of(report));
      if (options.proof.report == check::ReportKind::text) {
        result.messages += check::text_report(report, message_colours());
      }
      result.reports.push_back(std::move(report));
    }
    by_path_.clear();
    return result;
  }

 private:
  std::mutex mutex_;
  std::map<std::string, check::FileReport> by_path_;
};

// One file, checked by everything that knows something about it: read in its format, resolved for
// its flute, held against the rules and the comments that allow something; a flute file is read as
// such. A JSON or XML file from a folder that is no music at all is passed over: then there is no
// report.
class FileCheck {
 public:
  FileCheck(const FoundFile& file, const Options& options, FluteReports& flutes)
      : file_(file), options_(options), flutes_(flutes), report_{input_name(file.path), {}, {}} {}

  JobResult run() {
    if (file_.problem) return finish({*file_.problem}, base::SourceText(report_.name, {}));
    base::Outcome<std::string> bytes = base::read_file(file_.path);
    if (!bytes.value) return finish(bytes.diagnostics, base::SourceText(report_.name, {}));
    if (file_.by == FoundBy::folder && is_foreign(file_.path, *bytes.value)) return {};
    if (options_.from.empty() && is_flute_file(*bytes.value)) return flute(*std::move(bytes.value));
    return score(*std::move(bytes.value));
  }

 private:
  JobResult flute(std::string bytes) {
    const base::SourceText source(report_.name, std::move(bytes));
    const auto read =
        flute::read_flute_file(source, model::FlutePath{file_.path},
                               options_.resolve.tuning_hz.value_or(model::kConcertPitchHz));
    return finish(read.diagnostics, source);
  }

  JobResult score(std::string bytes) {
    const Format* format = format_of(bytes);
    if (format == nullptr || format->read == nullptr) {
      return finish({no_reader(format)}, base::SourceText(report_.name, {}));
    }
    base::Diagnostics found = doubt_name(*format);
    Options options = options_;
    options.midi_read.scrutiny = midi::Scrutiny::whole_file;
    Reading reading = format->read(report_.name, std::move(bytes), options);
    const bool is_clean = reading.outcome.diagnostics.empty();
    base::append(found, std::move(reading.outcome.diagnostics));
    if (reading.outcome.value) {
      if (is_text(*format) && is_clean) check_layout(reading, found);
      found =
          check_score(std::move(*reading.outcome.value), reading.source, *format, std::move(found));
    }
    return finish(found, reading.source);
  }

  const Format* format_of(std::string_view bytes) const {
    return options_.from.empty() ? format_of_input(file_.path, bytes) : find_format(options_.from);
  }

  static bool is_text(const Format& format) { return format.name == "text"; }

  base::Diagnostics doubt_name(const Format& format) const {
    const Format* named = format_of_path(file_.path);
    if (!options_.from.empty() || named == nullptr || named == &format) return {};
    return {base::report(rule::other_format, std::nullopt,
                         message("the name says {}, the content is {}", named->name, format.name),
                         message("rename the file, or write it anew"))};
  }

  void check_layout(const Reading& reading, base::Diagnostics& found) const {
    if (!check::is_on(rule::layout, options_.proof.rules)) return;
    const auto tidy = notation::write_notation(*reading.outcome.value, options_.notation_write);
    if (!tidy.value || *tidy.value == reading.source.text()) return;
    const auto [here, there] =
        std::mismatch(reading.source.text().begin(), reading.source.text().end(),
                      tidy.value->begin(), tidy.value->end());
    const auto at = static_cast<std::size_t>(here - reading.source.text().begin());
    found.push_back(base::report(rule::layout, base::SourceRange{at, at},
                                 message("here the layout leaves the canonical one"),
                                 message("`yubifu tidy --in-place` puts it right")));
  }

  base::Diagnostics check_score(model::Score score, const base::SourceText& source,
                                const Format& format, base::Diagnostics found) {
    // Files of flutes have reports of their own.
    Log flutes(Strictness::lenient, check::ReportKind::json);
    fingering::ResolveOptions resolve =
        resolving(options_.resolve, file_.path, source, format.origin, options_.flute(), flutes);
    resolve.octave = 0;  // the file is taken at its word
    const bool knows_flute = score.header.flute || resolve.flute;
    const bool had_fingers = has_fingers(score);
    base::Diagnostics allowed_in = std::move(found);
    const model::Score unresolved = score;
    auto resolved = fingering::resolve(std::move(score), resolve);
    // A melody that names no flute cannot be out of the reach of one.
    if (!knows_flute && !had_fingers) {
      std::erase_if(resolved.diagnostics, [](const base::Diagnostic& diagnostic) {
        return diagnostic.rule == &fingering::rule::out_of_reach;
      });
    }
    base::append(allowed_in, std::move(resolved.diagnostics));
    if (resolved.value && (knows_flute || had_fingers)) {
      base::append(allowed_in, check::check_score(*resolved.value, format.origin));
    }
    for (const check::FileReport& report : flutes.take().reports) flutes_.add(report);
    return check::without_allowed(std::move(allowed_in), unresolved, all_rules());
  }

  JobResult finish(const base::Diagnostics& found, const base::SourceText& source) {
    check::add_located(report_, found, source);
    check::choose(report_, options_.proof.rules);
    JobResult result;
    result.status = status_of(report_);
    if (options_.proof.report == check::ReportKind::text) {
      result.messages = check::text_report(report_, message_colours());
    }
    result.reports.push_back(std::move(report_));
    return result;
  }

  const FoundFile& file_;
  const Options& options_;
  FluteReports& flutes_;
  check::FileReport report_;
};

}  // namespace

ExitStatus run_check(const Options& options) {
  if (options.proof.check_task == CheckTask::list_rules) return list_rules(options);
  if (options.inputs.empty()) {
    return refuse(
        message("check needs files or folders; 'yubifu help check' shows how it is used"));
  }
  if (options.flutes.size() > 1) return refuse(message("check takes one flute at a time"));
  const std::vector<FoundFile> files = find_files(options.inputs, has_reader);
  FluteReports flutes;
  std::vector<Job> jobs;
  jobs.reserve(files.size());
  for (const FoundFile& file : files) {
    jobs.push_back([&] { return FileCheck(file, options, flutes).run(); });
  }
  JobsDone done = run_jobs(jobs, options.jobs);
  JobResult of_flutes = flutes.take(files, options);
  print_message(of_flutes.messages);
  done.status = worse(done.status, of_flutes.status);
  std::move(of_flutes.reports.begin(), of_flutes.reports.end(), std::back_inserter(done.reports));
  if (options.proof.report == check::ReportKind::text) tell_counts(done.reports);
  return finish_report(options, "check", done.status, done.reports, ReportTarget::standard_output);
}

}  // namespace yubifu::cli
