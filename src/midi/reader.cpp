#include "midi/reader.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/message.h"
#include "midi/bar_layout.h"
#include "midi/bend_line.h"
#include "midi/findings.h"
#include "midi/lyric_reading.h"
#include "midi/melody_choice.h"
#include "midi/melody_line.h"
#include "midi/note_bends.h"
#include "midi/own_text.h"
#include "midi/quantiser.h"
#include "midi/rules.h"
#include "midi/scan.h"
#include "midi/score_building.h"
#include "midi/smf_bridge.h"
#include "midi/tempo_list.h"
#include "midi/tempo_walk.h"
#include "midi/tick_lattice.h"

namespace yubifu::midi {
namespace {

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

class Reader {
 public:
  explicit Reader(const MidiReadOptions& options) : options_(options) {}

  base::Outcome<model::Score> read(std::string_view bytes) {
    auto scanned = take(scan(bytes));
    if (!scanned) return failed();
    auto events = take(load(scanned->clean));
    if (!events || base::has_errors(result_.diagnostics)) return failed();
    time_ = to_musical_time(*scanned, *events);
    // Our own file whose times nobody has changed since: a program that changes them counts in
    // other ticks as a rule.
    const std::string ticks = fmt::format("{}", time_.ppq);
    exact_ = !options_.grid && has_own_text(scanned->metas, {kTicksText, ticks});
    const TextDecoder decoder(options_.charset, all_texts(*scanned));
    base::append(result_.diagnostics, decoder.diagnostics());
    const std::vector<PairedNote> paired = pair_notes(*events, scanned->track_ends);
    const TrackWords words{track_names(*scanned, decoder),
                           sung_ticks(scanned->metas, scanned->track_ends.size())};
    auto melody = take(choose_melody(paired, *events, words, time_.ppq, options_));
    if (!melody) return failed();
    const std::vector<PairedNote> line =
        melody_line(std::move(melody->notes), options_.line, time_.ppq,
                    exact_ ? FarNotes::kept : FarNotes::left_out, findings_);
    const std::vector<MetaEvent> sung = lyric_events(scanned->metas, melody->track);

    ScoreParts parts;
    parts.pitches = bent_pitches(line, bend_lines(*events)[melody->channel], time_.ppq, findings_);
    parts.lyric_kind = lyric_kind(scanned->metas);
    const bool own = parts.lyric_kind != LyricKind::words;
    parts.lyrics = join_lyrics(sung, own ? LyricSigns::none : LyricSigns::karaoke, line, time_.ppq,
                               decoder, findings_);
    parts.tempos = tempo_list(scanned->metas);
    parts.surroundings =
        read_surroundings(*scanned, listened(*scanned, paired, melody->track), sung, decoder);
    if (exact_) parts.places = DirectionPlaces::as_written;
    parts.fine_ppq = std::lcm(std::int64_t{time_.ppq}, kQuantiserTicks * options_.grid.value_or(1));
    parts.factor = parts.fine_ppq / time_.ppq;
    const std::vector<MeterSpan> meters = read_meters(*scanned, parts.factor, parts.fine_ppq);
    parts.notes = read_times(line, meters, parts);
    auto layout = take(lay_out_bars(meters, parts.notes, parts.fine_ppq));
    if (!layout) return failed();
    result_.value = build_score(parts, *layout, findings_);
    report(*layout, parts);
    return std::move(result_);
  }

 private:
  template <typename T>
  std::optional<T> take(base::Outcome<T> outcome) {
    base::append(result_.diagnostics, std::move(outcome.diagnostics));
    return std::move(outcome.value);
  }

  base::Outcome<model::Score> failed() { return {std::nullopt, std::move(result_.diagnostics)}; }

  static std::vector<bool> listened(const ScannedFile& file, const std::vector<PairedNote>& notes,
                                    std::uint16_t melody) {
    std::vector<bool> listened(file.track_ends.size(), true);
    for (const PairedNote& note : notes) listened[note.track] = false;
    listened[melody] = true;
    return listened;
  }

  static LyricKind lyric_kind(const std::vector<MetaEvent>& metas) {
    if (has_own_text(metas, kLyricsAreFingering)) return LyricKind::fingering;
    if (has_own_text(metas, kLyricsAreSong)) return LyricKind::song;
    return has_own_text(metas, kLyricsAreShoga) ? LyricKind::shoga : LyricKind::words;
  }

  std::vector<MeterSpan> read_meters(const ScannedFile& file, std::int64_t factor,
                                     std::int64_t fine_ppq) const {
    std::vector<Timed<model::Meter>> meters = meter_list(file.metas);
    for (auto& meter : meters) meter.tick *= factor;
    return meter_spans(meters, options_.meter, fine_ppq);
  }

