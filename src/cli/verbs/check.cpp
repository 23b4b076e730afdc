// The verb check: faults in scores, staff files, MIDI files and flute files.
#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/file.h"
#include "base/json_writer.h"
#include "base/message.h"
#include "base/rules.h"
#include "base/utf8.h"
#include "base/word_table.h"
#include "check/rules.h"
#include "cli/loading.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "fingering/rules.h"
#include "flute/flute_file.h"

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
    const bool is_on = check::is_on(*rule, {});
    json.key("severity")
        .text(check::kChoices.word_of(is_on ? std::optional(rule->severity) : std::nullopt));
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
  if (options.report == check::ReportKind::text) {
    for (const base::Rule* rule : rules) text += (text.empty() ? "" : "\n") + rule_text(*rule);
  } else if (options.report == check::ReportKind::json) {
    text = rules_json(rules);
  } else {
    return refuse(message("the rules are listed as text or json"));
  }
  return print_result(text);
}

void tell_counts(const std::vector<check::FileReport>& files) {
  const auto [errors, warnings, notes] = check::count(files);
  print_message(message("{} checked: {}, {}, {}\n",
                        files.size() == 1 ? message("1 file") : message("{} files", files.size()),
                        errors == 1 ? message("1 error") : message("{} errors", errors),
                        warnings == 1 ? message("1 warning") : message("{} warnings", warnings),
                        notes == 1 ? message("1 note") : message("{} notes", notes)));
}

// What a file is must be said this early in it.
constexpr std::size_t kHeadBytes = 4096;

