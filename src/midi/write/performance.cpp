#include "midi/write/performance.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <set>
#include <utility>
#include <variant>
#include <vector>

#include "base/diagnostic.h"
#include "base/findings.h"
#include "base/message.h"
#include "midi/own_text.h"
#include "midi/smf/events.h"
#include "midi/write/rules.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/play_out.h"
#include "model/rhythm_tree.h"

namespace yubifu::midi {
namespace {

using model::Rational;

// The most beats and the finest unit of a meter that this project reads.
constexpr int kMostBeats = 64;
constexpr int kFinestUnit = 128;

// The meter whose bar has this length, in units no longer than those of the bar's own meter.
std::optional<model::Meter> meter_of_length(Rational length, int unit) {
  for (; unit <= kFinestUnit; unit *= 2) {
    const Rational beats = length * Rational(unit, 4);
    if (!beats.is_whole()) continue;
    if (beats > Rational(kMostBeats)) return std::nullopt;
    return model::Meter{static_cast<int>(beats.numerator()), unit};
  }
  return std::nullopt;
}

// The bars as they are played. Two short bars in turn that add up to their meter are one, but for
// a bar that is repeated. `order` are the written measures in the order they are played.
std::vector<SoundingBar> plan_bars(const model::Score& played,
                                   const std::vector<std::size_t>& order, const ScoreClock& clock) {
  std::vector<SoundingBar> bars;
  for (std::size_t i = 0; i < played.measures.size(); ++i) {
    const model::Measure& measure = played.measures[i];
    // The first bar, also where it is played again.
    const bool pickup = measure.number == played.measures.front().number && lasts_less(measure);
    SoundingBar bar{clock.start(i),      clock.start(i + 1), measure.length, measure.meter,
                    bar_number(measure), order[i],           pickup};
    const bool more = i + 1 < played.measures.size() && order[i] != order[i + 1];
    if (more && complete_each_other(measure, played.measures[i + 1])) {
      bar.pickup = false;
      bar.length = measure.meter.length();
      bar.end = clock.start(++i + 1);
    }
    bars.push_back(bar);
  }
  return bars;
}

// A time signature wherever the bars would otherwise not fall where they do: at a new meter, at a
// bar of another length than its meter (written as the meter of that length, if there is one) and
// after it. Free time stands as a free meter. Throws model::TimeOverflow.
std::vector<Timed<model::Meter>> plan_meters(const std::vector<SoundingBar>& bars) {
  std::vector<Timed<model::Meter>> plan;
  Rational since;  // the last time signature
  for (const SoundingBar& bar : bars) {
    model::Meter meter = bar.meter;
    if (!meter.is_free() && bar.length != meter.length()) {
      meter = meter_of_length(bar.length, meter.unit).value_or(meter);
    }
    const bool foreseen = !plan.empty() && plan.back().value == meter &&
                          (meter.is_free() || (since / meter.length()).is_whole());
    if (!foreseen) {
      plan.push_back({bar.begin, meter});
      since = 0;
    }
    if (!meter.is_free()) since += bar.length;
  }
  return plan;
}

constexpr double kSlower = 3.0 / 4;
constexpr double kFaster = 4.0 / 3;
constexpr int kLongestRampQuarters = 8;
constexpr int kRampStepsPerQuarter = 2;
constexpr double kFermata = 0.5;

// A tempo that is set, or a cue that leads away from one or back.
struct TempoCue {
  std::int64_t tick = 0;
  std::optional<double> set;  ///< quarters a minute
  model::Cue cue = model::Cue::a_tempo;
};

std::vector<TempoCue> tempo_cues(const model::Score& played, const ScoreClock& clock) {
  const model::Tempo start = played.header.tempo.value_or(model::kDefaultTempo);
  std::vector<TempoCue> cues{{0, start.quarters_per_minute().as_double()}};
  for (const model::Direction& direction : played.directions) {
    const auto* set = std::get_if<model::TempoChange>(&direction.value);
    const auto* cue = std::get_if<model::Cue>(&direction.value);
    const bool moves = cue != nullptr && (*cue == model::Cue::rit || *cue == model::Cue::accel ||
                                          *cue == model::Cue::a_tempo);
    if (set == nullptr && !moves) continue;
    TempoCue& tempo = cues.emplace_back();
    tempo.tick = clock.tick(direction.measure, direction.onset);
    if (set != nullptr) tempo.set = set->tempo.quarters_per_minute().as_double();
    if (moves) tempo.cue = *cue;
  }
  return cues;
}

// The line of tempos without fermatas.
std::vector<Timed<double>> base_line(const std::vector<TempoCue>& cues, const ScoreClock& clock) {
  std::vector<Timed<double>> line;
  double now = 0;
  double steady = 0;
  const auto go = [&](std::int64_t tick, double tempo) {
    now = tempo;
    if (!line.empty() && line.back().tick == tick) line.pop_back();
    line.push_back({tick, tempo});
  };
  for (std::size_t i = 0; i < cues.size(); ++i) {
    const TempoCue& cue = cues[i];
    const TempoCue* next = i + 1 < cues.size() ? &cues[i + 1] : nullptr;
    if (cue.set) steady = *cue.set;
    if (cue.set || cue.cue == model::Cue::a_tempo) {
      go(cue.tick, steady);
      continue;
    }
    const std::int64_t until = next != nullptr ? next->tick : std::llround(clock.end());
    const std::int64_t length =
        std::min<std::int64_t>(until - cue.tick, std::int64_t{kLongestRampQuarters} * clock.ppq());
    const std::int64_t steps =
        std::min(length, (length * kRampStepsPerQuarter + clock.ppq() - 1) / clock.ppq());
    const double from = now;
    const bool slower = cue.cue == model::Cue::rit;
    // Where it leads: to the tempo set next, if that lies that way.
    const bool is_way = next && next->set && (slower ? *next->set < from : *next->set > from);
    const double target = is_way ? *next->set : from * (slower ? kSlower : kFaster);
    for (std::int64_t step = 0; step < steps; ++step) {
      const double share = static_cast<double>(step + 1) / static_cast<double>(steps);
      // Exactly the target in the end, so that a tempo set there is no new one.
      const double tempo = step + 1 == steps ? target : from + (target - from) * share;
      go(cue.tick + length * step / steps, tempo);
    }
  }
  return line;
}

std::vector<TickSpan> fermatas(const model::Score& played, const ScoreClock& clock) {
  std::vector<TickSpan> spans;
  for (const model::Note& note : played.notes) {
    if (!note.has(model::Mark::fermata)) continue;
    spans.push_back({clock.tick(note.measure, note.onset),
                     clock.tick(note.measure, note.onset + note.duration)});
  }
  const auto held = [](const model::Rest& rest) {
    return std::find(rest.marks.begin(), rest.marks.end(), model::Mark::fermata) !=
           rest.marks.end();
  };
  if (std::any_of(played.rests.begin(), played.rests.end(), held)) {
    const std::vector<model::BarContent> bars = bar_contents(played);
    for (std::size_t bar = 0; bar < bars.size(); ++bar) {
      for (const model::BarSpan& span : bars[bar].spans) {
        if (!span.rest || !held(played.rests[*span.rest])) continue;
        spans.push_back({clock.tick(bar, span.begin), clock.tick(bar, span.end)});
      }
    }
  }
  std::sort(spans.begin(), spans.end(),
            [](const TickSpan& a, const TickSpan& b) { return a.begin < b.begin; });
  return spans;
}

// Sets the tempos that are heard and counted. The score is played out. Rit and accel move the
// tempo in steps of half a quarter, over at most eight quarters, to the next tempo where that lies
// their way, otherwise to three quarters or four thirds of the tempo before; a-tempo goes back to
// the last tempo set. A fermata, on a rest too, halves what there is (practice names no amount).
void plan_tempo(const model::Score& played, const ScoreClock& clock, Performance& to) {
  std::vector<Timed<double>> line = base_line(tempo_cues(played, clock), clock);
  const std::vector<TickSpan> spans = fermatas(played, clock);
  std::set<std::int64_t> ticks;
  for (const Timed<double>& tempo : line) ticks.insert(tempo.tick);
  for (const TickSpan& span : spans) ticks.insert({span.begin, span.end});
  std::size_t next = 0;
  for (const std::int64_t tick : ticks) {
    while (next < spans.size() && spans[next].end <= tick) ++next;
    const bool held = next < spans.size() && spans[next].begin <= tick;
    const double tempo = in_force(line, tick).value * (held ? kFermata : 1);
    if (to.tempos.empty() || to.tempos.back().value != tempo) to.tempos.push_back({tick, tempo});
  }
  to.counted = std::move(line);
}

constexpr int kDynamicStep = 12;
constexpr int kAccentStep = 16;

// Of the marks of a note, those that say how it goes on.
bool stands_at_end(model::Mark mark) {
  return mark == model::Mark::breath || mark == model::Mark::optional_breath ||
         mark == model::Mark::suri;
}

// Plays one score. The bar being played is kept, so that a time that overflows can name it.
class Player {
 public:
  Player(const model::Score& written, const MidiWriteOptions& options)
      : written_(written), options_(options), passes_(written.notes.size(), 0) {}

