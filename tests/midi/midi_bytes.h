// MIDI files typed as hexadecimal, and what was read from them in short words.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "midi/read/reader.h"
#include "model/score.h"

namespace yubifu::midi {

/// The bytes of hexadecimal digits; white space between them is skipped.
std::string hex(std::string_view digits);

/// A header and one chunk for each track, whose events are given without chunk head.
std::string midi_file(int format, int division, const std::vector<std::string>& tracks);

/// A file of format 0 whose track is these bytes.
std::string one_track(std::string_view digits, int division = 96);

/// A track event by event, times counted from the start.
class TrackBytes {
 public:
  TrackBytes& event(std::int64_t tick, const std::string& bytes);
  TrackBytes& note(std::int64_t begin, std::int64_t end, int key, int channel = 0);
  /// The events in order of time with an End of Track at the last tick or later.
  std::string bytes(std::int64_t end = 0) const;

 private:
  struct Entry {
    std::int64_t tick = 0;
    int order = 0;  // offs first
    std::string bytes;
  };
  std::vector<Entry> events_;
};

/// "60 at 0 for 1": key, onset from the start of the score and duration in quarter notes; cents
/// where there are any: "60+20".
std::vector<std::string> note_words(const model::Score& score);

/// What is told: "severity rule" of each, with its place where there is one: "at byte 26", "in bar
/// 3", "in bar 3, 5".
std::vector<std::string> told(const base::Diagnostics& diagnostics);

/// The message of the first diagnostic of that rule; fails the test without one.
std::string message_of(const base::Diagnostics& diagnostics, const base::Rule& rule);

/// Reads a file that must give a score without broken invariants; fails the test otherwise.
model::Score read_sound(std::string_view bytes, const MidiReadOptions& options = {});
/// What the reader says; a score, if there is one, must be sound.
base::Diagnostics read_messages(std::string_view bytes, const MidiReadOptions& options = {});

}  // namespace yubifu::midi
