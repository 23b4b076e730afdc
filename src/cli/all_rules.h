// The rules of all folders together.
#pragma once

#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::cli {

/// In the order in which the folders build on one another.
const std::vector<const base::Rule*>& all_rules();

/// Null for an unknown name.
const base::Rule* find_rule(std::string_view name);

/// In the same order.
std::vector<std::string_view> rule_names();

}  // namespace yubifu::cli