  base::Outcome<Performance> play() {
    base::Outcome<Performance> result;
    if (find_missing_pitch(result.diagnostics)) return result;
    const model::Score* unfolded = unfold(result.diagnostics);
    if (unfolded == nullptr) return result;
    const model::Score& played = *unfolded;
    const TickGrid grid = choose_grid(played, options_.ppq);
    const ScoreClock clock(played, grid);
    if (clock.end() > static_cast<double>(kMostTicks)) {
      result.diagnostics.push_back(base::report(
          rule::music_too_long, {},
          base::message(
              "the music lasts {:.0f} ticks at {} a quarter note, and a MIDI file holds {}",
              clock.end(), grid.ppq, kMostTicks),
          base::message("give fewer ticks a quarter note, or export it in parts")));
      return result;
    }
    Performance performance;
    performance.ppq = grid.ppq;
    performance.exact = grid.exact;
    performance.end = clock.start(played.measures.size());
    try {
      notes(played, clock, performance, result.diagnostics);
      // Notes too short for the grid push the later ones, the last perhaps behind the last bar.
      if (!performance.notes.empty()) {
        performance.end = std::max(performance.end, performance.notes.back().end);
      }
      directions(played, clock, performance);
      bar_.clear();
      plan_tempo(played, clock, performance);
      performance.bars = plan_bars(played, order_, clock);
      performance.meters = plan_meters(performance.bars);
      performance.order = std::move(order_);
    } catch (const model::TimeOverflow& overflow) {
      base::Diagnostic found = base::report(rule::tick_overflow, {}, overflow.what());
      if (!bar_.empty()) {
        found.message = base::message("bar {}: {}", bar_, overflow.what());
        found.measures = {bar_};
      }
      result.diagnostics.push_back(std::move(found));
      return result;
    }
    result.value = std::move(performance);
    return result;
  }

