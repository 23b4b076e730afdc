// A score played out on a line of ticks: what sounds when, before it becomes MIDI events.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "midi/smf/events.h"
#include "midi/write/writer.h"
#include "model/rational.h"
#include "model/score.h"

namespace yubifu::midi {

/// How a tone begins: with the tongue or a new breath; with a finger's strike where the same tone
/// sounded to its start; out of the tone before it, to which it is slurred.
enum class Attack : std::uint8_t { tongued, struck, slurred };

/// A note as it is heard, a grace note like any other. Times in ticks, as in all of this header.
struct SoundingNote {
  std::int64_t begin = 0;
  std::int64_t end = 0;
  int key = 60;      ///< 0 to 127
  double cents = 0;  ///< -50 to 50
  int velocity = 80;
  std::string lyric;
  std::size_t tone = 0;     ///< number of the written tone, as model::tone_numbers counts
  std::size_t measure = 0;  ///< index of the measure, as they are played
  model::Rational onset;    ///< from the start of that measure, in quarters; exact
  model::Rational length;   ///< in quarters, exact
  Attack attack = Attack::tongued;
  /// Of a note with grace notes: what stands at its end on its last tone, the others on its main.
  std::vector<model::Mark> marks;
};

/// A bar as it is played: one, also where a repeat sign parts it, if both parts follow in turn.
struct SoundingBar {
  std::int64_t begin = 0;
  std::int64_t end = 0;
  model::Rational length;  ///< in quarters, exact also where the ticks are not
  model::Meter meter;
  int number = 0;           ///< as printed; -1 where that is no number
  std::size_t written = 0;  ///< index of the (first) written measure
  bool pickup = false;      ///< the short first bar of a score: its beats count back from its end
};

/// One stroke of the click.
enum class Stroke { bar, beat };

/// Times in ticks; each list in order, the notes without overlap.
struct Performance {
  int ppq = 480;
  bool exact = true;  ///< every written time fell on a whole tick
  std::int64_t end = 0;
  std::vector<SoundingNote> notes;
  std::vector<Timed<double>> tempos;        ///< quarters a minute; the first at 0
  std::vector<Timed<double>> counted;       ///< the same without fermatas
  std::vector<Timed<model::Meter>> meters;  ///< free time where nothing is counted
  std::vector<Timed<model::Key>> keys;
  std::vector<Timed<std::string>> sections;
  std::vector<Timed<std::string>> texts;
  std::vector<Timed<std::string>> flutes;  ///< changes of flute, by name
  std::vector<SoundingBar> bars;
  std::vector<Timed<Stroke>> clicks = {};  ///< for practice
  std::vector<std::size_t> order;          ///< the written measures as they are played, as indexes
};

/// Plays the score. Reports what MIDI cannot hold, and as errors a tone without pitch, times that
/// overflow and music longer than a file can hold.
base::Outcome<Performance> perform(const model::Score& score, const MidiWriteOptions& options);

/// Of the beats of the bars, in order; none in free time.
std::vector<Timed<Stroke>> bar_clicks(const Performance& performance);

/// The felt beat of a meter that is counted, in ticks.
std::int64_t beat_ticks(const model::Meter& meter, int ppq);

/// Made ready for practice: cuts out the bars, scales the tempo, repeats, and puts the count-in
/// before it: whole bars of the first bar's meter, and what a short first bar lacks. Reports bars
/// that are not played, and free time, in which nothing is counted and there is no click.
base::Outcome<Performance> practise(Performance performance, const Practice& practice);

}  // namespace yubifu::midi
