#include "midi/read/reader.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
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
#include "midi/read/tempos.h"
#include "midi/read/texts.h"
#include "midi/smf/events.h"
#include "midi/smf/scan.h"
#include "midi/smf/smf_bridge.h"
#include "model/pitch.h"
#include "model/rhythm_tree.h"

namespace yubifu::midi {
namespace {

// What the score is made of, in ticks of the file.
struct ScoreParts {
  std::vector<BentPitch> pitches;   // one a note
  std::vector<std::string> lyrics;  // one a note, empty where nothing is sung
  Surroundings surroundings;
  Lyrics lyric_kind = Lyrics::none;
  bool meant = false;  // directions stand where the file has them, not on notes and sixteenths
};

constexpr int kSimplePlaceParts = 4;  // of a quarter note: where a direction may stand

bool set_beat(const std::string& text, model::Score& score) {
  const auto beat = model::parse_beat(text);
  const model::Meter meter = score.measures.front().meter;
  if (!beat || !divides(*beat, meter)) return false;
  for (model::Measure& measure : score.measures) {
    if (measure.meter != meter) break;
    measure.beat = *beat;
  }
  return true;
}

// Sets title, rights and the fields that this program kept. A field that cannot be read is kept as
// an unknown one. `beat` goes to the measures up to the first change of meter.
void set_header_fields(const Surroundings& surroundings, model::Score& score) {
  score.header.title = surroundings.title;
  score.header.rights = surroundings.rights;
  for (const auto& field : surroundings.own_fields) {
    const auto& [word, text] = field.value;
    const bool of_the_file = word == kTicksText || word == kLyricsText || word == kMeterText;
    if (of_the_file || field.tick > 0) continue;
    const auto key = model::header_key(word, kKeptFields);
    const bool is_set =
        key && (*key == model::HeaderKey::beat ? set_beat(text, score)
                                               : model::set_field(score.header, *key, text));
    if (!is_set) score.header.unknown.push_back(field.value);
  }
}

// Directions that may not stand where they do go to the nearest quarter note of their bar; texts
// and markers behind the music are left out. Both are found.
class ScoreBuilder {
 public:
  ScoreBuilder(const ScoreParts& parts, const NoteTimes& times, const std::vector<Bar>& bars,
               base::Findings& findings)
      : parts_(parts), times_(times), bars_(bars), findings_(findings) {}

  model::Score build() {
    for (const Bar& bar : bars_) {
      model::Measure& measure = score_.measures.emplace_back();
      measure.length = quarters(bar.length);
      measure.meter = bar.meter;
      measure.beat = default_beat(bar.meter);
    }
    score_.measures.back().right = model::BarStyle::final;
    set_header_fields(parts_.surroundings, score_);
    notes();
    if (parts_.lyric_kind == Lyrics::fingering) {
      fingerings();
    } else {
      syllables();
    }
    tempos();
    for (const auto& key : parts_.surroundings.keys) {
      add(times_.place(key.tick), model::KeyChange{key.value});
    }
    flutes();
    texts();
    place_directions();
    mark_irregular(score_);
    number_measures(score_);
    gather_start_into_header(score_);
    return std::move(score_);
  }

 private:
  void notes() {
    score_.notes.resize(times_.notes.size());
    const auto& keys = parts_.surroundings.keys;
    const double tuning = tuning_cents(score_.header);
    std::size_t measure = 0;
    std::size_t key = 0;
    for (std::size_t i = 0; i < times_.notes.size(); ++i) {
      const TickSpan& time = times_.notes[i];
      while (measure + 1 < bars_.size() && bars_[measure + 1].begin <= time.begin) ++measure;
      while (key < keys.size() && times_.place(keys[key].tick) <= time.begin) ++key;
      model::Note& note = score_.notes[i];
      note.measure = measure;
      note.onset = quarters(time.begin - bars_[measure].begin);
      note.duration = quarters(time.end - time.begin);
      note.tone.pitch = model::pitch_at(parts_.pitches[i].total_cents - tuning);
      if (!keys.empty()) {
        const model::Key in_force = key == 0 ? keys.front().value : keys[key - 1].value;
        note.tone.spelling = spell_in_key(note.tone.pitch->key, in_force);
      }
      if (parts_.pitches[i].leaving == Leaving::slides_to_next && i + 1 < times_.notes.size()) {
        note.marks.push_back(model::Mark::suri);
      }
    }
  }