 private:
  // Null when it cannot be played out. Most music is played as it is written, and a copy of it
  // would cost as much as all the rest.
  const model::Score* unfold(base::Diagnostics& diagnostics) {
    auto order = model::played_order(written_);
    const bool ok = order.ok();
    if (order.value) order_ = std::move(*order.value);
    // Rising, and as many.
    const bool as_written =
        order_.size() == written_.measures.size() &&
        std::adjacent_find(order_.begin(), order_.end(), std::greater_equal<>()) == order_.end();
    if (ok && as_written) {
      base::append(diagnostics, std::move(order.diagnostics));
      return &written_;
    }
    auto unfolded = model::play_out(written_);
    base::append(diagnostics, std::move(unfolded.diagnostics));
    unfolded_ = std::move(unfolded.value);
    return unfolded_ ? &unfolded_->score : nullptr;
  }

  bool find_missing_pitch(base::Diagnostics& diagnostics) const {
    for (const model::Note& note : written_.notes) {
      if (all_tones(note, [](const model::Tone& tone) { return tone.pitch.has_value(); })) continue;
      const std::string& bar = written_.measures[note.measure].number;
      diagnostics.push_back(
          base::report(rule::missing_pitch, note.source,
                       base::message("bar {}: a note has no pitch to be played", bar),
                       base::message("name the flute, so that its fingering has a pitch"), {bar}));
      return true;
    }
    return false;
  }

