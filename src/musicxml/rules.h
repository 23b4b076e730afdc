// The rules that musicxml reports; here those about scores that are to become staff files, with
// examples that are scores, told in words.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "musicxml/file_rules.h"
#include "musicxml/reading_rules.h"

namespace yubifu::musicxml::rule {

inline constexpr base::Rule no_bars{
    "no-bars", base::Severity::error, "A score must have a bar before it can stand on a staff.",
    "a score of header lines alone", "the same score with one bar of rest"};

inline constexpr base::Rule no_flute_in_use{
    "no-flute-in-use", base::Severity::error,
    "The flute of a score must be known before it is written on a staff.", "a score as it was read",
    "the same score, resolved for its flute"};

inline constexpr base::Rule no_pitch{
    "no-pitch", base::Severity::error,
    "Every note must have a pitch before it is written on a staff.",
    "a note that has a fingering only", "the same note, resolved for its flute"};

inline constexpr base::Rule outside_staff{
    "outside-staff", base::Severity::error, "A staff file holds the octaves from C0 to B9 only.",
    "a note at MIDI key 5 in a sounding staff", "the same note an octave higher"};

inline constexpr base::Rule rhythm_too_fine{
    "rhythm-too-fine", base::Severity::error,
    "A bar must not divide time more finely than a staff file can hold.",
    "a bar with a start at 1/10007 of a beat", "the same bar with the start at 1/9973 of a beat"};

inline constexpr base::Rule many_divisions{
    "many-divisions", base::Severity::warning,
    "More than 16,383 divisions a quarter are more than some programs read.",
    "bars divided into 7, 11, 13 and 17 parts", "bars divided into 7 and 11 parts"};

inline constexpr base::Rule too_many_divisions{
    "too-many-divisions", base::Severity::error,
    "All bars together must not need more than 1,000,000,000 divisions a quarter.",
    "bars divided into 23, 29, 31, 37, 41 and 43 parts", "bars divided into 23 and 29 parts"};

inline constexpr base::Rule comments_left_out{
    "comments-left-out", base::Severity::note, "A staff file has no place for comments.",
    "a score with a comment, written as a staff file",
    "the same score without the comment, or written as fingering text"};

inline constexpr base::Rule characters_replaced{
    "characters-replaced", base::Severity::warning,
    "XML cannot hold control characters; they become U+FFFD.", "a title with the character U+0007",
    "the same title without it"};

inline constexpr base::Rule nearest_tempered{
    "nearest-tempered", base::Severity::warning,
    "A staff shows the nearest tempered notes of a flute that follows no Western scale.",
    "a flute whose 二 lies 152 cents over 一, written on a staff",
    "a flute whose 二 lies 204 cents over 一, written on a staff"};

}  // namespace yubifu::musicxml::rule

namespace yubifu::musicxml {

/// All of them, those that belong together side by side.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::already_fingered,
      &rule::encoding_not_kept,
      &rule::no_annotation,
      &rule::annotated_octave,
      &rule::unreadable_text,
      &rule::declared_encoding,
      &rule::xml_syntax,
      &rule::xml_limits,
      &rule::broken_container,
      &rule::unsafe_container,
      &rule::container_without_rootfile,
      &rule::not_a_staff_file,
      &rule::no_measures,
      &rule::unknown_part,
      &rule::unknown_voice,
      &rule::unpitched_part,
      &rule::staff_limits,
      &rule::staff_overflow,
      &rule::left_out,
      &rule::detail_left_out,
      &rule::tie_without_partner,
      &rule::odd_duration,
      &rule::odd_position,
      &rule::overlapping_notes,
      &rule::uneven_bar,
      &rule::strokes_differ,
      &rule::octave_twice,
      &rule::silent_voice,
      &rule::not_a_fingering,
      &rule::unknown_value,
      &rule::misplaced_sign,
      &rule::voice_chosen,
      &rule::jump_in_words,
      &rule::no_meter,
      &rule::no_bars,
      &rule::no_flute_in_use,
      &rule::no_pitch,
      &rule::outside_staff,
      &rule::rhythm_too_fine,
      &rule::many_divisions,
      &rule::too_many_divisions,
      &rule::comments_left_out,
      &rule::characters_replaced,
      &rule::voice_followed,
      &rule::nearest_tempered,
  };
  return list;
}

}  // namespace yubifu::musicxml
