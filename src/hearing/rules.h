// The rules about recordings of a flute, the tones in them, and readings that a person noted.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::hearing {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule recording_format{
    "recording-format", Severity::error,
    "A recording must be WAV, FLAC, Ogg or another sound file, with 8,000 to 192,000 samples a "
    "second.",
    "a text with the name flute.wav", "a recording of 48,000 samples a second"};
inline constexpr Rule recording_silent{"recording-silent", Severity::error,
                                       "A recording must hold at least one steady tone.",
                                       "a recording of a quiet room", "a recording of a flute"};
inline constexpr Rule tones_many{
    "tones-many", Severity::error, "A recording to measure a flute by holds at most 400 tones.",
    "a recording of a whole festival", "a recording of the signs of one flute"};
inline constexpr Rule tone_short{"tone-short", Severity::warning,
                                 "A tone should be held for 0.4 s or longer, better a second.",
                                 "a tone of 0.3 s", "a tone of 1 s"};
inline constexpr Rule tone_wavers{"tone-wavers", Severity::warning,
                                  "A tone should keep its pitch; a vibrato may swing about it.",
                                  "a tone that slides by two semitones", "a tone held evenly"};
inline constexpr Rule tone_overblown{
    "tone-overblown", Severity::note,
    "A tone that begins in another octave is taken from where it has settled.",
    "half a second of the upper octave, and in the same breath a second of the tone",
    "a second of the tone"};
inline constexpr Rule tone_clipped{
    "tone-clipped", Severity::warning, "A tone should not be louder than the recording can hold.",
    "a tone whose crests are cut flat", "the same tone, recorded softer"};
inline constexpr Rule tone_drifts{"tone-drifts", Severity::warning,
                                  "A tone should end as high as it began, to less than 15 cents.",
                                  "a tone that falls by 20 cents in a second",
                                  "a tone held evenly"};
inline constexpr Rule tone_hum{
    "tone-hum", Severity::note,
    "A tone at a multiple of 50 or 60 Hz that never stops is hum of the mains and no sign.",
    "a tone of 250 Hz that sounds from the first second to the last",
    "a tone of 250 Hz that begins and ends"};
inline constexpr Rule octave_doubt{
    "octave-doubt", Severity::warning,
    "Where the sound leaves open in which octave a tone is, the order of the signs decides.",
    "a tone whose odd partials are 20 dB weaker than the others",
    "a tone with a strong fundamental"};
inline constexpr Rule tone_extra{"tone-extra", Severity::warning,
                                 "Each tone should belong to a sign.",
                                 "three signs, and a recording of three tones and a cough between",
                                 "three signs, and a recording of three tones"};
inline constexpr Rule sign_repeated{
    "sign-repeated", Severity::note,
    "Of a sign that was played twice in a row the steadier tone is taken.",
    "二 twice between 一 and 三", "二 once between 一 and 三"};
inline constexpr Rule sign_unheard{
    "sign-unheard", Severity::warning,
    "A sign without a tone that is surely its own is left out of the flute file.",
    "three signs, and a recording of two tones", "three signs, and a recording of three tones"};
inline constexpr Rule signs_unnamed{
    "signs-unnamed", Severity::note,
    "What the flute has beside the signs that were played is not in the file.",
    "a flute like 6, without its half holes", "a flute like 6, with its half holes among --signs"};

inline constexpr Rule readings_text{"readings-text", Severity::error,
                                    "A table of readings must be text in UTF-8 or Shift_JIS.",
                                    "a picture with the name readings.csv", "sign,Hz\n一,588\n"};
inline constexpr Rule readings_columns{
    "readings-columns", Severity::error,
    "A table of readings has the columns sign, then Hz or note and cents, and perhaps holes.",
    "sign\n一\n", "sign,Hz\n一,588\n"};
inline constexpr Rule readings_sign{"readings-sign", Severity::error,
                                    "Each row must begin with a sign of the flute.",
                                    "sign,Hz\n一,588\nxyz,643\n", "sign,Hz\n一,588\n二,643\n"};
inline constexpr Rule readings_pitch{
    "readings-pitch", Severity::error,
    "Each row must give a pitch from 20 to 20,000 Hz, in Hz or as a note and cents.",
    "sign,note,cents\n一,H5,0\n", "sign,note,cents\n一,B5,0\n"};
inline constexpr Rule readings_holes{
    "readings-holes", Severity::error,
    "A hole pattern must have one character for each hole of the flute: ● ○ ◐ ◎.",
    "sign,Hz,holes\n一,588,○●●●●●○\n二,643,●●●\n",
    "sign,Hz,holes\n一,588,○●●●●●○\n二,643,●●●●●○○\n"};
inline constexpr Rule readings_twice{"readings-twice", Severity::error, "A sign must have one row.",
                                     "sign,Hz\n一,588\n一,589\n", "sign,Hz\n一,588\n"};
}  // namespace rule

/// All of them, in the order above.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::recording_format, &rule::recording_silent, &rule::tones_many,
      &rule::tone_short,       &rule::tone_wavers,      &rule::tone_overblown,
      &rule::tone_clipped,     &rule::tone_drifts,      &rule::tone_hum,
      &rule::octave_doubt,     &rule::tone_extra,       &rule::sign_repeated,
      &rule::sign_unheard,     &rule::signs_unnamed,    &rule::readings_text,
      &rule::readings_columns, &rule::readings_sign,    &rule::readings_pitch,
      &rule::readings_holes,   &rule::readings_twice};
  return list;
}

}  // namespace yubifu::hearing