  void notes(const model::Score& played, const ScoreClock& clock, Performance& to,
             base::Diagnostics& diagnostics) {
    const std::vector<std::size_t> numbers = model::tone_numbers(written_);
    to.notes.reserve(played.notes.size());
    for (std::size_t i = 0; i < played.notes.size(); ++i) {
      const model::Note& note = played.notes[i];
      bar_ = played.measures[note.measure].number;
      loudness_ = loudness_of(note, played.directions);
      const std::size_t source = unfolded_ ? unfolded_->source[i] : i;
      // A note that is struck anew has lost its grace notes.
      const std::size_t first = numbers[source] - note.grace_before.size();
      tones(note, first, lyric_of(note, ++passes_[source]), clock, to);
      const auto rounds = [&](Rational time) { return clock.ppq() % time.denominator() != 0; };
      if (!to.exact && (rounds(note.onset) || rounds(note.duration))) {
        moved_.add(note.measure);
      }
    }
    const model::BarNumbers bars{played};
    base::tell(diagnostics, std::move(moved_), bars, [&](const base::Finding& moved) {
      return base::message(
          "{} ticks a quarter note cannot hold every time exactly: the notes of {} go to the "
          "nearest tick",
          clock.ppq(), base::bar_list(moved.told.measures));
    });
    base::tell(diagnostics, std::move(silent_), bars, [](const base::Finding& silent) {
      return base::message("{}: a note outside the keys 0 to 127 stays silent",
                           base::bar_list(silent.told.measures));
    });
  }

  // The given velocity at mf, 12 more a step, 16 more for an accent or a forced note (our choice:
  // the ear tells them apart, and ffff stays in range); 1 to 127. Of the notes in turn.
  int loudness_of(const model::Note& note, const std::vector<model::Direction>& directions) {
    const auto place = std::pair(note.measure, note.onset);
    int before = steps_;
    bool forced = false;
    for (; next_ < directions.size(); ++next_) {
      const model::Direction& direction = directions[next_];
      if (std::pair(direction.measure, direction.onset) > place) break;
      const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
      const auto meaning = dynamic ? model::dynamic_meaning(dynamic->level) : std::nullopt;
      if (!meaning) continue;
      // A level that a forced note leads to holds from the note after it.
      if (meaning->steps && !meaning->forced) before = *meaning->steps;
      if (meaning->steps) steps_ = *meaning->steps;
      forced = meaning->forced;
    }
    const bool harder = forced || note.has(model::Mark::accent);
    const int level = forced ? before : steps_;
    return std::clamp(options_.velocity + kDynamicStep * level + (harder ? kAccentStep : 0), 1,
                      127);
  }

  // Each further time that a note is played it says its next verse, or its last.
  std::string lyric_of(const model::Note& note, int pass) const {
    if (options_.lyrics == Lyrics::none) return {};
    if (options_.lyrics == Lyrics::fingering) return sign_of(note.tone);
    const model::Syllable* found = options_.lyrics == Lyrics::shoga
                                       ? note.syllable_of(model::kShogaVerse)
                                       : sung_in_pass(note, pass);
    return found == nullptr || found->extends ? std::string() : to_lyric(*found);
  }

  static std::string sign_of(const model::Tone& tone) {
    return tone.fingering ? printed(*tone.fingering) : std::string();
  }

