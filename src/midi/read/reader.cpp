#include "midi/read/reader.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/findings.h"
#include "base/message.h"
#include "midi/own_text.h"
#include "midi/read/bars.h"
#include "midi/read/melody.h"
#include "midi/read/note_times.h"
#include "midi/read/notes.h"
#include "midi/read/rules.h"
#include "midi/read/score_building.h"
#include "midi/read/tempos.h"
#include "midi/read/texts.h"
#include "midi/smf/events.h"
#include "midi/smf/scan.h"
#include "midi/smf/smf_bridge.h"
#include "model/rhythm_tree.h"

namespace yubifu::midi {
namespace {

constexpr int kReadableDepth = 2;          // groups inside each other
constexpr std::size_t kDeepBarsInTen = 1;  // that are not worth a word

// Halves and quarters of beats are never divided more deeply.
bool may_be_deep(const model::Score& score, std::size_t measure, const model::BarContent& content) {
  const model::Rational beat = score.measures[measure].beat;
  return std::any_of(content.spans.begin(), content.spans.end(), [&](const model::BarSpan& span) {
    const std::int64_t parts = (span.begin / beat).denominator();
    return parts > 4 || parts == 3;
  });
}

int depth_of(const std::vector<model::RhythmWord>& words) {
  int depth = 0;
  for (const model::RhythmWord& word : words) {
    if (word.is_group()) depth = std::max(depth, 1 + depth_of(word.parts));
  }
  return depth;
}

// How many bars need groups in groups in groups.
std::size_t deep_bars(const model::Score& score) {
  std::size_t deep = 0;
  const std::vector<model::BarContent> contents = bar_contents(score);
  for (std::size_t i = 0; i < contents.size(); ++i) {
    if (!may_be_deep(score, i, contents[i])) continue;
    try {
      if (depth_of(rhythm_words(score, i, contents[i])) > kReadableDepth) ++deep;
    } catch (const model::DivisionTooFine&) {
      ++deep;
    }
  }
  return deep;
}

// "bars 3, 5: a note is left out (7 times)".
std::string bars_first(const base::Finding& finding) {
  const std::string times =
      finding.count == 1 ? std::string() : base::message(" ({} times)", finding.count);
  return fmt::format("{}: {}{}", base::bar_list(finding.told.measures), finding.told.message,
                     times);
}

class Reader {
 public:
  explicit Reader(const MidiReadOptions& options) : options_(options) {}

  base::Outcome<model::Score> read(std::string_view bytes) {
    auto scanned = take(scan(bytes));
    if (!scanned) return finished();
    auto events = take(load(scanned->clean));
    if (events && options_.scrutiny == Scrutiny::whole_file) bent_ = unreset_bends(*events);
    if (!events || base::has_errors(result_.diagnostics)) return finished();
    time_ = to_musical_time(*scanned, *events);
    // Our own file whose times nobody has changed since: a program that changes them counts in
    // other ticks as a rule.
    const std::string ticks = fmt::format("{}", time_.ppq);
    exact_ = !options_.grid && has_own_text(scanned->metas, {kTicksText, ticks});
    const TextDecoder decoder(options_.charset, all_texts(*scanned));
    base::append(result_.diagnostics, decoder.diagnostics());
    const std::vector<PairedNote> paired = pair_notes(*events, scanned->track_ends);
    const std::vector<MetaEvent> sung_by_all = sung_events(scanned->metas);
    TrackWords words{track_names(*scanned, decoder), {}};
    words.sung.resize(words.names.size());
    for (const MetaEvent& meta : sung_by_all) words.sung[meta.track].push_back(meta.tick);
    auto melody = take(choose_melody(paired, *events, words, time_.ppq, options_));
    if (!melody) return finished();
    const std::vector<PairedNote> line =
        melody_line(std::move(melody->notes), options_.line, time_.ppq,
                    exact_ ? FarNotes::kept : FarNotes::left_out, findings_);
    const std::vector<MetaEvent> sung = of_best_track(sung_by_all, melody->track);

    ScoreParts parts;
    parts.pitches = bent_pitches(line, bend_lines(*events)[melody->channel], time_.ppq, findings_);
    parts.lyric_kind = lyric_kind(scanned->metas);
    const bool own = parts.lyric_kind != LyricKind::words;
    parts.lyrics = join_lyrics(sung, own ? LyricSigns::none : LyricSigns::karaoke, line, time_.ppq,
                               decoder, findings_);
    parts.surroundings =
        read_surroundings(*scanned, listened(*scanned, paired, melody->track), sung, decoder);
    if (exact_) parts.places = DirectionPlaces::as_written;
    RawTimes raw{{}, {time_, tempo_list(scanned->metas)}, meter_list(scanned->metas), exact_};
    for (const PairedNote& note : line) raw.notes.push_back({note.begin, note.end});
    auto times = take(read_times(raw, options_));
    if (!times) return finished();
    parts.times = &*times;
    tell_double_tempos(scanned->metas);
    auto layout = take(lay_out_bars(times->meters, times->notes, times->fine_ppq));
    if (!layout) return finished();
    result_.value = build_score(parts, *layout, findings_);
    report(*layout, *times);
    return finished();
  }

