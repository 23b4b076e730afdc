// What the user makes of each rule: error, warning, note or off.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "check/findings.h"

namespace yubifu::check {

/// A severity by the name of a rule; none switches the rule off.
using RuleChoices = std::map<std::string, std::optional<base::Severity>, std::less<>>;

/// The word for a rule that is not reported.
inline constexpr std::string_view kOff = "off";

/// Reads "error", "warning", "note" or "off"; nothing for another word.
std::optional<std::optional<base::Severity>> parse_choice(std::string_view word);

/// The words that parse_choice reads.
std::vector<std::string_view> choice_words();

/// True when a rule is to be reported.
bool is_on(const base::Rule& rule, const RuleChoices& choices);

/// Takes out the findings of rules that are off and gives the others the chosen severities.
void choose(FileReport& report, const RuleChoices& choices);

}  // namespace yubifu::check
