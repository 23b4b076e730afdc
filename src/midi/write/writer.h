// Scores to Standard MIDI Files: the flute's true pitch, played out, for listening and practice.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "midi/own_text.h"
#include "model/meter.h"
#include "model/score.h"

namespace yubifu::midi {

/// Both included; the pickup is bar 0. Of the music as it is played:
/// the shortest stretch from the first to the last in which all of them are heard.
struct BarRange {
  int first = 1;
  int last = 1;

  friend bool operator==(const BarRange&, const BarRange&) = default;
};

/// The number of a measure that a BarRange counts by; -1 where what is printed is no number.
int bar_number(const model::Measure& measure);

/// Reads "5-8", or "5" for one bar; nothing for other text or a range that runs backwards.
std::optional<BarRange> parse_bar_range(std::string_view text);

/// Whether a click on channel 10 marks the beats.
enum class Click { off, on };

/// How the music is made ready for practice. Everything can be combined.
struct Practice {
  std::optional<BarRange> bars = std::nullopt;  ///< only these
  int tempo_percent = 100;                      ///< of every tempo, 1 to 1000
  int times = 1;                                ///< how often all of it is played, 1 to 1000
  int count_in_bars = 0;                        ///< bars of click before the first note, 0 to 16
  Click click = Click::off;                     ///< on every beat of the music
};

/// How the file shall sound, and what it says beside the notes.
struct MidiWriteOptions {
  Lyrics lyrics = Lyrics::fingering;
  int program = 74;        ///< General MIDI, counted from 1: 74 is Flute
  int velocity = 80;       ///< of an unaccented note at mf, 1 to 127
  std::optional<int> ppq;  ///< ticks a quarter, 24 to 32767; found from the score where absent
  Practice practice;
};

/// A file of format 1: a tempo track and one flute track on channel 1. The score must be resolved:
/// a tone without a pitch is an error. Repeats are played out. Written lengths are kept to the
/// tick, whatever the marks; fermatas halve the tempo while they last, rit and accel are ramps of
/// the tempo over at most eight quarters, dynamics and accents are velocities, grace notes take
/// their time from the main note. Slides stay straight.
base::Outcome<std::string> write_midi(const model::Score& score, const MidiWriteOptions& options);

/// What sounds when and how high, for programs that play it themselves: JSON of
/// schemas/sound.schema.json. The written tones by their numbers (model::tone_numbers) with their
/// places in the text, then bars, clicks and tones as they are played, repeats played out, in exact
/// quarters and in seconds of the score's tempos. It plays what write_midi plays, but for the
/// frequency, which has no steps, and the times, which need no ticks. The score must be resolved.
/// Reports what perform() does.
base::Outcome<std::string> write_listing(const model::Score& score);

}  // namespace yubifu::midi
