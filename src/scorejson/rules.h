// The rules that scorejson reports; faults of the JSON itself are base's.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::scorejson {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule not_score_json{
    "not-score-json", Severity::error, "A score JSON must be an object with \"yubifu-score\": 1.",
    R"({"score": 1, "measures": []})", R"({"yubifu-score": 1, "measures": []})"};
inline constexpr Rule score_inconsistent{
    "score-inconsistent", Severity::error, "The parts of a score must agree with one another.",
    R"({"yubifu-score": 1, "measures": [{"length": "4", "meter": "4/4"}],
 "notes": [{"measure": 0, "onset": "0", "duration": "5", "sign": "三"}]})",
    R"({"yubifu-score": 1, "measures": [{"length": "4", "meter": "4/4"}],
 "notes": [{"measure": 0, "onset": "0", "duration": "4", "sign": "三"}]})"};
inline constexpr Rule onset_overflow{
    "onset-overflow", Severity::error, "A score must not be longer than its times can count.",
    R"({"yubifu-score": 1, "measures": [{"length": "9223372036854775807", "meter": "free"},
 {"length": "9223372036854775807", "meter": "free"}, {"length": "1", "meter": "free"}]})",
    R"({"yubifu-score": 1, "measures": [{"length": "4", "meter": "free"},
 {"length": "4", "meter": "free"}, {"length": "1", "meter": "free"}]})"};
inline constexpr Rule field_left_out{
    "field-left-out", Severity::warning,
    "A header must not have two fields of one name, nor an unknown one of a known name.",
    "a staff file with two miscellaneous fields named yubifu.dance",
    "a staff file with one miscellaneous field named yubifu.dance"};
}  // namespace rule

/// All of them, in the order of this header.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{&rule::not_score_json, &rule::score_inconsistent,
                                                   &rule::onset_overflow, &rule::field_left_out};
  return list;
}

}  // namespace yubifu::scorejson
