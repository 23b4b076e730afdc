#include "midi/write/performance.h"

#include <algorithm>
#include <optional>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/findings.h"
#include "base/message.h"
#include "midi/own_text.h"
#include "midi/smf/events.h"
#include "midi/write/rules.h"
#include "midi/write/tempo_plan.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/play_out.h"

namespace yubifu::midi {
namespace {

using model::Rational;

// Graces included.
bool has_every_pitch(const model::Note& note) {
  const auto pitched = [](const model::Tone& tone) { return tone.pitch.has_value(); };
  return pitched(note.tone) &&
         std::all_of(note.grace_before.begin(), note.grace_before.end(), pitched) &&
         std::all_of(note.grace_after.begin(), note.grace_after.end(), pitched);
}

bool is_in_order(const std::vector<std::size_t>& order, std::size_t measures) {
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (order[i] != i) return false;
  }
  return order.size() == measures;
}

constexpr int kDynamicStep = 12;
constexpr int kAccentStep = 16;

// Velocities of a played-out score: the given one at mf, 12 more a step, 16 more for an accent or
// a forced note (our choice: the ear tells them apart, and ffff stays in range); 1 to 127.
class Loudness {
 public:
  Loudness(const model::Score& played, int velocity) : played_(played), velocity_(velocity) {}

  // Of a note of the score; ask in order.
  int of(const model::Note& note);

 private:
  const model::Score& played_;
  int velocity_;
  int steps_ = 0;
  std::size_t next_ = 0;  ///< the first direction that was not looked at
};

int Loudness::of(const model::Note& note) {
  const auto place = std::pair(note.measure, note.onset);
  int before = steps_;
  bool forced = false;
  for (; next_ < played_.directions.size(); ++next_) {
    const model::Direction& direction = played_.directions[next_];
    if (std::pair(direction.measure, direction.onset) > place) break;
    const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
    const auto meaning = dynamic == nullptr ? std::nullopt : model::dynamic_meaning(dynamic->level);
    if (!meaning) continue;
    // A level that a forced note leads to holds from the note after it.
    if (meaning->steps && !meaning->forced) before = *meaning->steps;
    if (meaning->steps) steps_ = *meaning->steps;
    forced = meaning->forced;
  }
  const bool harder = forced || note.has(model::Mark::accent);
  const int level = forced ? before : steps_;
  return std::clamp(velocity_ + kDynamicStep * level + (harder ? kAccentStep : 0), 1, 127);
}

// The most beats and the finest unit of a meter that this project reads.
constexpr int kMostBeats = 64;
constexpr int kFinestUnit = 128;

// The first bar, also where it is played again.
bool is_pickup(const model::Score& played, const model::Measure& measure) {
  return measure.number == played.measures.front().number && lasts_less(measure);
}

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
    SoundingBar bar{clock.start(i), clock.start(i + 1),  measure.length,
                    measure.meter,  bar_number(measure), order[i]};
    bar.pickup = is_pickup(played, measure);
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

// What each note of a played-out score says. Notes must be asked for in the order they sound.
class LyricText {
 public:
  // `written` is the score that is played out.
  LyricText(const model::Score& written, Lyrics what)
      : what_(what), played_(written.notes.size(), 0) {}

  // The lyric of a note, empty for none. `source` is the index of the written note; each further
  // time it is played it says its next verse, if it has one, otherwise its last.
  std::string of(const model::Note& note, std::size_t source);

 private:
  Lyrics what_;
  std::vector<int> played_;  // how often each written note has been asked for
};

std::string LyricText::of(const model::Note& note, std::size_t source) {
  const int pass = ++played_[source];
  if (what_ == Lyrics::none) return {};
  if (what_ == Lyrics::fingering) {
    return note.tone.fingering ? printed(*note.tone.fingering) : std::string();
  }
  const model::Syllable* found =
      what_ == Lyrics::shoga ? note.syllable_of(model::kShogaVerse) : sung_in_pass(note, pass);
  return found == nullptr || found->extends ? std::string() : to_lyric(*found);
}

// Plays one score. The bar being played is kept, so that a time that overflows can name it.
class Player {
 public:
  Player(const model::Score& written, const MidiWriteOptions& options)
      : written_(written), options_(options), tuning_(tuning_cents(written.header)) {}

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
      TempoPlan tempos = plan_tempo(played, clock);
      performance.tempos = std::move(tempos.heard);
      performance.counted = std::move(tempos.counted);
      performance.bars = plan_bars(played, order_, clock);
      performance.meters = plan_meters(performance.bars);
    } catch (const model::TimeOverflow& overflow) {
      result.diagnostics.push_back(too_fine(overflow.what()));
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
    if (ok && is_in_order(order_, written_.measures.size())) {
      base::append(diagnostics, std::move(order.diagnostics));
      return &written_;
    }
    auto unfolded = model::play_out(written_);
    base::append(diagnostics, std::move(unfolded.diagnostics));
    unfolded_ = std::move(unfolded.value);
    return unfolded_ ? &unfolded_->score : nullptr;
  }

