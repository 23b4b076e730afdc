// What the user makes of each rule: error, warning, note or off.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace yubifu::check {

/// A severity by the name of a rule; none switches the rule off.
using RuleChoices = std::map<std::string, std::optional<base::Severity>, std::less<>>;

/// Reads "error", "warning", "note" or "off"; nothing for another word.
std::optional<std::optional<base::Severity>> parse_choice(std::string_view word);

/// True when a rule is to be reported.
bool is_on(const base::Rule& rule, const RuleChoices& choices);

/// The findings as the user wants them: without rules that are off, severities as chosen.
base::Diagnostics chosen(base::Diagnostics found, const RuleChoices& choices);

}  // namespace yubifu::check
