#include "check/rule_choices.h"

#include <utility>

#include "check/rules.h"

namespace yubifu::check {

std::optional<std::optional<base::Severity>> parse_choice(std::string_view word) {
  using base::Severity;
  if (word == "off") return std::optional<std::optional<Severity>>(std::in_place);
  for (const Severity severity : {Severity::error, Severity::warning, Severity::note}) {
    if (word == base::name(severity)) return std::optional(severity);
  }
  return std::nullopt;
}

bool is_on(const base::Rule& rule, const RuleChoices& choices) {
  const auto choice = choices.find(rule.name);
  return choice == choices.end() ? !is_off_by_default(rule) : choice->second.has_value();
}

void choose(FileReport& report, const RuleChoices& choices) {
  std::erase_if(report.findings,
                [&](const Finding& finding) { return !is_on(*finding.rule, choices); });
  for (Finding& finding : report.findings) {
    const auto choice = choices.find(finding.rule->name);
    if (choice != choices.end()) finding.severity = *choice->second;
  }
}

}  // namespace yubifu::check
