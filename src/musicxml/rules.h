// The rules that musicxml reports; here those about scores that are to become staff files, with
// examples that are scores, told in words.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "musicxml/file_rules.h"
#include "musicxml/reading_rules.h"

namespace yubifu::musicxml::rule {

inline constexpr Rule no_bars{
    "no-bars", Severity::error, "A score must have a bar before it can stand on a staff.",
    "a score of header lines alone", "the same score with one bar of rest"};
inline constexpr Rule no_flute_in_use{
    "no-flute-in-use", Severity::error,
    "The flute of a score must be known before it is written on a staff.", "a score as it was read",
    "the same score, resolved for its flute"};
inline constexpr Rule no_pitch{
    "no-pitch", Severity::error, "Every note must have a pitch before it is written on a staff.",
    "a note that has a fingering only", "the same note, resolved for its flute"};
inline constexpr Rule outside_staff{
    "outside-staff", Severity::error, "A staff file holds the octaves from C0 to B9 only.",
    "a note at MIDI key 5 in a sounding staff", "the same note an octave higher"};
inline constexpr Rule rhythm_too_fine{
    "rhythm-too-fine", Severity::error,
    "A bar must not divide time more finely than a staff file can hold.",
    "a bar with a start at 1/10007 of a beat", "the same bar with the start at 1/9973 of a beat"};
inline constexpr Rule many_divisions{
    "many-divisions", Severity::warning,
    "More than 16,383 divisions a quarter are more than some programs read.",
    "bars divided into 7, 11, 13 and 17 parts", "bars divided into 7 and 11 parts"};
inline constexpr Rule too_many_divisions{
    "too-many-divisions", Severity::error,
    "All bars together must not need more than 1,000,000,000 divisions a quarter.",
    "bars divided into 23, 29, 31, 37, 41 and 43 parts", "bars divided into 23 and 29 parts"};
inline constexpr Rule comments_left_out{
    "comments-left-out", Severity::note, "A staff file has no place for comments.",
    "a score with a comment, written as a staff file",
    "the same score without the comment, or written as fingering text"};
inline constexpr Rule characters_replaced{"characters-replaced", Severity::warning,
                                          "XML cannot hold control characters; they become U+FFFD.",
                                          "a title with the character U+0007",
                                          "the same title without it"};
inline constexpr Rule nearest_tempered{
    "nearest-tempered", Severity::warning,
    "A staff shows the nearest tempered notes of a flute that follows no Western scale.",
    "a flute whose 二 lies 152 cents over 一, written on a staff",
    "a flute whose 二 lies 204 cents over 一, written on a staff"};

}  // namespace yubifu::musicxml::rule

namespace yubifu::musicxml {

/// All of them, those that belong together side by side.
inline const std::vector<const base::Rule*>& rules() {
  using namespace rule;
  constexpr auto in_order = [](const auto&... one) { return std::vector<const Rule*>{&one...}; };
  static const std::vector<const Rule*> list = in_order(
      already_fingered, encoding_not_kept, no_annotation, annotated_octave, unreadable_text,
      declared_encoding, xml_syntax, xml_limits, broken_container, unsafe_container,
      container_without_rootfile, not_a_staff_file, no_measures, unknown_part, unknown_voice,
      unpitched_part, staff_limits, staff_overflow, left_out, detail_left_out, tie_without_partner,
      odd_duration, odd_position, overlapping_notes, uneven_bar, strokes_differ, octave_twice,
      silent_voice, not_a_fingering, unknown_value, misplaced_sign, voice_chosen, jump_in_words,
      no_meter, no_bars, no_flute_in_use, no_pitch, outside_staff, rhythm_too_fine, many_divisions,
      too_many_divisions, comments_left_out, characters_replaced, voice_followed, nearest_tempered);
  return list;
}

}  // namespace yubifu::musicxml
