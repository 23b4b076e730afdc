#include "check/report.h"

#include <fmt/format.h>

#include "base/message.h"
#include "base/word_table.h"
#include "check/report_writers.h"

namespace yubifu::check {
namespace {

constexpr auto kKinds = base::word_table<ReportKind>({{ReportKind::text, "text"},
                                                      {ReportKind::json, "json"},
                                                      {ReportKind::sarif, "sarif"},
                                                      {ReportKind::junit, "junit"}});

std::string coloured(base::Severity severity, Colours colours) {
  const std::string_view word = base::name(severity);
  if (colours == Colours::none) return std::string(word);
  switch (severity) {
    case base::Severity::error:
      return fmt::format("\x1b[1;31m{}\x1b[0m", word);
    case base::Severity::warning:
      return fmt::format("\x1b[1;33m{}\x1b[0m", word);
    case base::Severity::note:
      return fmt::format("\x1b[1;36m{}\x1b[0m", word);
  }
  return std::string(word);
}

std::string one_line(std::string_view text) {
  return without_control_characters(text, {});
}

// The line under a message, and under it the mark.
std::string excerpt(const Place& place) {
  if (place.excerpt.empty()) return {};
  constexpr std::string_view kIndent = "    ";
  const std::string before(static_cast<std::size_t>(place.mark_column), ' ');
  const std::string mark(static_cast<std::size_t>(place.mark_width), '^');
  return fmt::format("{}{}\n{}{}{}\n", kIndent, place.excerpt, kIndent, before, mark);
}

}  // namespace

std::optional<ReportKind> report_kind_named(std::string_view name) {
  return kKinds.value_of(name);
}

std::string message_and_hint(const Finding& finding) {
  return finding.hint.empty() ? finding.message
                              : fmt::format("{} ({})", finding.message, finding.hint);
}

std::string text_report(const FileReport& file, Colours colours) {
  std::string text;
  const std::string name = one_line(file.name);
  std::size_t shown = 0;
  for (const Finding& finding : file.findings) {
    if (++shown > kMostShownFindings) break;
    text += name;
    if (finding.place) {
      text += fmt::format(":{}:{}", finding.place->begin.line, finding.place->begin.column);
    }
    text += fmt::format(": {}: {} [{}]\n", coloured(finding.severity, colours),
                        one_line(message_and_hint(finding)), finding.rule->name);
    if (finding.place) text += excerpt(*finding.place);
  }
  if (file.findings.size() > kMostShownFindings) {
    text += fmt::format(
        "{}: {}: {}\n", name, base::name(base::Severity::note),
        base::message("{} more messages are not shown", file.findings.size() - kMostShownFindings));
  }
  return text;
}

ReportWriter report_writer(ReportKind kind) {
  switch (kind) {
    case ReportKind::text:
      return nullptr;
    case ReportKind::json:
      return json_report;
    case ReportKind::sarif:
      return sarif_report;
    case ReportKind::junit:
      return junit_report;
  }
  return nullptr;
}

}  // namespace yubifu::check
