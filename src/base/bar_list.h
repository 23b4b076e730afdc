// How messages name the bars that something concerns.
#pragma once

#include <string>
#include <vector>

namespace yubifu::base {

/// "bar 3" or "bars 3, 4, 9-11": printed numbers in the order of the music. Three or more that
/// count up are joined; a long list ends in "and 5 more".
std::string bar_list(const std::vector<std::string>& numbers);

}  // namespace yubifu::base