bool is_flute_file(std::string_view bytes) {
  if (bytes.starts_with(base::kByteOrderMark)) bytes.remove_prefix(base::kByteOrderMark.size());
  return is_json_with("\"yubifu-flute\"", bytes);
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

// As the user chose for each rule.
JobResult result_of(check::FileReport report, const Options& options) {
  check::choose(report, options.rules);
  JobResult result;
  result.status = status_of(report);
  if (options.report == check::ReportKind::text) {
    result.messages = check::text_report(report, message_colours());
  }
  result.reports.push_back(std::move(report));
  return result;
}

std::string normal_path(const std::string& path) {
  return std::filesystem::path(path).lexically_normal().string();
}

using Reports = std::vector<check::FileReport>;

base::Diagnostics doubt_name(const std::string& path, const Format& format,
                             const Options& options) {
  const Format* named = format_of_path(path);
  if (!options.from.empty() || named == nullptr || named == &format) return {};
  return {base::report(rule::other_format, std::nullopt,
                       message("the name says {}, the content is {}", named->name, format.name),
                       message("rename the file, or write it anew"))};
}

void check_layout(const Reading& reading, const Options& options, base::Diagnostics& found) {
  if (!check::is_on(rule::layout, options.rules)) return;
  const auto tidy = notation::write_notation(*reading.outcome.value, options.alphabet);
  const std::string_view text = reading.source.text();
  if (!tidy.value || *tidy.value == text) return;
  const auto [here, there] =
      std::mismatch(text.begin(), text.end(), tidy.value->begin(), tidy.value->end());
  const auto at = static_cast<std::size_t>(here - text.begin());
  found.push_back(base::report(rule::layout, base::SourceRange{at, at},
                               message("here the layout leaves the canonical one"),
                               message("`yubifu tidy --in-place` puts it right")));
}

base::Diagnostics check_score(const std::string& path, const Reading& reading,
                              fingering::Origin origin, const Options& options,
                              base::Diagnostics found, Reports& flutes) {
  // Files of flutes have reports of their own.
  Log of_flutes(Strictness::lenient, check::ReportKind::json);
  fingering::ResolveOptions resolve =
      resolving(options.resolve, path, reading.source, origin, options.flute(), of_flutes);
  resolve.octave = 0;  // the file is taken at its word
  const model::Score& score = *reading.outcome.value;
  // A melody that names no flute cannot be out of the reach of one.
  const bool has_flute = score.header.flute || resolve.flute || has_fingers(score);
  auto resolved = fingering::resolve(score, resolve);
  if (!has_flute) {
    std::erase_if(resolved.diagnostics, [](const base::Diagnostic& diagnostic) {
      return diagnostic.rule == &fingering::rule::out_of_reach;
    });
  }
  base::append(found, std::move(resolved.diagnostics));
  if (resolved.value && has_flute) {
    base::append(found, check::check_score(*resolved.value, origin));
  }
  flutes = of_flutes.take().reports;
  return check::without_allowed(std::move(found), score, all_rules());
}

// One file, read in its format, resolved for its flute, held against the rules and the comments
// that allow something; a flute file is read as such. A JSON or XML file from a folder that is no
// music at all gets no report. `flutes`: what is wrong with the flute files that it names.
JobResult check_file(const FoundFile& file, const Options& options, Reports& flutes) {
  const std::string name = input_name(file.path);
  const auto told = [&](const base::Diagnostics& found, const base::SourceText& source) {
    check::FileReport report{name, {}, {}};
    check::add_located(report, found, source);
    return result_of(std::move(report), options);
  };
  const base::SourceText nowhere(name, {});
  if (file.problem) return told({*file.problem}, nowhere);
  base::Outcome<std::string> bytes = base::read_file(file.path);
  if (!bytes.value) return told(bytes.diagnostics, nowhere);
  if (file.by == FoundBy::folder && is_foreign(file.path, *bytes.value)) return {};
  if (options.from.empty() && is_flute_file(*bytes.value)) {
    const base::SourceText source(name, *std::move(bytes.value));
    const model::FlutePath path{file.path};
    const auto read = flute::read_flute_file(source, path, options.tuning_hz());
    return told(read.diagnostics, source);
  }
  const Format* format = format_of_input(file.path, *bytes.value, options.from);
  if (format == nullptr || format->read == nullptr) return told({no_reader(format)}, nowhere);
  base::Diagnostics found = doubt_name(file.path, *format, options);
  Options reading_options = options;
  reading_options.midi_read.scrutiny = midi::Scrutiny::whole_file;
  Reading reading = format->read(name, *std::move(bytes.value), reading_options);
  const bool is_clean = reading.outcome.diagnostics.empty();
  base::append(found, std::move(reading.outcome.diagnostics));
  if (reading.outcome.value) {
    if (format->name == "text" && is_clean) check_layout(reading, options, found);
    found = check_score(file.path, reading, format->origin, options, std::move(found), flutes);
  }
  return told(found, reading.source);
}

}  // namespace

ExitStatus run_check(const Options& options) {
  if (options.check_task == CheckTask::list_rules) return list_rules(options);
  if (options.inputs.empty()) {
    return refuse(
        message("check needs files or folders; 'yubifu help check' shows how it is used"));
  }
  if (options.flutes.size() > 1) return refuse(message("check takes one flute at a time"));
  const std::vector<FoundFile> files = find_files(options.inputs, has_reader);
  std::vector<Reports> of_flutes(files.size());  // that the files name
  std::vector<Job> jobs;
  for (std::size_t i = 0; i < files.size(); ++i) {
    jobs.push_back([&, i] { return check_file(files[i], options, of_flutes[i]); });
  }
  JobResult done = run_jobs(jobs, options.jobs);
  // Each once, and those not that were checked for themselves.
  std::map<std::string, check::FileReport> flutes;
  for (const Reports& named : of_flutes) {
    for (const auto& report : named) flutes.try_emplace(normal_path(report.name), report);
  }
  for (const FoundFile& file : files) flutes.erase(normal_path(file.path));
  for (const auto& [path, report] : flutes) {
    const JobResult of_flute = result_of(report, options);
    print_message(of_flute.messages);
    done.status = worse(done.status, of_flute.status);
    done.reports.push_back(of_flute.reports.front());
  }
  if (options.report == check::ReportKind::text) tell_counts(done.reports);
  return finish_report(options, "check", done.status, done.reports, ReportTarget::standard_output);
}

}  // namespace yubifu::cli
