// Two texts, line by line: what would have to change in one to make it the other.
#pragma once

#include <string>
#include <string_view>

namespace yubifu::check {

/// The differences in unified form (POSIX, diff -u), with three lines around each; empty for equal
/// texts. The names stand in its head. Control characters are replaced: a carriage return before a
/// line end shows as a replacement character.
std::string unified_diff(std::string_view before, std::string_view after,
                         std::string_view before_name, std::string_view after_name);

}  // namespace yubifu::check
