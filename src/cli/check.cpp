// The verb check: faults in scores, staff files, MIDI files and flute files.
#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/json_writer.h"
#include "base/message.h"
#include "base/word_table.h"
#include "cli/all_rules.h"
#include "cli/batch.h"
#include "cli/file_check.h"
#include "cli/formats.h"
#include "cli/found_files.h"
#include "cli/messages.h"
#include "cli/report_output.h"
#include "cli/verbs.h"

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
    jobs.push_back([&] { return check_file(file, options, flutes); });
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
