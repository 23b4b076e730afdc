#include "midi/read/note_times.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <utility>

#include "base/message.h"
#include "midi/read/played_clock.h"
#include "midi/read/quantiser.h"
#include "midi/read/rules.h"
#include "midi/read/tempos.h"

namespace yubifu::midi {
namespace {

constexpr std::int64_t kSimpleParts = 16;
constexpr std::int64_t kTicksInPart = 4;
constexpr double kShareOnGrid = 0.9;

constexpr double kSameTempo = 0.06;    // within this the bars of the file are those of the player
constexpr double kTempoChange = 0.03;  // what is written as a new tempo

// Divisions that a file's ticks may have to round, simplest first.
constexpr std::array<std::int64_t, 12> kRoundedParts{1, 2, 3, 4, 6, 8, 12, 5, 16, 24, 7, 9};

struct Place {
  std::int64_t numerator = 0;
  std::int64_t parts = 1;
};

// The simple part of the quarter note that a tick, counted from the quarter's start, stands for.
Place place_of(std::int64_t offset, const MusicalTime& time) {
  const std::int64_t common = std::gcd(offset, std::int64_t{time.ppq});
  const Place exact{offset / common, time.ppq / common};
  if (exact.parts <= kSimpleParts && time.slack == 0) return exact;
  for (const std::int64_t parts : kRoundedParts) {
    // A division that the ticks hold exactly is never rounded, another one by less than a tick.
    if (time.ppq % parts == 0 && time.slack == 0) continue;
    const double place = static_cast<double>(offset * parts) / time.ppq;
    const double nearest = std::round(place);
    const double away = std::abs(place - nearest) * time.ppq / static_cast<double>(parts);
    if (away < std::max(1.0, time.slack)) return {static_cast<std::int64_t>(nearest), parts};
  }
  return exact;
}

// A tick in finer ones, in which a division that the file could only round has its exact place.
std::int64_t snapped(std::int64_t tick, const MusicalTime& time, std::int64_t fine_ppq) {
  const Place place = place_of(tick % time.ppq, time);
  return tick / time.ppq * fine_ppq + place.numerator * fine_ppq / place.parts;
}

// Many programs end every note a little early, so that the next one is heard to begin. Nobody
// writes a short rest after each note (our choice: nine in ten, of four or more).
bool are_shortened(const std::vector<TickSpan>& notes, int ppq) {
  constexpr std::size_t kFewest = 4;
  std::size_t close = 0;
  std::size_t parted = 0;
  for (std::size_t i = 0; i + 1 < notes.size(); ++i) {
    const std::int64_t gap = notes[i + 1].begin - notes[i].end;
    if (gap >= ppq / kJoinParts) continue;
    ++close;
    if (gap > 0) ++parted;
  }
  return parted >= kFewest &&
         static_cast<double>(parted) >= kShareOnGrid * static_cast<double>(close);
}

bool sit_on_grid(const std::vector<TickSpan>& notes, std::int64_t TickSpan::*tick,
                 const MusicalTime& time) {
  const std::int64_t most = std::clamp<std::int64_t>(time.ppq / kTicksInPart, 1, kSimpleParts);
  std::size_t quarters = 0;
  std::size_t simple = 0;
  for (std::size_t i = 0; i < notes.size();) {
    const std::int64_t quarter = notes[i].*tick / time.ppq;
    std::int64_t parts = 1;
    for (; i < notes.size() && notes[i].*tick / time.ppq == quarter; ++i) {
      if (parts <= most) parts = std::lcm(parts, place_of(notes[i].*tick % time.ppq, time).parts);
    }
    ++quarters;
    if (parts <= most) ++simple;
  }
  return static_cast<double>(simple) >= kShareOnGrid * static_cast<double>(quarters);
}

TimeReading reading_of(const std::vector<TickSpan>& notes, const MusicalTime& time) {
  if (!sit_on_grid(notes, &TickSpan::begin, time)) return TimeReading::quantised;
  const bool meant = sit_on_grid(notes, &TickSpan::end, time) && !are_shortened(notes, time.ppq);
  return meant ? TimeReading::exact : TimeReading::ends_quantised;
}

// Later steps rely on this order; two ticks of a coarse file may round to one place.
bool is_in_order(const std::vector<TickSpan>& notes) {
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (notes[i].end <= notes[i].begin) return false;
    if (i > 0 && notes[i].begin < notes[i - 1].end) return false;
  }
  return true;
}

// A note ends where the next one begins.
void cut_overlaps(std::vector<TickSpan>& notes) {
  for (std::size_t i = 0; i + 1 < notes.size(); ++i) {
    notes[i].end = std::min(notes[i].end, notes[i + 1].begin);
  }
}

// A note at 0 was there before the file began, if the others are early. No two begin together.
void move_earlier(std::vector<TickSpan>& notes, std::int64_t late) {
  std::int64_t free_from = 0;
  for (TickSpan& note : notes) {
    if (note.begin != 0) note.begin -= late;
    note.begin = std::max(note.begin, free_from);
    note.end = std::max(note.end - late, note.begin + 1);
    free_from = note.begin + 1;
  }
}

class TimeReader {
 public:
  TimeReader(const RawTimes& raw, const MidiReadOptions& options) : raw_(raw), options_(options) {}