 private:
  template <typename T>
  std::optional<T> take(base::Outcome<T> outcome) {
    base::append(result_.diagnostics, std::move(outcome.diagnostics));
    return std::move(outcome.value);
  }

  base::Outcome<model::Score> finished() {
    base::append(result_.diagnostics, std::move(bent_));
    return std::move(result_);
  }

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

  // Of several tempos at one tick the last counts.
  void tell_double_tempos(const std::vector<MetaEvent>& metas) {
    std::map<std::int64_t, std::set<std::string_view>> tempos;
    for (const MetaEvent& meta : metas) {
      if (meta.type == kTempo) tempos[meta.tick].insert(meta.data);
    }
    for (const auto& [tick, values] : tempos) {
      if (values.size() < 2) continue;
      findings_.add(
          base::report(rule::double_tempo, {},
                       base::message("several tempos stand on one tick: the last one counts")),
          tick);
    }
  }

  void report(const BarLayout& layout, NoteTimes& times) {
    const auto bar_at = [&](std::int64_t fine_tick) {
      return result_.value->measures[layout.place(fine_tick).measure].number;
    };
    base::append(result_.diagnostics, std::move(times.told));
    if (times.reading == TimeReading::quantised) {
      result_.diagnostics.push_back(base::report(
          rule::quantised, {},
          base::message("the notes do not sit on a grid and were moved to the nearest divisions "
                        "of their beats: at most by {:.0f} ms, in bar {}",
                        times.largest_shift, bar_at(times.shifted_to))));
    } else if (times.reading == TimeReading::ends_quantised) {
      result_.diagnostics.push_back(base::report(
          rule::quantised, {},
          base::message("the ends of notes do not sit on a grid: gaps shorter than a sixteenth "
                        "were closed, and other ends moved to a simple part of the beat")));
    } else if (times.reading == TimeReading::too_dense) {
      findings_.add(
          base::report(rule::too_dense, {},
                       base::message(
                           "a beat has too many notes for any rhythm: all times stay as they are")),
          times.place.file_tick(times.notes.front().begin));
    }
    base::append(
        result_.diagnostics,
        findings_.diagnostics(
            [&](base::Place tick) { return bar_at(times.place(static_cast<std::int64_t>(tick))); },
            bars_first));
    if (!exact_) tell_deep_bars(times);
  }

  // Rhythm that hardly anybody can read is as a rule no rhythm that was meant.
  void tell_deep_bars(const NoteTimes& times) {
    const std::size_t bars = result_.value->measures.size();
    const std::size_t deep = deep_bars(*result_.value);
    if (deep * 10 <= bars * kDeepBarsInTen) return;
    const bool clock_of_file = times.reading == TimeReading::quantised && !times.retimed;
    result_.diagnostics.push_back(base::report(
        rule::deep_rhythm, {},
        base::message("{} of {} bars need groups inside groups inside groups", deep, bars),
        clock_of_file && !options_.grid
            ? base::message("--played-tempo BPM helps where it was played freely, --grid 4 moves "
                            "the notes to sixteenths")
            : base::message("--grid 4 moves the notes to sixteenths, --grid 12 also to triplets")));
  }

  const MidiReadOptions& options_;
  base::Outcome<model::Score> result_;
  base::Findings findings_;
  base::Diagnostics bent_;  ///< told last
  MusicalTime time_;
  bool exact_ = false;  ///< all times are known to be meant as they stand
};

base::Diagnostics check_options(const MidiReadOptions& options) {
  base::Diagnostics wrong;
  if (options.grid && (*options.grid < 1 || *options.grid > kFinestGrid)) {
    wrong.push_back(
        base::report(rule::grid_option, {},
                     base::message("the grid is {} parts of a quarter note; it may be 1 to {}",
                                   *options.grid, kFinestGrid)));
  }
  const auto& tempo = options.played_tempo;
  if (tempo && (*tempo < kSlowestPlayed || *tempo > kFastestPlayed)) {
    wrong.push_back(base::report(
        rule::played_tempo_option, {},
        base::message("the tempo that was played is {} beats a minute; it may be {} to {}", *tempo,
                      kSlowestPlayed, kFastestPlayed)));
  }
  return wrong;
}

}  // namespace

base::Outcome<model::Score> read_midi(std::string_view bytes, const MidiReadOptions& options) {
  if (auto wrong = check_options(options); !wrong.empty()) return {std::nullopt, std::move(wrong)};
  return Reader(options).read(bytes);
}

}  // namespace yubifu::midi
