// When the notes of a file begin and end: as it says, or as they were meant by a person who played
// them, late perhaps, and perhaps not by the clock of the file.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "midi/read/bars.h"
#include "midi/read/reader.h"
#include "midi/read/tempos.h"
#include "midi/smf/events.h"

namespace yubifu::midi {

/// Where a tick of the file stands. A tick on which a note began goes where the note went; others
/// lie between the beats that were played, or where the file has them.
class TickMap {
 public:
  /// A tick of the file, not rounded, and its place in fine ticks.
  struct Pin {
    double file = 0;
    std::int64_t fine = 0;
  };

  /// Each tick of the file is `factor` fine ones. With pins, at least two and rising, what lies
  /// between and beyond them is moved with them; nothing goes before 0.
  explicit TickMap(std::int64_t factor, std::vector<Pin> pins = {})
      : factor_(factor), pins_(std::move(pins)) {}

  /// `file` and `fine` are the times of the notes, in order.
  void follow(const std::vector<TickSpan>& file, const std::vector<TickSpan>& fine) {
    for (std::size_t i = 0; i < file.size(); ++i) notes_[file[i].begin] = fine[i].begin;
  }

  std::int64_t operator()(std::int64_t file) const {
    const auto note = notes_.find(file);
    return note == notes_.end() ? between(file) : note->second;
  }

  /// Without looking at the notes.
  std::int64_t between(std::int64_t file) const {
    if (pins_.empty()) return file * factor_;
    const auto at = static_cast<double>(file);
    const auto [a, b] = around([&](const Pin& pin) { return pin.file <= at; });
    const double slope = static_cast<double>(b.fine - a.fine) / (b.file - a.file);
    return std::max<std::int64_t>(0, a.fine + std::llround((at - a.file) * slope));
  }

  /// The tick of the file at a place, for messages.
  std::int64_t file_tick(std::int64_t fine) const {
    if (pins_.empty()) return fine / factor_;
    const auto [a, b] = around([&](const Pin& pin) { return pin.fine <= fine; });
    const double slope = (b.file - a.file) / static_cast<double>(b.fine - a.fine);
    return std::llround(a.file + static_cast<double>(fine - a.fine) * slope);
  }

 private:
  template <typename Before>
  std::pair<Pin, Pin> around(Before before) const {
    const auto after = std::partition_point(pins_.begin(), pins_.end(), before);
    const auto right = std::clamp(after, pins_.begin() + 1, pins_.end() - 1);
    return {*(right - 1), *right};
  }

  std::int64_t factor_;
  std::vector<Pin> pins_;
  std::map<std::int64_t, std::int64_t> notes_;
};

/// How the times of a file are read.
enum class TimeReading {
  meant,           ///< to the tick: our own file, which nobody has changed
  exact,           ///< onsets and ends say what they mean, but for what the ticks had to round
  ends_quantised,  ///< onsets do, ends do not
  quantised,       ///< played by a person
  too_dense,       ///< played too densely for any rhythm, and left as it is
};

/// The notes and the clock of a file, in its ticks.
struct RawTimes {
  std::vector<TickSpan> notes;  ///< in order, each beginning later than the one before
  FileClock clock;
  std::vector<Timed<model::Meter>> meters;
  bool meant = false;  ///< our own file, which nobody has changed
};

/// The same on the line of the score, in fine ticks.
struct NoteTimes {
  std::vector<TickSpan> notes;  ///< without overlaps
  std::vector<Timed<std::uint32_t>> tempos;
  std::vector<Bar> meters;
  std::int64_t fine_ppq = 0;
  TickMap place{1};  ///< of everything else
  TimeReading reading = TimeReading::exact;
  bool retimed = false;         ///< bars and tempos follow the playing
  base::Diagnostics told;       ///< about lateness and tempo
  double largest_shift = 0;     ///< of an onset, in milliseconds,
  std::int64_t shifted_to = 0;  ///< and where it went
};

/// A constant lateness is taken away first; it is found, or that of the options. Where the clock of
/// the file explains the onsets clearly worse than another tempo, or a tempo is asked for, bars and
/// tempos are made by what was played, whose real time stays. Then onsets on a grid are kept, where
/// nine tenths of the quarter notes with onsets divide into at most sixteen equal parts at which
/// they stand, parts of at least four ticks; others are quantised. Fails where a lateness that was
/// asked for would put the first note before the start.
base::Outcome<NoteTimes> read_times(const RawTimes& raw, const MidiReadOptions& options);

}  // namespace yubifu::midi