  base::Outcome<NoteTimes> read() {
    times_.fine_ppq = std::lcm(std::int64_t{ppq()}, kQuantiserTicks * options_.grid.value_or(1));
    factor_ = times_.fine_ppq / ppq();
    times_.place = TickMap(factor_);
    place_meters(1);
    times_.tempos = raw_.clock.tempos;
    for (auto& tempo : times_.tempos) tempo.tick *= factor_;
    if (auto wrong = find_lateness(); !wrong.empty()) return {std::nullopt, std::move(wrong)};
    take_played_beats();
    leave_lateness_out();
    place_notes();
    times_.place.follow(raw_.notes, times_.notes);
    return {std::move(times_), {}};
  }

 private:
  int ppq() const { return raw_.clock.time.ppq; }
  bool on_grid(const std::vector<TickSpan>& notes) const {
    return sit_on_grid(notes, &TickSpan::begin, raw_.clock.time);
  }

  base::Diagnostics find_lateness() {
    if (options_.offset) {
      const std::int64_t late = std::llround(options_.offset->as_double() * ppq());
      const std::int64_t first = raw_.notes.front().begin;
      // The first note itself may be early by chance, but not all of it.
      if (late > first + ppq() / 2) {
        return {base::report(
            rule::offset_option, {},
            base::message("the first note begins {:.3g} quarter notes after the start of the file: "
                          "the notes cannot be {:.3g} late",
                          static_cast<double>(first) / ppq(), options_.offset->as_double()))};
      }
      move_earlier(played_, late);
      return {};
    }
    if (raw_.meant || options_.played_tempo) return {};
    late_ = constant_lateness(played_, raw_.clock,
                              on_grid(played_) ? OnsetGrid::fine : OnsetGrid::none);
    return {};
  }

  void leave_lateness_out() {
    if (late_ == 0 || times_.retimed) return;
    move_earlier(played_, late_);
    const double quarters = static_cast<double>(std::abs(late_)) / ppq();
    times_.told.push_back(base::report(
        rule::constant_offset, {},
        late_ > 0 ? base::message("every note comes {:.3g} of a quarter note late: this was taken "
                                  "away",
                                  quarters)
                  : base::message("every note comes {:.3g} of a quarter note early: this was taken "
                                  "away",
                                  quarters),
        base::message("--offset 0 leaves the times as they are")));
  }

