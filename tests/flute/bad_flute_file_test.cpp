// What is said about bad flute files, word for word: file, line, column, the fault, what to do.
#include <string>
#include <string_view>

#include <gmock/gmock.h>

#include "base/diagnostic.h"
#include "flute/flute_file.h"

namespace yubifu::flute {
namespace {

struct BadFile {
  std::string_view name;
  std::string_view text;
  std::string_view said;
};

// clang-format off
const BadFile kBadFiles[] = {
    {"empty_file", R"()",
     R"(own.json:1:1: error: this is not JSON: value - unexpected end of input; expected '[', '{', or a literal [json-syntax])"},
    {"not_json", R"(flute: 6
)",
     R"(own.json:1:2: error: this is not JSON: value - invalid literal [json-syntax])"},
    {"cut_off", R"({"yubifu-flute": 1,
 "title": "Two Holes")",
     R"(own.json:2:22: error: this is not JSON: object - unexpected end of input; expected '}' [json-syntax])"},
    {"a_list", R"([1, 2])",
     R"(own.json:1:1: error: the flute: expected an object, found an array [json-kind])"},
    {"no_version", R"({"title": "Two Holes", "like": 6})",
     R"(own.json:1:1: error: the flute lacks the member "yubifu-flute" [json-missing])"},
    {"later_version", R"({"yubifu-flute": 2,
 "title": "Two Holes", "like": 6})",
     R"(own.json:1:18: error: version 2 of flute files is not known here (this program reads version 1) [json-value])"},
    {"no_title", R"({"yubifu-flute": 1,
 "like": 6})",
     R"(own.json:1:1: error: the flute lacks the member "title" [json-missing])"},
    {"empty_title", R"({"yubifu-flute": 1,
 "title": "", "like": 6})",
     R"(own.json:2:11: error: the flute has an empty title [json-value])"},
    {"title_of_another_kind", R"({"yubifu-flute": 1,
 "title": 6, "like": 6})",
     R"(own.json:2:11: error: the flute, "title": expected a string, found a number [json-kind])"},
    {"field_twice", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "like": 7})",
     R"(own.json:2:2: error: the member "like" stands here twice (take one of them out) [json-duplicate-key])"},
    {"unknown_field", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "bend-limit": {}})",
     R"(own.json:2:2: warning: the flute has a member "bend-limit" that is not known here and is left out (did you mean "bend-limits"?) [json-unknown])"},
    {"like_no_size", R"({"yubifu-flute": 1, "title": "T",
 "like": 14})",
     R"(own.json:2:10: error: there is no built-in flute "14" (a size from 1 to 13 such as "6" or "7.5") [json-value])"},
    {"like_another_file", R"({"yubifu-flute": 1, "title": "T",
 "like": "other.json"})",
     R"(own.json:2:10: error: there is no built-in flute "other.json" (a size from 1 to 13 such as "6" or "7.5") [json-value])"},
    {"like_of_another_kind", R"({"yubifu-flute": 1, "title": "T",
 "like": [6]})",
     R"(own.json:2:10: error: "like": expected a size such as 6 or "6+15c", found an array [json-kind])"},
    {"no_holes", R"({"yubifu-flute": 1, "title": "T", "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})",
     R"(own.json:1:1: error: the flute lacks the member "holes" [json-missing])"},
    {"too_many_holes", R"({"yubifu-flute": 1, "title": "T", "ichi": "D5",
 "holes": 21, "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})",
     R"(own.json:2:11: error: the flute: "holes" must be a whole number from 1 to 20 [json-value])"},
    {"half_a_hole", R"({"yubifu-flute": 1, "title": "T", "ichi": "D5",
 "holes": 2.5, "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})",
     R"(own.json:2:11: error: the flute: "holes" must be a whole number from 1 to 20 [json-value])"},
    {"no_entries", R"({"yubifu-flute": 1, "title": "T", "ichi": "D5", "holes": 2,
 "entries": []})",
     R"(own.json:2:13: error: the flute has no entries [json-value])"},
    {"no_list_of_entries", R"({"yubifu-flute": 1, "title": "T", "ichi": "D5", "holes": 2})",
     R"(own.json:1:1: error: the flute lacks the member "entries" [json-missing])"},
    {"entry_of_another_kind", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  "一"
]})",
     R"(own.json:3:3: error: entry 1: expected an object, found a string [json-kind])"},
    {"no_sign", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:3: error: entry 1 lacks the member "sign" [json-missing])"},
    {"unknown_sign", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "do", "register": "low", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:12: error: entry 1: "do" is no sign (筒, 一 to 七, 0 to 7, 8, 2̇ to 7̇ or one letter that the notation does not use) [flute-sign])"},
    {"sign_of_the_notation", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "-", "register": "low", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:12: error: entry 1: "-" is no sign (筒, 一 to 七, 0 to 7, 8, 2̇ to 7̇ or one letter that the notation does not use) [flute-sign])"},
    {"bent_sign", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一↓20", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:12: error: entry 1: "一↓20" is no sign (筒, 一 to 七, 0 to 7, 8, 2̇ to 7̇ or one letter that the notation does not use) [flute-sign])"},
    {"own_sign_without_register", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "い", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:3: error: い has no register (add "register": tube, low, second or third) [flute-sign])"},
    {"sign_twice", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": 0},
  {"sign": "一", "pattern": "○●", "cents": 0}
]})",
     R"(own.json:4:3: error: entry 2: 一 has an entry already (put further patterns into "patterns" of one entry) [flute-entry-twice])"},
    {"unknown_register", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "い", "register": "high", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:29: error: entry 1: "high" is no register (one of tube, low, second, third) [json-value])"},
    {"unknown_effort", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "effort": "easy", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:3:27: error: entry 1: "easy" is no effort (one of plain, cross, half-usual, half-harder, half-hard) [json-value])"},
    {"no_pattern", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "cents": 0}
]})",
     R"(own.json:3:3: error: 一 has no hole pattern (add "pattern") [flute-pattern])"},
    {"empty_patterns", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "patterns": [], "cents": 0}
]})",
     R"(own.json:3:3: error: 一 has no hole pattern (add "pattern") [flute-pattern])"},
    {"pattern_of_another_kind", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": 10, "cents": 0}
]})",
     R"(own.json:3:28: error: entry 1, "pattern": expected a string, found a number [json-kind])"},
    {"unknown_hole", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●◑", "cents": 0}
]})",
     R"(own.json:3:28: error: entry 1, "pattern": "●◑" is no hole pattern (● closed, ○ open, ◐ half, ◎ closed to steady; in ASCII x o h s) [flute-pattern])"},
    {"too_few_holes_in_a_pattern", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "patterns": ["●○", "○"], "cents": 0}
]})",
     R"(own.json:3:36: error: entry 1: the pattern ○ must have 2 signs, not 1 (give one sign a hole, from the mouth end to the foot) [flute-pattern])"},
    {"too_many_holes_in_a_pattern", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●●○", "cents": 0}
]})",
     R"(own.json:3:28: error: entry 1: the pattern ●●○ must have 2 signs, not 3 (give one sign a hole, from the mouth end to the foot) [flute-pattern])"},
    {"no_pitch", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○"}
]})",
     R"(own.json:3:3: error: 一 has no pitch (add "cents" from 一, or "hz") [flute-pitch])"},
    {"two_pitches", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": 0, "hz": 587}
]})",
     R"(own.json:3:52: error: entry 1: the pitch is given twice (leave out "cents" or "hz") [flute-pitch])"},
    {"cents_as_text", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": "0"}
]})",
     R"(own.json:3:43: error: entry 1, "cents": expected a number, found a string [json-kind])"},
    {"cents_out_of_range", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": 7000}
]})",
     R"(own.json:3:43: error: entry 1: "cents" must be from -6000 to 6000, not 7000 [json-value])"},
    {"hz_out_of_range", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "hz": 2}
]})",
     R"(own.json:3:40: error: entry 1: "hz" must be from 20 to 20000, not 2 [json-value])"},
    {"unknown_field_of_an_entry", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cent": 0, "cents": 0}
]})",
     R"(own.json:3:34: warning: entry 1 has a member "cent" that is not known here and is left out (did you mean "cents"?) [json-unknown])"},
    {"no_ichi", R"({"yubifu-flute": 1, "title": "T", "holes": 2,
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})",
     R"(own.json:1:1: error: the flute does not say what 一 sounds (add "ichi" with a note such as "D5" or "D5-10c", or a number of Hz) [flute-ichi])"},
    {"ichi_no_note", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "ichi": "H4"})",
     R"(own.json:2:10: error: "ichi" is no pitch (a note such as "D5" or "D5-10c", or a number of Hz from 20 to 20000) [flute-ichi])"},
    {"ichi_a_whole_semitone_off", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "ichi": "D5+100c"})",
     R"(own.json:2:10: error: "ichi" is no pitch (a note such as "D5" or "D5-10c", or a number of Hz from 20 to 20000) [flute-ichi])"},
    {"ichi_no_reading", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "ichi": -440})",
     R"(own.json:2:10: error: "ichi" is no pitch (a note such as "D5" or "D5-10c", or a number of Hz from 20 to 20000) [flute-ichi])"},
    {"ichi_that_nobody_hears", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "ichi": 0.001})",
     R"(own.json:2:10: error: "ichi" is no pitch (a note such as "D5" or "D5-10c", or a number of Hz from 20 to 20000) [flute-ichi])"},
    {"ichi_too_high_to_hear", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "ichi": "C11"})",
     R"(own.json:2:10: error: "ichi" is no pitch (a note such as "D5" or "D5-10c", or a number of Hz from 20 to 20000) [flute-ichi])"},
    {"temperature_out_of_range", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "temperature": 90})",
     R"(own.json:2:17: error: "temperature" must be from -30 to 60 degrees Celsius, not 90 [json-value])"},
    {"concert_temperature_alone", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "concert-temperature": 25})",
     R"(own.json:2:25: warning: "concert-temperature" changes nothing without "temperature" (add the degrees Celsius at which the readings were taken, or leave it out) [flute-temperature])"},
    {"bend_out_of_range", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "bend-limits": {"low": {"down": 250}}})",
     R"(own.json:2:34: error: "bend-limits", "low": "down" must be a whole number from 0 to 200 [json-value])"},
    {"bend_limits_of_another_kind", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "bend-limits": 50})",
     R"(own.json:2:17: error: "bend-limits": expected an object, found a number [json-kind])"},
    {"bend_limits_of_no_register", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "bend-limits": {"middle": {"down": 20}}})",
     R"(own.json:2:18: warning: "bend-limits" has a member "middle" that is not known here and is left out [json-unknown])"},
    {"without_nothing", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "without": ["一メ"]})",
     R"(own.json:2:14: error: "without": "一メ" is no sign of the flute that this one is like ("without" takes signs out that "like" brought in) [flute-sign])"},
    {"without_of_another_kind", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "without": [7]})",
     R"(own.json:2:14: error: "without": expected a string, found a number [json-kind])"},
    {"like_with_other_holes", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "holes": 6})",
     R"(own.json:1:43: error: 筒 still has the 7 holes of the flute that this one is like, not 6 (give its pattern, or leave it out with "without") [flute-pattern])"},
    {"same_fingers", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": 0},
  {"sign": "二", "pattern": "●○", "cents": 180}
]})",
     R"(own.json:4:3: warning: 二 has the same fingers as 一: ●○ (give each sign a pattern of its own) [flute-alike])"},
    {"same_fingers_but_steadying", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "○◎", "cents": 0},
  {"sign": "二", "pattern": "○○", "cents": 180}
]})",
     R"(own.json:4:3: warning: 二 has the same fingers as 一: ○○ (give each sign a pattern of its own) [flute-alike])"},
    {"same_fingers_in_two_registers", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": 0},
  {"sign": "0", "pattern": "●○", "cents": 500}
]})",
     R"(own.json:4:3: warning: 0 has the same fingers as 一: ●○ (give each sign a pattern of its own) [flute-alike])"},
    {"pattern_twice", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "patterns": ["●○", "xo"], "cents": 0}
]})",
     R"(own.json:3:3: warning: 一 has the fingers ●○ twice (leave one of them out) [flute-alike])"},
    {"numbers_out_of_order", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "一", "pattern": "●○", "cents": 0},
  {"sign": "二", "pattern": "○○", "cents": 180},
  {"sign": "三", "pattern": "○●", "cents": 170}
]})",
     R"(own.json:5:3: warning: 三 does not sound higher than 二 (check the readings of both) [flute-order])"},
    {"own_signs_out_of_order",
     R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "い", "register": "tube", "pattern": "●●", "cents": -200},
  {"sign": "ろ", "register": "low", "pattern": "●◎", "cents": 0},
  {"sign": "は", "register": "low", "pattern": "○○", "cents": -10}
]})",
     R"(own.json:5:3: warning: は opens more holes than ろ and does not sound higher (check the readings of both) [flute-order])"},
    {"own_sign_under_the_tube_tone",
     R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [
  {"sign": "い", "register": "tube", "pattern": "●●", "cents": 0},
  {"sign": "ろ", "register": "low", "pattern": "●○", "cents": 0}
]})",
     R"(own.json:4:3: warning: ろ opens more holes than い and does not sound higher (check the readings of both) [flute-order])"},
    {"kan_out_of_order", R"({"yubifu-flute": 1, "title": "T", "like": 6,
 "entries": [{"sign": "6", "cents": 1900}]})",
     R"(own.json:2:14: warning: 6 does not sound higher than 5 (check the readings of both) [flute-order])"},
};
// clang-format on

class BadFluteFile : public testing::TestWithParam<BadFile> {};

TEST_P(BadFluteFile, is_told_in_these_words) {
  const base::SourceText source("own.json", std::string(GetParam().text));
  const auto outcome = read_flute_file(source, model::FlutePath{"own.json"}, 440);
  std::string said;
  for (const base::Diagnostic& diagnostic : outcome.diagnostics) {
    said += (said.empty() ? "" : "\n") + one_line(diagnostic, source);
  }
  EXPECT_EQ(said, GetParam().said);
  EXPECT_EQ(outcome.value.has_value(), !base::has_errors(outcome.diagnostics));
}

INSTANTIATE_TEST_SUITE_P(All, BadFluteFile, testing::ValuesIn(kBadFiles),
                         [](const auto& test) { return std::string(test.param.name); });

}  // namespace
}  // namespace yubifu::flute
