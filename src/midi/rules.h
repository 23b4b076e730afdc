// The rules that midi reports. Faults of a binary file are told in words; the tests hold the bytes.
#pragma once

#include <vector>

#include "base/rule.h"

namespace yubifu::midi {

namespace rule {

// Writing.
inline constexpr base::Rule missing_pitch{
    "missing-pitch", base::Severity::error, "Every note must have a pitch before it can be played.",
    "a score whose fingering was never looked up in a flute's table", "the same score resolved"};
inline constexpr base::Rule tick_overflow{
    "tick-overflow", base::Severity::error, "Every time of a score must be a fraction of 64 bits.",
    "a grace note to a note of 1/9000000000000000000", "a grace note to a note of 1/16"};
inline constexpr base::Rule music_too_long{
    "music-too-long", base::Severity::error, "The music must not last more than 2147483647 ticks.",
    "a bar of 1000000 quarter notes at 32767 ticks each", "the same bar at 480 ticks each"};
inline constexpr base::Rule bars_not_played{
    "bars-not-played", base::Severity::error, "Bars to be practised must be bars that are played.",
    "bars 5-8 of a tune of four bars", "bars 1-4 of that tune"};
inline constexpr base::Rule midi_option{"midi-option", base::Severity::error,
                                        "Options of the MIDI export must be in their range.",
                                        "program 129", "program 74"};
inline constexpr base::Rule tick_rounding{
    "tick-rounding", base::Severity::warning,
    "The ticks a quarter note gets should hold every onset and end exactly.",
    "a triplet at 100 ticks a quarter note", "a triplet at 480 ticks a quarter note"};
inline constexpr base::Rule key_range{"key-range", base::Severity::warning,
                                      "A note should be one of the MIDI keys 0 to 127.",
                                      "the note C10", "the note C6"};
inline constexpr base::Rule tempo_range{"tempo-range", base::Severity::warning,
                                        "A tempo should not be under 3.58 quarter notes a minute.",
                                        "tempo 2", "tempo 4"};
inline constexpr base::Rule mark_left_out{
    "mark-left-out", base::Severity::note,
    "A MIDI file holds what sounds; marks of the player's technique are left out.",
    "a note with a trill", "the note without it"};
inline constexpr base::Rule verse_left_out{
    "verse-left-out", base::Severity::note,
    "The lyrics of a MIDI file are one text: fingering, song or shoga.",
    "a song exported with its fingering", "the same song exported with its text"};
inline constexpr base::Rule comment_left_out{"comment-left-out", base::Severity::note,
                                             "A MIDI file has no place for comments.",
                                             "a score with a comment", "the score without it"};
inline constexpr base::Rule no_click{"no-click", base::Severity::note,
                                     "A click needs a meter to count.",
                                     "a count-in before free time", "a count-in before 4/4"};

// Reading: the structure of the file.
inline constexpr base::Rule not_midi{"not-midi", base::Severity::error,
                                     "A MIDI file must begin with the letters MThd.",
                                     "a text file named tune.mid", "a file that begins with MThd"};
inline constexpr base::Rule midi_header{"midi-header", base::Severity::error,
                                        "The header of a MIDI file must be whole.",
                                        "the first 12 bytes of a MIDI file", "all of it"};
inline constexpr base::Rule midi_format{"midi-format", base::Severity::error,
                                        "A MIDI file must be of format 0 or 1.",
                                        "a file of format 2", "a file of format 1"};
inline constexpr base::Rule midi_division{
    "midi-division", base::Severity::error,
    "The division must be ticks of a quarter note, or of 24, 25, 29 or 30 frames a second.",
    "a division of 0", "a division of 480"};
inline constexpr base::Rule midi_too_large{
    "midi-too-large", base::Severity::error,
    "A MIDI file must not have more than 1000000 events or 4096 tracks.", "a file of 5000 tracks",
    "a file of 5 tracks"};
inline constexpr base::Rule unreadable_midi{
    "unreadable-midi", base::Severity::error, "The MIDI library must accept the repaired file.",
    "no known file: what the library would refuse is repaired or refused before",
    "any file of the MIDI specification"};
inline constexpr base::Rule damaged_track{
    "damaged-track", base::Severity::warning,
    "A track should be events from its first byte to its last.",
    "a track that is cut off inside a note", "the whole track"};
inline constexpr base::Rule no_end_of_track{
    "no-end-of-track", base::Severity::warning, "A track should end with End of Track.",
    "a track that ends after its last note", "the same track with FF 2F 00 behind it"};
inline constexpr base::Rule after_end_of_track{"after-end-of-track", base::Severity::warning,
                                               "End of Track should be the last event of a track.",
                                               "a note after FF 2F 00", "a note before FF 2F 00"};
inline constexpr base::Rule track_count{
    "track-count", base::Severity::warning, "The header should say how many tracks the file has.",
    "a header for 3 tracks before 2", "a header for 2 tracks before 2"};
inline constexpr base::Rule stale_bytes{
    "stale-bytes", base::Severity::warning, "The last chunk should end the file.",
    "the end of an older, longer file behind the last chunk", "the file without it"};
inline constexpr base::Rule running_status{
    "running-status", base::Severity::warning,
    "Running status should not go on after a meta event or an exclusive message.",
    "a tempo between two notes, the second without status byte",
    "the same with a status byte for each note"};
inline constexpr base::Rule stray_status{
    "stray-status", base::Severity::warning,
    "Messages for a cable, such as a clock, should not stand in a file.",
    "the byte F8 between two notes", "the same notes without it"};
inline constexpr base::Rule bad_meta{
    "bad-meta", base::Severity::warning,
    "Tempo, time signature and key signature should have their length and possible values.",
    "a tempo of zero", "a tempo of 500000 microseconds"};
inline constexpr base::Rule long_header{"long-header", base::Severity::note,
                                        "Of a header, 6 bytes are known.", "a header of 8 bytes",
                                        "a header of 6 bytes"};
inline constexpr base::Rule foreign_chunk{
    "foreign-chunk", base::Severity::note, "Chunks other than tracks are left out.",
    "a file with a chunk of another program", "a file of tracks only"};
inline constexpr base::Rule riff_wrapper{
    "riff-wrapper", base::Severity::note, "Of a RIFF file, only the MIDI file inside it is read.",
    "a file that begins with RIFF", "the MIDI file that stands in it"};
inline constexpr base::Rule exclusive_left_out{
    "exclusive-left-out", base::Severity::note, "Messages for one make of instrument are left out.",
    "a file with an exclusive message", "the file without it"};

// Reading: the music.
inline constexpr base::Rule grid_option{"grid-option", base::Severity::error,
                                        "A grid must have 1 to 96 parts of a quarter note.",
                                        "a grid of 0", "a grid of 4"};
inline constexpr base::Rule no_notes{"no-notes", base::Severity::error,
                                     "The file must have a note.", "a file with a tempo only",
                                     "a file with a note"};
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
    "the lyric 九 in a file whose lyrics are fingering", "the lyric 五 in that file"};
inline constexpr base::Rule text_after_music{
    "text-after-music", base::Severity::warning, "Texts should not stand after the last note.",
    "a marker three bars after the last note", "the marker on a note"};
inline constexpr base::Rule too_dense{
    "too-dense", base::Severity::warning, "A beat should have at most 64 notes.",
    "a hundred notes in one beat, off any grid", "four notes in one beat"};
inline constexpr base::Rule melody_chosen{"melody-chosen", base::Severity::note,
                                          "One track and channel of a file is the melody.",
                                          "a file of two parts", "a file of one part"};
inline constexpr base::Rule quantised{
    "quantised", base::Severity::note,
    "Notes that a person played are moved to the divisions that were meant.",
    "notes some ticks beside the beat", "notes on the beat"};
inline constexpr base::Rule slide_read{
    "slide-read", base::Severity::note, "A bend that reaches the next note is a slide.",
    "the pitch wheel moved from C to D before a D", "a C and a D"};
inline constexpr base::Rule direction_moved{
    "direction-moved", base::Severity::note,
    "Tempos, keys and texts stand on a note or a sixteenth of their bar.",
    "a tempo seven ticks after a note", "a tempo on a note"};

}  // namespace rule

/// All of them, in the order of this header.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::midi
