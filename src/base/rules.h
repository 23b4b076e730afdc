// The rules that base reports: files that cannot be read or written, and JSON that is not what was
// expected. The examples of the latter are score JSON.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::base {

namespace rule {
inline constexpr Rule unreadable_file{"unreadable-file", Severity::error,
                                      "The input must exist and be a file that may be read.",
                                      "a path that does not exist", "a path that exists"};
inline constexpr Rule input_too_large{"input-too-large", Severity::error,
                                      "The input must not be larger than 256 MiB.",
                                      "a file of 300 MiB", "a file of 3 KiB"};
inline constexpr Rule unwritable_file{
    "unwritable-file", Severity::error, "The output must be in a folder that may be written.",
    "a path in a folder that does not exist", "a path in a folder that exists"};
inline constexpr Rule json_syntax{
    "json-syntax", Severity::error, "The text must be JSON (RFC 8259).",
    R"({"yubifu-score": 1, "measures": [],})", R"({"yubifu-score": 1, "measures": []})"};
inline constexpr Rule json_duplicate_key{"json-duplicate-key", Severity::error,
                                         "An object must not have two members of one name.",
                                         R"({"yubifu-score": 1, "measures": [], "measures": []})",
                                         R"({"yubifu-score": 1, "measures": []})"};
inline constexpr Rule json_too_large{
    "json-too-large", Severity::error,
    "JSON must not be nested more than 64 deep or hold more than 4,000,000 values.",
    "an array in an array, and so on, 65 deep", "the same, 64 deep"};
inline constexpr Rule json_missing{
    "json-missing", Severity::error, "An object must have the members that its format requires.",
    R"({"yubifu-score": 1})", R"({"yubifu-score": 1, "measures": []})"};
inline constexpr Rule json_kind{
    "json-kind", Severity::error, "A member must be of the kind that its format gives it.",
    R"({"yubifu-score": 1, "measures": {}})", R"({"yubifu-score": 1, "measures": []})"};
inline constexpr Rule json_value{
    "json-value", Severity::error, "A member must have a value that its format knows.",
    R"({"yubifu-score": 1, "header": {"meter": "4/5"}, "measures": []})",
    R"({"yubifu-score": 1, "header": {"meter": "4/4"}, "measures": []})"};
inline constexpr Rule json_unknown{"json-unknown", Severity::warning,
                                   "An object should have only members that its format knows.",
                                   R"({"yubifu-score": 1, "measures": [], "mesures": []})",
                                   R"({"yubifu-score": 1, "measures": []})"};
}  // namespace rule

/// All of them, in the order above.
inline const std::vector<const Rule*>& rules() {
  static const std::vector<const Rule*> list{
      &rule::unreadable_file,    &rule::input_too_large, &rule::unwritable_file, &rule::json_syntax,
      &rule::json_duplicate_key, &rule::json_too_large,  &rule::json_missing,    &rule::json_kind,
      &rule::json_value,         &rule::json_unknown};
  return list;
}

}  // namespace yubifu::base