  // Onsets and ends in fine ticks.
  std::vector<TickSpan> read_times(const std::vector<PairedNote>& line,
                                   const std::vector<MeterSpan>& meters, const ScoreParts& parts) {
    std::vector<TickSpan> raw;
    raw.reserve(line.size());
    for (const PairedNote& note : line) raw.push_back({note.begin, note.end});
    const TickLattice lattice(time_, parts.fine_ppq);
    if (!exact_) reading_ = options_.grid ? TimeReading::quantised : lattice.reading(raw);
    std::vector<TickSpan> plain;
    plain.reserve(raw.size());
    for (const TickSpan& note : raw) {
      plain.push_back({lattice.plain(note.begin), lattice.plain(note.end)});
    }
    if (exact_) {
      cut_overlaps(plain);
      return plain;
    }
    std::vector<Timed<std::uint32_t>> tempos = parts.tempos;
    for (auto& tempo : tempos) tempo.tick *= parts.factor;
    const QuantiserTime time{meters, tempos, parts.fine_ppq, options_.grid};
    std::vector<TickSpan> read = plain;
    if (reading_ == TimeReading::quantised) {
      if (!can_be_quantised(plain, time)) {
        findings_.add(
            rule::too_dense, line.front().begin,
            base::message("a beat has too many notes for any rhythm: all times stay as they are"));
        cut_overlaps(plain);
        return plain;
      }
      read = quantise(plain, time);
    } else {
      for (std::size_t i = 0; i < raw.size(); ++i) {
        read[i] = {lattice.snapped(raw[i].begin), lattice.snapped(raw[i].end)};
      }
      cut_overlaps(read);
      if (!is_in_order(read)) {
        read = plain;
        cut_overlaps(read);
      }
      if (reading_ == TimeReading::ends_quantised) read = quantise_ends(read, time);
    }
    measure_shift(plain, read, time);
    return read;
  }

  void measure_shift(const std::vector<TickSpan>& plain, const std::vector<TickSpan>& read,
                     const QuantiserTime& time) {
    TempoWalk tempo(time.tempos, time.ppq);
    for (std::size_t i = 0; i < plain.size(); ++i) {
      const auto ticks = static_cast<double>(std::abs(read[i].begin - plain[i].begin));
      const double milliseconds = ticks * tempo.milliseconds_per_tick(plain[i].begin);
      if (milliseconds <= largest_shift_) continue;
      largest_shift_ = milliseconds;
      shifted_to_ = read[i].begin;
    }
  }

  void report(const BarLayout& layout, const ScoreParts& parts) {
    const auto bar_at = [&](std::int64_t fine_tick) {
      return result_.value->measures[layout.place(fine_tick).measure].number;
    };
    if (reading_ == TimeReading::quantised) {
      result_.diagnostics.push_back(base::report(
          rule::quantised, {},
          base::message("the notes do not sit on a grid and were moved to the nearest divisions "
                        "of their beats: at most by {:.0f} ms, in bar {}",
                        largest_shift_, bar_at(shifted_to_))));
    } else if (reading_ == TimeReading::ends_quantised) {
      result_.diagnostics.push_back(base::report(
          rule::quantised, {},
          base::message("the ends of notes do not sit on a grid: gaps shorter than a sixteenth "
                        "were closed, and other ends moved to a simple part of the beat")));
    }
    base::append(result_.diagnostics, findings_.diagnostics([&](std::int64_t tick) {
      return bar_at(tick * parts.factor);
    }));
  }

  const MidiReadOptions& options_;
  base::Outcome<model::Score> result_;
  Findings findings_;
  MusicalTime time_;
  bool exact_ = false;  ///< all times are known to be meant as they stand
  TimeReading reading_ = TimeReading::exact;
  double largest_shift_ = 0;  ///< of an onset, in milliseconds
  std::int64_t shifted_to_ = 0;
};

base::Diagnostics check_options(const MidiReadOptions& options) {
  const bool good = !options.grid || (*options.grid >= 1 && *options.grid <= kFinestGrid);
  if (good) return {};
  return {base::report(rule::grid_option, {},
                       base::message("the grid is {} parts of a quarter note; it may be 1 to {}",
                                     *options.grid, kFinestGrid))};
}

}  // namespace

base::Outcome<model::Score> read_midi(std::string_view bytes, const MidiReadOptions& options) {
  if (auto wrong = check_options(options); !wrong.empty()) return {std::nullopt, std::move(wrong)};
  return Reader(options).read(bytes);
}

}  // namespace yubifu::midi
