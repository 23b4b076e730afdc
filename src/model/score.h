// The score: what every reader makes and every writer takes. All times are in quarter notes.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "model/direction.h"
#include "model/header.h"
#include "model/meter.h"
#include "model/note.h"

namespace yubifu::model {

/// A flute in use from a place on, with the pitch of 一.
struct FluteInUse {
  std::size_t measure = 0;
  FluteName name = kDefaultFluteSize;
  std::string title;                   ///< how people call it: "6" or the name in the flute file
  Pitch ichi;                          ///< the sounding pitch of 一
  double tuning_hz = kConcertPitchHz;  ///< A4, to which `ichi` refers
};

/// Whether the author sets bar signs in the song lines, too.
enum class SongBars { none, written };

/// A piece of music for one flute. What must hold of it stands in invariants.h.
struct Score {
  Header header;
  std::vector<FluteInUse> flutes;  ///< in order; filled by fingering/ or the score JSON reader
  std::vector<Measure> measures;
  std::vector<Note> notes;            ///< in order of measure and onset; they never overlap
  std::vector<Rest> rests;            ///< in order
  std::vector<Direction> directions;  ///< in order of measure and onset, then as written
  std::vector<std::string> verses;    ///< the names in use, in order: "1", "2", "shoga"
  SongBars song_bars = SongBars::none;
};

/// The index into `flutes` of the flute in use in a measure; 0 where none is in use so early.
std::size_t flute_index(const Score& score, std::size_t measure);

/// Those of a measure, of the notes, rests or directions of a score.
template <typename T>
std::span<const T> in_measure(const std::vector<T>& list, std::size_t measure) {
  const auto is_before = [](const T& one, std::size_t at) { return one.measure < at; };
  const T* const end = list.data() + list.size();
  const T* const first = std::lower_bound(list.data(), end, measure, is_before);
  return {first, std::lower_bound(first, end, measure + 1, is_before)};
}

/// Where each measure begins, in quarters from the start of the score, to far less than a
/// millionth: sums of exact fractions could overflow.
std::vector<double> measure_starts(const Score& score);

/// True when an ending begins at this measure: it has numbers, and the measure before has others
/// or closed its ending with a repeat, a section bar or the final bar.
bool ending_starts(const Score& score, std::size_t measure);
/// True when the ending of this measure ends with it (also at the last measure).
bool ending_stops(const Score& score, std::size_t measure);

/// True when a measure lasts less than its meter.
bool lasts_less(const Measure& measure);
/// The same where the measure may do so: a pickup, or a part of a bar.
bool is_short(const Measure& measure);

/// True when two measures that last less than their meter make a whole bar of it.
bool complete_each_other(const Measure& a, const Measure& b);

/// The other short measures that a short one can make a whole bar with: the one across a repeat
/// sign or double bar at its start or end; and the first and the last measure of a passage between
/// two such signs, of a section between two double bars, and of the score.
std::vector<std::size_t> partners_of_short(const Score& score, std::size_t measure);

/// True when a measure shorter than its meter needs no word: it is the first, a new meter or an
/// ending begins or closes at its start or end, or it and one of its partners add up to a bar.
bool may_be_short(const Score& score, std::size_t measure);

/// True when a measure is longer than its meter, or shorter and not `may_be_short`: exactly there
/// `Measure::irregular` stands.
bool needs_irregular(const Score& score, std::size_t measure);
/// Sets `Measure::irregular` of every measure; every reader calls it.
void mark_irregular(Score& score);

/// True when a measure that is not a whole number of beats has its incomplete word first: a short
/// first measure, or the one after a repeat sign inside a bar.
bool fraction_comes_first(const Score& score, std::size_t measure);

/// The verse of the sung syllables of the flute part.
inline constexpr std::string_view kShogaVerse = "shoga";
/// Of "1", "2" … the number, of "shoga" a higher one; 0 for what names no verse.
int verse_rank(std::string_view name);

/// The verses that have syllables, in order: by number, then shoga.
std::vector<std::string> verses_in_use(const Score& score);

/// What is sung when a note is played for the `pass`-th time, from 1 on: the syllable of that
/// verse, else of the last before it, else the first. Shoga is none of these. Null for nothing.
const Syllable* sung_in_pass(const Note& note, int pass);

/// Gives the measures their printed numbers: 0 for a short first one, then counting up; the rest
/// of a bar that a repeat sign parts takes the number of its first half.
void number_measures(Score& score);
/// The number of a measure as printed; for one without, its place in the score, from 1 on.
std::string measure_name(const Score& score, std::size_t measure);

/// Moves every tone of the notes by whole octaves; false, and then nothing has moved, where one
/// would leave the keys that a score holds.
bool move_octaves(std::vector<Note>& notes, int octaves);

/// Moves the key of the header and every change of key by semitones, as moved_key() does.
void move_keys(Score& score, int semitones);

/// One spelling for what could stand in the header or at the very start of the music: meter, beat,
/// tempo, key and flute of the first measure's start go to the header. Every reader calls it.
void gather_start_into_header(Score& score);

/// The printed numbers of measures by their indices, as findings ask for them.
struct BarNumbers {
  const Score& score;  ///< must outlive this
  const std::string& operator()(std::size_t measure) const {
    return score.measures[measure].number;
  }
};

/// Where a diagnostic about a measure stands; nothing when its source is not known.
std::optional<base::SourceRange> place_of(const Measure& measure);

/// A report that names a measure.
base::Diagnostic report_measure(const base::Rule& rule, const Measure& measure, std::string message,
                                std::string hint = {});

}  // namespace yubifu::model