  void fingerings() {
    for (std::size_t i = 0; i < score_.notes.size(); ++i) {
      const std::string& lyric = parts_.lyrics[i];
      if (lyric.empty()) continue;
      score_.notes[i].tone.fingering = model::parse_printed_of_any_flute(one_line_of(lyric));
      if (!score_.notes[i].tone.fingering) {
        findings_.add(
            base::report(rule::lyric_no_sign, {},
                         base::message("a lyric is no sign of any flute: only the pitch is read")),
            times_.place.file_tick(times_.notes[i].begin));
      }
    }
  }

  void syllables() {
    const bool any_file = parts_.lyric_kind == Lyrics::none;
    auto sung = any_file ? to_syllables(parts_.lyrics) : from_lyrics(parts_.lyrics);
    for (std::size_t i = 0; i < sung.size(); ++i) {
      if (!sung[i]) continue;
      if (parts_.lyric_kind == Lyrics::shoga) sung[i]->verse = model::kShogaVerse;
      score_.notes[i].syllables.push_back(*sung[i]);
      if (score_.verses.empty()) score_.verses.emplace_back(sung[i]->verse);
    }
  }

  model::Rational quarters(std::int64_t ticks) const { return {ticks, times_.fine_ppq}; }

  void add(std::int64_t tick, model::DirectionValue value) {
    directions_.push_back({tick, std::move(value)});
  }

  void tempos() {
    const auto unit_at = [&](std::int64_t tick) {
      const model::Measure& measure = score_.measures[bar_at(bars_, tick)];
      return felt_beat(measure.meter, measure.beat);
    };
    ReadTempos read = read_tempos(times_.tempos, times_.notes, times_.fine_ppq, unit_at);
    for (auto& [tick, value] : read.directions) add(tick, std::move(value));
    for (const std::size_t note : read.fermatas) {
      std::vector<model::Mark>& marks = score_.notes[note].marks;
      marks.insert(marks.begin(), model::Mark::fermata);
    }
  }

  // Those at the start are the header's.
  void flutes() {
    for (const auto& field : parts_.surroundings.own_fields) {
      const auto flute = field.value.key == kFluteText && field.tick > 0
                             ? model::parse_flute_name(field.value.value)
                             : std::nullopt;
      if (!flute) continue;
      add(bar_of(times_.place(field.tick)).begin, model::FluteChange{*flute});
    }
  }

  void texts() {
    for (const auto& text : parts_.surroundings.texts) {
      const std::int64_t tick = times_.place(text.tick);
      const bool marker = text.value.type != kText;
      if (tick >= end_) {
        findings_.add(base::report(rule::text_after_music, {},
                                   base::message("a text after the last note is left out")),
                      text.tick);
      } else if (!marker && tick == 0) {
        score_.header.comments.push_back(text.value.text);
      } else if (marker && bar_of(tick).begin == tick) {
        add(tick, model::SectionStart{text.value.text});
      } else {
        add(tick, model::TextDirection{text.value.text});
      }
    }
  }

  const Bar& bar_of(std::int64_t tick) const { return bars_[bar_at(bars_, tick)]; }

  bool is_simple_place(std::int64_t tick) const {
    if (parts_.meant) return true;
    if ((tick - bar_of(tick).begin) * kSimplePlaceParts % times_.fine_ppq == 0) return true;
    const auto note =
        std::lower_bound(times_.notes.begin(), times_.notes.end(), tick,
                         [](const TickSpan& span, std::int64_t t) { return span.begin < t; });
    return note != times_.notes.end() && note->begin == tick;
  }

  std::int64_t simple_place(std::int64_t tick) {
    if (is_simple_place(tick)) return tick;
    findings_.add(
        base::report(rule::direction_moved, {},
                     base::message("a tempo, key or text goes to the nearest quarter note")),
        times_.place.file_tick(tick));
    const Bar& bar = bar_of(tick);
    const std::int64_t ppq = times_.fine_ppq;
    return bar.begin + std::min((tick - bar.begin + ppq / 2) / ppq * ppq, bar.length);
  }

  // Of tempos and keys at one place the last counts; one that says what is so already is left out.
  void place_directions() {
    std::erase_if(directions_, [&](const auto& d) { return d.tick >= end_; });
    for (auto& direction : directions_) direction.tick = simple_place(direction.tick);
    std::erase_if(directions_, [&](const auto& d) { return d.tick >= end_; });
    sort_by_tick(directions_);
    drop_superseded<model::TempoChange>();
    drop_superseded<model::KeyChange>();
    drop_superseded<model::FluteChange>();
    for (auto& direction : directions_) {
      const std::size_t measure = bar_at(bars_, direction.tick);
      const model::Rational onset = quarters(direction.tick - bars_[measure].begin);
      score_.directions.push_back({measure, onset, std::move(direction.value), {}});
    }
  }