  // The note with its grace notes, one after the other; `number` is that of the first tone.
  void tones(const model::Note& note, std::size_t number, const std::string& lyric,
             const ScoreClock& clock, Performance& to) {
    const auto graces = static_cast<std::int64_t>(note.grace_count());
    const Rational grace = graces == 0 ? Rational(0) : grace_length(note);
    Rational at = note.onset;
    for_each_tone(note, [&](const model::Tone& tone) {
      const bool is_main = &tone == &note.tone;
      SoundingNote sounding;
      if (is_main || options_.lyrics == Lyrics::fingering) {
        sounding.lyric = is_main ? lyric : sign_of(tone);
      }
      sounding.tone = number++;
      sounding.measure = note.measure;
      sounding.onset = at;
      sounding.length = is_main ? note.duration - grace * Rational(graces) : grace;
      at += sounding.length;
      const bool last = at == note.onset + note.duration;
      for (const model::Mark mark : note.marks) {
        if (stands_at_end(mark) ? last : is_main) sounding.marks.push_back(mark);
      }
      sound(tone, std::move(sounding), clock, to);
      bound_ = true;
    });
    bound_ = note.slur_to_next;
    breathes_ = note.has(model::Mark::breath) || note.has(model::Mark::optional_breath);
  }

  void sound(const model::Tone& tone, SoundingNote sounding, const ScoreClock& clock,
             Performance& to) {
    const model::Pitch pitch = model::pitch_at(tone.pitch->total_cents() + tuning_);
    if (pitch.key < 0 || pitch.key > kHighestKey) {
      silent_.add(sounding.measure);
      return;
    }
    const std::int64_t free_from = to.notes.empty() ? 0 : to.notes.back().end;
    sounding.begin = std::max(free_from, clock.tick(sounding.measure, sounding.onset));
    // A note too short for the grid still sounds, for one tick.
    sounding.end = std::max(sounding.begin + 1,
                            clock.tick(sounding.measure, sounding.onset + sounding.length));
    sounding.key = pitch.key;
    sounding.cents = pitch.cents;
    sounding.velocity = loudness_;
    if (!to.notes.empty() && to.notes.back().end == sounding.begin && !breathes_) {
      const SoundingNote& before = to.notes.back();
      const bool same = before.key == pitch.key && before.cents == pitch.cents;
      sounding.attack = same ? Attack::struck : bound_ ? Attack::slurred : Attack::tongued;
    }
    breathes_ = false;
    to.notes.push_back(std::move(sounding));
  }

  void directions(const model::Score& played, const ScoreClock& clock, Performance& to) {
    if (played.header.key) to.keys.push_back({0, *played.header.key});
    for (const model::Direction& direction : played.directions) {
      bar_ = played.measures[direction.measure].number;
      const std::int64_t tick = clock.tick(direction.measure, direction.onset);
      if (const auto* key = std::get_if<model::KeyChange>(&direction.value)) {
        to.keys.push_back({tick, key->key});
      } else if (const auto* section = std::get_if<model::SectionStart>(&direction.value)) {
        to.sections.push_back({tick, section->name});
      } else if (const auto* text = std::get_if<model::TextDirection>(&direction.value)) {
        to.texts.push_back({tick, text->text});
      } else if (const auto* flute = std::get_if<model::FluteChange>(&direction.value)) {
        to.flutes.push_back({tick, model::to_text(flute->flute)});
      }
    }
  }

  const model::Score& written_;
  const MidiWriteOptions& options_;
  std::vector<std::size_t> order_;                 ///< of the written measures
  std::optional<model::PlayedScore> unfolded_;     ///< nothing for music that is played as written
  double tuning_ = tuning_cents(written_.header);  ///< cents over A4 = 440 Hz
  std::string bar_;                                ///< the bar being played, empty between bars
  std::vector<int> passes_;                        ///< how often each written note was played
  int steps_ = 0;                                  ///< of loudness from mf, by the directions
  std::size_t next_ = 0;  ///< the first direction that was not looked at for it
  int loudness_ = 0;
  bool bound_ = false;     ///< the tone before is slurred to the next
  bool breathes_ = false;  ///< a breath is taken after it
  base::Finding moved_{base::report(rule::tick_rounding, {}, {})};
  base::Finding silent_{
      base::report(rule::key_range, {}, {}, base::message("move the music by octaves"))};
};

}  // namespace

base::Outcome<Performance> perform(const model::Score& score, const MidiWriteOptions& options) {
  return Player(score, options).play();
}

}  // namespace yubifu::midi
