// The rules of reading the music of a MIDI file.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::midi::rule {

inline constexpr base::Rule grid_option{"grid-option", base::Severity::error,
                                        "A grid must have 1 to 96 parts of a quarter note.",
                                        "a grid of 0", "a grid of 4"};
inline constexpr base::Rule offset_option{"offset-option", base::Severity::error,
                                          "An offset must not put the first note before the start.",
                                          "an offset of 2 for a file whose first note is at 0",
                                          "an offset of 1/16 for that file"};
inline constexpr base::Rule played_tempo_option{"played-tempo-option", base::Severity::error,
                                                "A played tempo must be 20 to 400 beats a minute.",
                                                "a played tempo of 0", "a played tempo of 66"};
inline constexpr base::Rule no_such_part{
    "no-such-part", base::Severity::error,
    "The track and the channel that are asked for must have notes.", "track 7 of a file of two",
    "track 2 of that file"};
inline constexpr base::Rule too_many_bars{
    "too-many-bars", base::Severity::error, "The music must not take more than 100000 bars.",
    "a time signature of 1/128 before a note that lasts for hours", "the same note in 4/4"};
inline constexpr base::Rule open_note{"open-note", base::Severity::warning,
                                      "Every note should be ended.", "a note-on without note-off",
                                      "the same note ended"};
inline constexpr base::Rule no_length{
    "no-length", base::Severity::warning, "A note should last for some time.",
    "a note-off on the tick of its note-on", "a note-off a quarter note later"};
inline constexpr base::Rule far_note{
    "far-note", base::Severity::warning,
    "Notes more than an octave from all others are no music for a flute.",
    "a key switch on key 0 under a melody", "the melody without it"};
inline constexpr base::Rule chord_note{"chord-note", base::Severity::warning,
                                       "A flute plays one note at a time.", "a chord",
                                       "its highest note"};
inline constexpr base::Rule overlap_cut{
    "overlap-cut", base::Severity::note, "A note ends where the next one begins.",
    "a note that sounds on under the next", "a note that ends where the next begins"};
inline constexpr base::Rule moving_bend{
    "moving-bend", base::Severity::warning, "A bend should stand while its note sounds.",
    "the pitch wheel moved up and down during a note", "the pitch wheel moved between two notes"};
inline constexpr base::Rule text_encoding{"text-encoding", base::Severity::warning,
                                          "Texts should be in UTF-8 or Shift_JIS.",
                                          "a title of the bytes E9 74 E9", "the title in UTF-8"};
inline constexpr base::Rule lyric_alone{
    "lyric-alone", base::Severity::warning, "A lyric should begin with a note.",
    "a lyric half a beat before the first note", "a lyric on the tick of a note"};
inline constexpr base::Rule lyric_no_sign{
    "lyric-no-sign", base::Severity::warning,
    "Lyrics that are marked as fingering should be signs of the usual flutes.",
    "the lyric la in a file whose lyrics are fingering", "the lyric 五 in that file"};
inline constexpr base::Rule text_after_music{
    "text-after-music", base::Severity::warning, "Texts should not stand after the last note.",
    "a marker three bars after the last note", "the marker on a note"};
inline constexpr base::Rule too_dense{
    "too-dense", base::Severity::warning, "A beat should have at most 64 notes.",
    "a hundred notes in one beat, off any grid", "four notes in one beat"};
inline constexpr base::Rule track_chosen{"track-chosen", base::Severity::note,
                                         "One track and channel of a file is the melody.",
                                         "a file of two parts", "a file of one part"};
inline constexpr base::Rule quantised{
    "quantised", base::Severity::note,
    "Notes that a person played are moved to the divisions that were meant.",
    "notes some ticks beside the beat", "notes on the beat"};
inline constexpr base::Rule constant_offset{
    "constant-offset", base::Severity::note,
    "A lateness that all notes have is taken away before bars are made.",
    "quarter notes that all begin a sixteenth of a quarter after the beat",
    "quarter notes on the beat"};
inline constexpr base::Rule played_tempo{
    "played-tempo", base::Severity::note,
    "Bars and tempo are those of the playing, where the file has another clock.",
    "a tune played at 66 in a file that says 120", "a tune played at 120 in that file"};
inline constexpr base::Rule deep_rhythm{
    "deep-rhythm", base::Severity::note, "Bars should need no groups inside groups inside groups.",
    "a file whose notes begin a thirty-second beside the beat, now here, now there",
    "the same notes on the beat"};
inline constexpr base::Rule double_tempo{
    "double-tempo", base::Severity::note, "Of several tempos at one tick the last counts.",
    "a tempo of 90 and one of 100 at the start", "a tempo of 100 at the start"};
inline constexpr base::Rule slide_read{
    "slide-read", base::Severity::note, "A bend that reaches the next note is a slide.",
    "the pitch wheel moved from C to D before a D", "a C and a D"};
inline constexpr base::Rule direction_moved{
    "direction-moved", base::Severity::note,
    "Tempos, keys and texts stand on a note or a sixteenth of their bar.",
    "a tempo seven ticks after a note", "a tempo on a note"};
inline constexpr base::Rule bend_not_reset{
    "bend-not-reset", base::Severity::warning,
    "A MIDI file should leave every channel unbent: what is played next would sound wrong.",
    "a MIDI file whose pitch wheel is up at the end", "the same file with the wheel set back"};

}  // namespace yubifu::midi::rule
