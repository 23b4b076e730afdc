#include "check/rule_choices.h"

#include <utility>

namespace yubifu::check {

std::optional<std::optional<base::Severity>> parse_choice(std::string_view word) {
  using Choice = std::optional<base::Severity>;
  if (word == kOff) return Choice();
  const Choice severity = base::kSeverities.value_of(word);
  if (!severity) return std::nullopt;
  return severity;
}

std::vector<std::string_view> choice_words() {
  std::vector<std::string_view> words = base::kSeverities.words();
  words.push_back(kOff);
  return words;
}

bool is_on(const base::Rule& rule, const RuleChoices& choices) {
  const auto choice = choices.find(rule.name);
  return choice == choices.end() ? rule.standing == base::Standing::on : choice->second.has_value();
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