  base::Diagnostic too_fine(std::string_view what) const {
    if (bar_.empty()) return base::report(rule::tick_overflow, {}, std::string(what));
    return base::report(rule::tick_overflow, {}, base::message("bar {}: {}", bar_, what), {},
                        {bar_});
  }

  bool find_missing_pitch(base::Diagnostics& diagnostics) const {
    for (const model::Note& note : written_.notes) {
      if (has_every_pitch(note)) continue;
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
    LyricText lyrics(written_, options_.lyrics);
    Loudness loudness(played, options_.velocity);
    to.notes.reserve(played.notes.size());
    for (std::size_t i = 0; i < played.notes.size(); ++i) {
      const model::Note& note = played.notes[i];
      bar_ = played.measures[note.measure].number;
      loudness_ = loudness.of(note);
      tones(note, lyrics.of(note, unfolded_ ? unfolded_->source[i] : i), clock, to);
      if (!to.exact && !on_tick(note, clock.ppq())) {
        moved_.add(note.measure);
      }
    }
    const model::BarNumbers numbers{played};
    base::tell(diagnostics, std::move(moved_), numbers, [&](const base::Finding& moved) {
      return base::message(
          "{} ticks a quarter note cannot hold every time exactly: the notes of {} go to the "
          "nearest tick",
          clock.ppq(), base::bar_list(moved.told.measures));
    });
    base::tell(diagnostics, std::move(silent_), numbers, [](const base::Finding& silent) {
      return base::message("{}: a note outside the keys 0 to 127 stays silent",
                           base::bar_list(silent.told.measures));
    });
  }

  static bool on_tick(const model::Note& note, int ppq) {
    return is_on_tick(note.onset, ppq) && is_on_tick(note.duration, ppq);
  }

  // The note with its grace notes, one after the other.
  void tones(const model::Note& note, std::string lyric, const ScoreClock& clock, Performance& to) {
    if (note.grace_count() == 0) {
      tone(note.tone, note, 0, note.duration, std::move(lyric), clock, to);
      return;
    }
    const Rational grace = grace_length(note);
    Rational at;
    for (const model::Tone& before : note.grace_before) {
      tone(before, note, at, grace, grace_lyric(before), clock, to);
      at += grace;
    }
    const auto after_count = static_cast<std::int64_t>(note.grace_after.size());
    const Rational main = note.duration - at - grace * Rational(after_count);
    tone(note.tone, note, at, main, std::move(lyric), clock, to);
    at += main;
    for (const model::Tone& after : note.grace_after) {
      tone(after, note, at, grace, grace_lyric(after), clock, to);
      at += grace;
    }
  }

  std::string grace_lyric(const model::Tone& tone) const {
    const bool wanted = options_.lyrics == Lyrics::fingering && tone.fingering;
    return wanted ? printed(*tone.fingering) : std::string();
  }

  void tone(const model::Tone& tone, const model::Note& note, Rational at, Rational length,
            std::string lyric, const ScoreClock& clock, Performance& to) {
    const model::Pitch pitch = model::pitch_at(tone.pitch->total_cents() + tuning_);
    if (pitch.key < 0 || pitch.key > kHighestKey) {
      silent_.add(note.measure);
      return;
    }
    SoundingNote sounding;
    const std::int64_t free_from = to.notes.empty() ? 0 : to.notes.back().end;
    sounding.begin = std::max(free_from, clock.tick(note.measure, note.onset + at));
    // A note too short for the grid still sounds, for one tick.
    sounding.end = std::max(sounding.begin + 1, clock.tick(note.measure, note.onset + at + length));
    sounding.key = pitch.key;
    sounding.cents = pitch.cents;
    sounding.velocity = loudness_;
    sounding.lyric = std::move(lyric);
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
  std::vector<std::size_t> order_;              ///< of the written measures
  std::optional<model::PlayedScore> unfolded_;  ///< nothing for music that is played as written
  double tuning_;                               ///< cents over A4 = 440 Hz
  std::string bar_;                             ///< the bar being played, empty between bars
  int loudness_ = 0;
  base::Finding moved_{base::report(rule::tick_rounding, {}, {})};
  base::Finding silent_{
      base::report(rule::key_range, {}, {}, base::message("move the music by octaves"))};
};

}  // namespace

base::Outcome<Performance> perform(const model::Score& score, const MidiWriteOptions& options) {
  return Player(score, options).play();
}

}  // namespace yubifu::midi