  template <typename T>
  void drop_superseded() {
    std::map<std::int64_t, std::size_t> last;  // of each place
    for (std::size_t i = 0; i < directions_.size(); ++i) {
      if (std::holds_alternative<T>(directions_[i].value)) last[directions_[i].tick] = i;
    }
    std::vector<Timed<model::DirectionValue>> kept;
    std::optional<std::size_t> said;  // where in `kept` the value in force stands
    for (std::size_t i = 0; i < directions_.size(); ++i) {
      if (const T* value = std::get_if<T>(&directions_[i].value)) {
        const bool in_force = said && std::get<T>(kept[*said].value) == *value;
        if (in_force || last[directions_[i].tick] != i) continue;
        said = kept.size();
      }
      // After a ramp, the tempo from before it must be said again.
      if (std::holds_alternative<model::Cue>(directions_[i].value)) said.reset();
      kept.push_back(std::move(directions_[i]));
    }
    directions_ = std::move(kept);
  }

  const ScoreParts& parts_;
  const NoteTimes& times_;
  const std::vector<Bar>& bars_;
  base::Findings& findings_;
  std::int64_t end_ = bars_.back().begin + bars_.back().length;
  model::Score score_;
  std::vector<Timed<model::DirectionValue>> directions_;
};

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

// True when one of the events says so of its file.
bool has_own_text(const std::vector<MetaEvent>& metas, const OwnText& wanted) {
  return std::any_of(metas.begin(), metas.end(),
                     [&](const MetaEvent& meta) { return own_text(meta) == wanted; });
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
    // Our own file, unchanged: a program that changes times counts in other ticks as a rule.
    const std::string ticks = fmt::format("{}", time_.ppq);
    exact_ = !options_.grid && has_own_text(scanned->metas, {kTicksText, ticks});
    const Charset charset = charset_of(*scanned, options_.charset, result_.diagnostics);
    const std::vector<PairedNote> paired = pair_notes(*events, scanned->track_ends);
    const TrackWords words = track_words(*scanned, charset);
    auto melody = take(choose_melody(paired, *events, words, time_.ppq, options_));
    if (!melody) return finished();
    const std::vector<PairedNote> line =
        melody_line(std::move(melody->notes), options_.line, time_.ppq,
                    exact_ ? FarNotes::kept : FarNotes::left_out, findings_);
    // The words of the melody's track, otherwise of the track that has most.
    const auto most =
        std::max_element(words.sung.begin(), words.sung.end(),
                         [](const auto& a, const auto& b) { return a.size() < b.size(); });
    const auto& own = words.sung[melody->track];
    const std::vector<MetaEvent>& sung = own.empty() ? *most : own;

    ScoreParts parts;
    parts.pitches = bent_pitches(line, bend_lines(*events)[melody->channel], time_.ppq, findings_);
    parts.lyric_kind = lyric_kind(scanned->metas);
    parts.lyrics = join_lyrics(sung, parts.lyric_kind, line, time_.ppq, charset, findings_);
    parts.surroundings =
        read_surroundings(*scanned, listened(*scanned, paired, melody->track), sung, charset);
    parts.meant = exact_;
    RawTimes raw{{}, {time_, tempo_list(scanned->metas)}, meter_list(scanned->metas), exact_};
    for (const PairedNote& note : line) raw.notes.push_back({note.begin, note.end});
    auto times = take(read_times(raw, options_));
    if (!times) return finished();
    tell_double_tempos(scanned->metas);
    auto bars = take(lay_out_bars(times->meters, times->notes, times->fine_ppq));
    if (!bars) return finished();
    result_.value = ScoreBuilder(parts, *times, *bars, findings_).build();
    report(*bars, *times);
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

  static Lyrics lyric_kind(const std::vector<MetaEvent>& metas) {
    for (const auto& [kind, word] : kLyricWords.rows) {
      if (has_own_text(metas, {kLyricsText, word})) return kind;
    }
    return Lyrics::none;
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

  void report(const std::vector<Bar>& bars, NoteTimes& times) {
    const auto number_at = [&](std::int64_t fine_tick) {
      return result_.value->measures[bar_at(bars, fine_tick)].number;
    };
    base::append(result_.diagnostics, std::move(times.told));
    if (times.reading == TimeReading::quantised) {
      result_.diagnostics.push_back(base::report(
          rule::quantised, {},
          base::message("the notes do not sit on a grid and were moved to the nearest divisions "
                        "of their beats: at most by {:.0f} ms, in bar {}",
                        times.largest_shift, number_at(times.shifted_to))));
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
    base::append(result_.diagnostics,
                 findings_.diagnostics(
                     [&](base::Place tick) {
                       return number_at(times.place(static_cast<std::int64_t>(tick)));
                     },
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
