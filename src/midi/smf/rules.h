// The rules of the structure of a MIDI file.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::midi::rule {

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
    "a track that is cut off inside an event", "the whole track"};
inline constexpr base::Rule data_byte{"data-byte", base::Severity::warning,
                                      "The data bytes of an event should be 00 to 7F.",
                                      "a note-on of key C8", "a note-on of key 48"};
inline constexpr base::Rule time_limit{
    "time-limit", base::Severity::warning,
    "A track should not last more than 400000 quarter notes or 2147483647 ticks.",
    "an event after 268435455 ticks of 96 a quarter note", "an event after 96 ticks"};
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
inline constexpr base::Rule no_notes{"no-notes", base::Severity::error,
                                     "The file must have a note.", "a file with a tempo only",
                                     "a file with a note"};

}  // namespace yubifu::midi::rule