  // The beats that were played become those of the score.
  void take_played_beats() {
    const bool asked = options_.played_tempo.has_value();
    if (!asked) {
      if (raw_.meant || options_.offset) return;
      // A file that changes its tempo or its meter counts in music already.
      if (raw_.clock.tempos.size() > 1 || times_.meters.size() > 1) return;
      std::vector<TickSpan> on_time = played_;
      move_earlier(on_time, late_);
      if (on_grid(on_time)) return;
    }
    const Beat beat = beat_at(times_.meters, times_.fine_ppq, 0);
    const double quarters = static_cast<double>(beat.length) / static_cast<double>(times_.fine_ppq);
    const Pulse pulse{beat.compound, quarters, options_.played_tempo};
    const auto found = played_beats(played_, raw_.clock, pulse, late_);
    if (!found) return;
    times_.retimed = true;
    retime(*found, beat);
    // What was meant is a better measure of the beats than what was played.
    const std::vector<TickSpan> plain = in_fine_ticks();
    const QuantiserTime time{times_.meters, times_.tempos, times_.fine_ppq, std::nullopt};
    if (can_be_quantised(plain, time)) {
      std::vector<double> places;
      for (const TickSpan& note : quantise(plain, time)) {
        places.push_back(static_cast<double>(note.begin) / static_cast<double>(beat.length));
      }
      retime(beats_through(places, played_, raw_.clock), beat);
    }
    if (!asked) tell_tempo(beat);
  }

  void retime(const std::vector<PlayedBeat>& beats, const Beat& beat) {
    std::vector<TickMap::Pin> pins;
    silent_ = silent_beats(beats, beat);
    std::int64_t fine = silent_ * beat.length;
    if (fine > 0) pins.push_back({0, 0});
    for (const PlayedBeat& played : beats) {
      pins.push_back({played.tick, fine});
      fine += beat.length;
    }
    times_.place = TickMap(factor_, std::move(pins));
    place_meters(beat.length);
    retime_tempos(beats, beat);
  }

  // On multiples of `unit`.
  void place_meters(std::int64_t unit) {
    std::vector<Timed<model::Meter>> meters = raw_.meters;
    for (auto& meter : meters) meter.tick = (times_.place(meter.tick) + unit / 2) / unit * unit;
    times_.meters = meter_spans(meters, options_.meter, times_.fine_ppq);
  }

  // Before the first note. Nearly in the tempo of the file, they are those that the file counts;
  // otherwise the first note begins a bar.
  std::int64_t silent_beats(const std::vector<PlayedBeat>& beats, const Beat& beat) const {
    const double period = beats[1].milliseconds - beats[0].milliseconds;
    const double lead = std::max(0.0, beats[0].milliseconds / period);
    const double file_beat = beat_milliseconds(beat, raw_.clock.tempos.front().value);
    const std::int64_t bar = std::max<std::int64_t>(1, times_.meters.front().length / beat.length);
    if (std::abs(period / file_beat - 1) < kSameTempo || times_.meters.front().length == 0) {
      return std::llround(lead);
    }
    return std::llround(lead / static_cast<double>(bar)) * bar;
  }

  double beat_milliseconds(const Beat& beat, double microseconds) const {
    return microseconds / 1000 * static_cast<double>(beat.length) /
           static_cast<double>(times_.fine_ppq);
  }

  // A new tempo stands only where the playing is some per cent away from the last one, at the start
  // of a bar; each is the mean of its bars, in whole numbers.
  void retime_tempos(const std::vector<PlayedBeat>& beats, const Beat& beat) {
    const std::size_t bar = std::max<std::size_t>(
        1, static_cast<std::size_t>(times_.meters.front().length / beat.length));
    const auto last = beats.size() - 1;
    const auto mean = [&](std::size_t from, std::size_t to) {
      return 60'000 * static_cast<double>(to - from) /
             (beats[to].milliseconds - beats[from].milliseconds);
    };
    std::vector<std::size_t> starts{0};
    for (std::size_t at = bar - static_cast<std::size_t>(silent_) % bar; at + bar <= last;
         at += bar) {
      const std::size_t from = starts.back();
      const double local = mean(at, std::min(at + 2 * bar, last));
      const double before = mean(from, std::min(from + 4 * bar, at));
      if (std::abs(local / before - 1) > kTempoChange) starts.push_back(at);
    }
    times_.tempos.clear();
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const double tempo =
          std::round(mean(starts[i], i + 1 < starts.size() ? starts[i + 1] : last));
      const std::int64_t tick =
          i == 0 ? 0 : (silent_ + static_cast<std::int64_t>(starts[i])) * beat.length;
      const double quarter =
          60e6 / tempo * static_cast<double>(times_.fine_ppq) / static_cast<double>(beat.length);
      times_.tempos.push_back({tick, static_cast<std::uint32_t>(std::lround(quarter))});
    }
  }

