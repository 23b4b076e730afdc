// The rules that notation reports, and the limits that some of them tell.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "notation/bar_rules.h"
#include "notation/word_rules.h"

namespace yubifu::notation {

/// More tokens, bars and notes (grace notes included) than this are not read.
inline constexpr std::size_t kMostTokens = 5'000'000;
inline constexpr std::size_t kMostBars = 500'000;
inline constexpr std::size_t kMostNotes = 2'000'000;

/// No word or brace is longer, in bytes.
inline constexpr std::size_t kLongestToken = 4'096;

/// Groups nest no deeper.
inline constexpr int kDeepestNesting = 64;

/// A pattern names no more holes.
inline constexpr std::size_t kMostHoles = 24;

/// After so many findings the rest is not told.
inline constexpr std::size_t kMostFindings = 1'000;

/// What is wrong with a piece of text, before anybody knows where it stands: a finding without its
/// place. The rule is never null.
struct Fault {
  const base::Rule* rule = nullptr;
  std::string message;
  std::string hint;
};

// What a score holds and the text cannot say; the writer reports these.
namespace rule {

inline constexpr Rule bar_too_fine{
    "bar-too-fine", Severity::error,
    "The starts inside one word divide it into at most 10,000 parts, and a bar holds at most "
    "500,000 words.",
    "a beat with notes after 1/103 and after 1/101 of it",
    "the same beat with notes after 1/100 and after 2/100 of it"};
inline constexpr Rule unfingered_note{"unfingered-note", Severity::error,
                                      "Each note has a fingering, or is a gap with its pitch.",
                                      "a melody from a staff that no flute was chosen for",
                                      "the same melody with fingers for a flute"};
inline constexpr Rule unwritable_sign{
    "unwritable-sign", Severity::error,
    "A sign of a flute's own is one letter or digit that the text does not use otherwise.",
    "a score whose flute calls a fingering `(`", "a score whose flute calls it 甲"};
inline constexpr Rule unwritable_header{
    "unwritable-header", Severity::warning,
    "The key of a further header field is one word, unlike all other keys, and stands once.",
    "a field whose key is `two words`", "a field whose key is `two-words`"};
inline constexpr Rule zero_is_taken{
    "zero-is-taken", Severity::warning,
    "In a score whose 0 is the tube tone no note is the cross-fingering 0.",
    "a score with `zero` = tube and a cross-fingered 0", "the same score with `zero` = cross"};
inline constexpr Rule held_over_flute{
    "held-over-flute", Severity::warning,
    "A note ends where the flute changes; one held over the change is struck anew.",
    "a note tied over a bar line at which another flute is taken up",
    "the same note ended at the bar line"};
inline constexpr Rule idle_repeat{
    "idle-repeat", Severity::warning,
    "A repeat ends before the next one begins; a start without an end of its own is left out.",
    "a score that begins a repeat in bars 1 and 3 and ends one in bar 4",
    "the same score with an end in bar 2"};
inline constexpr Rule undone_direction{
    "undone-direction", Severity::note,
    "One place has one tempo, key, beat and flute; of two the last is kept.",
    "a score with tempos of 60 and 90 at one place", "the same score with the second tempo only"};
inline constexpr Rule carried_nothing{
    "carried-nothing", Severity::note, "A syllable that is carried on stands on an earlier note.",
    "a verse that begins with a carried syllable", "a verse that begins with a syllable"};
inline constexpr Rule text_on_one_line{"text-on-one-line", Severity::note,
                                       "A line end inside a text becomes a space.",
                                       "a title of two lines", "a title of one line"};

}  // namespace rule

/// All of them: those of word_rules.h, bar_rules.h and of this header, each in its order.
inline const std::vector<const base::Rule*>& rules() {
  using namespace rule;
  constexpr auto in_order = [](const auto&... one) { return std::vector<const Rule*>{&one...}; };
  static const std::vector<const Rule*> list = in_order(
      not_utf8, other_encoding, empty_input, no_words, size_limit, nesting_too_deep,
      too_many_findings, unknown_header, duplicate_header, late_header, header_space, header_colon,
      bad_header_value, unknown_flute, beat_meter, start_conflict, unknown_sign, two_signs,
      missing_space, dot_on_digit, half_hole_number, suffix_order, suffix_twice, bend_number,
      bad_gap, unclear_zero, look_alike, unknown_mark, bad_mark_value, mark_on_hold, mark_on_rest,
      free_mark, slur_place, no_next_note, hold_without_note, group_size, unclosed_group,
      unopened_group, bad_group_length, fraction_place, bar_overflow, bar_length,
      needless_irregular, same_bar_place, bar_sign_place, bad_repeat_count, nested_repeat,
      ending_place, unclosed_brace, unopened_brace, unknown_direction, glued_direction,
      direction_place, direction_twice, bad_direction_value, unknown_dynamic, song_without_music,
      unknown_verse, verse_twice, verse_too_long, verse_too_short, bad_syllable, bar_too_fine,
      unfingered_note, unwritable_sign, unwritable_header, zero_is_taken, held_over_flute,
      idle_repeat, undone_direction, carried_nothing, text_on_one_line);
  return list;
}

}  // namespace yubifu::notation
