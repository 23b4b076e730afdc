#include "check/rule_choices.h"

#include <utility>

#include "check/rules.h"

namespace yubifu::check {

std::optional<std::optional<base::Severity>> parse_choice(std::string_view word) {
  using base::Severity;
  if (word == "off") return std::optional<Severity>();
  for (const Severity severity : {Severity::error, Severity::warning, Severity::note}) {
    if (word == base::name(severity)) return std::optional(severity);
  }
  return std::nullopt;
}

bool is_on(const base::Rule& rule, const RuleChoices& choices) {
  const auto choice = choices.find(rule.name);
  return choice == choices.end() ? !is_off_by_default(rule) : choice->second.has_value();
}

base::Diagnostics chosen(base::Diagnostics found, const RuleChoices& choices) {
  base::Diagnostics left;
  for (base::Diagnostic& diagnostic : found) {
    if (!is_on(*diagnostic.rule, choices)) continue;
    const auto choice = choices.find(diagnostic.rule->name);
    if (choice != choices.end()) diagnostic.severity = *choice->second;
    left.push_back(std::move(diagnostic));
  }
  return left;
}

}  // namespace yubifu::check