  void tell_tempo(const Beat& beat) {
    const auto tempo = [&](std::uint32_t microseconds) {
      return 60'000 / beat_milliseconds(beat, microseconds);
    };
    const auto [fastest, slowest] =
        std::minmax_element(times_.tempos.begin(), times_.tempos.end(),
                            [](const auto& a, const auto& b) { return a.value < b.value; });
    const std::string played = slowest->value == fastest->value
                                   ? base::message("{:.0f} beats a minute", tempo(slowest->value))
                                   : base::message("{:.0f} to {:.0f} beats a minute",
                                                   tempo(slowest->value), tempo(fastest->value));
    times_.told.push_back(base::report(
        rule::played_tempo, {},
        base::message("the notes were played at about {}, and the file says {:.4g}: bars and tempo "
                      "are those of the playing",
                      played, tempo(raw_.clock.tempos.front().value)),
        base::message("--played-tempo BPM sets another tempo, --offset 0 keeps the clock of the "
                      "file")));
  }

  std::vector<TickSpan> in_fine_ticks() const {
    std::vector<TickSpan> plain;
    plain.reserve(played_.size());
    for (const TickSpan& note : played_) {
      plain.push_back({times_.place.between(note.begin), times_.place.between(note.end)});
    }
    // Before the first beat there is no time for several notes.
    if (times_.retimed) move_earlier(plain, 0);
    return plain;
  }

  void place_notes() {
    const std::vector<TickSpan> plain = in_fine_ticks();
    const QuantiserTime time{times_.meters, times_.tempos, times_.fine_ppq, options_.grid};
    times_.reading = raw_.meant && !times_.retimed     ? TimeReading::meant
                     : options_.grid || times_.retimed ? TimeReading::quantised
                                                       : reading_of(played_, raw_.clock.time);
    if (times_.reading == TimeReading::quantised && !can_be_quantised(plain, time)) {
      times_.reading = TimeReading::too_dense;
    }
    if (times_.reading == TimeReading::quantised) {
      times_.notes = quantise(plain, time);
    } else {
      times_.notes = plain;
      const bool ends = times_.reading == TimeReading::ends_quantised;
      if (ends || times_.reading == TimeReading::exact) {
        for (std::size_t i = 0; i < played_.size(); ++i) {
          times_.notes[i] = {snapped(played_[i].begin, raw_.clock.time, times_.fine_ppq),
                             snapped(played_[i].end, raw_.clock.time, times_.fine_ppq)};
        }
        cut_overlaps(times_.notes);
        if (!is_in_order(times_.notes)) times_.notes = plain;
      }
      cut_overlaps(times_.notes);
      if (ends) times_.notes = quantise_ends(times_.notes, time);
    }
    measure_shift(plain, time);
  }

  void measure_shift(const std::vector<TickSpan>& plain, const QuantiserTime& time) {
    for (std::size_t i = 0; i < plain.size(); ++i) {
      const auto ticks = static_cast<double>(std::abs(times_.notes[i].begin - plain[i].begin));
      const double milliseconds =
          ticks * milliseconds_per_tick(time.tempos, time.ppq, plain[i].begin);
      if (milliseconds <= times_.largest_shift) continue;
      times_.largest_shift = milliseconds;
      times_.shifted_to = times_.notes[i].begin;
    }
  }

  const RawTimes& raw_;
  const MidiReadOptions& options_;
  std::vector<TickSpan> played_ = raw_.notes;  // without the lateness
  std::int64_t late_ = 0;                      // in ticks, as found
  std::int64_t silent_ = 0;                    // beats before the first one that was played
  std::int64_t factor_ = 1;
  NoteTimes times_;
};

}  // namespace

base::Outcome<NoteTimes> read_times(const RawTimes& raw, const MidiReadOptions& options) {
  return TimeReader(raw, options).read();
}

}  // namespace yubifu::midi
