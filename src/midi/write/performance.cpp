#include "midi/write/performance.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/message.h"
#include "midi/own_text.h"
#include "midi/smf/events.h"
#include "midi/write/rules.h"
#include "midi/write/tempo_plan.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/play_out.h"
#include "model/words.h"

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
  return measure.number == played.measures.front().number && !measure.meter.is_free() &&
         measure.length < measure.meter.length();
}

bool makes_one_bar(const model::Measure& a, const model::Measure& b) {
  return a.meter == b.meter && !a.meter.is_free() && a.length + b.length == a.meter.length();
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
    if (more && makes_one_bar(measure, played.measures[i + 1])) {
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

int verse_number(const model::Syllable& syllable) {
  const std::string& name = syllable.verse;
  int number = 0;
  std::from_chars(name.data(), name.data() + name.size(), number);
  return number;
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
  const model::Syllable* found = nullptr;
  for (const model::Syllable& syllable : note.syllables) {
    const bool shoga = syllable.verse == model::kShogaVerse;
    if (shoga != (what_ == Lyrics::shoga)) continue;
    if (found == nullptr || verse_number(syllable) <= pass) found = &syllable;
  }
  return found == nullptr || found->extends ? std::string() : to_lyric(*found);
}

// Of the marks of a note, those that say how it goes on.
bool stands_at_end(model::Mark mark) {
  return mark == model::Mark::breath || mark == model::Mark::optional_breath ||
         mark == model::Mark::suri;
}

// One tone of a note: a grace note or the note itself. Times in quarters from the note's onset.
struct ToneOfNote {
  const model::Tone& tone;
  const model::Note& note;
  std::size_t number = 0;
  Rational at;
  Rational length;
  bool main = false;
};

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
      performance.order = std::move(order_);
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
    base::Diagnostic diagnostic =
        base::report(rule::tick_overflow, {}, base::message("bar {}: {}", bar_, what));
    diagnostic.measures.push_back(bar_);
    return diagnostic;
  }

  bool find_missing_pitch(base::Diagnostics& diagnostics) const {
    for (const model::Note& note : written_.notes) {
      if (has_every_pitch(note)) continue;
      const std::string& bar = written_.measures[note.measure].number;
      diagnostics.push_back(
          base::report(rule::missing_pitch, note.source,
                       base::message("bar {}: a note has no pitch to be played", bar),
                       base::message("name the flute, so that its fingering has a pitch")));
      diagnostics.back().measures.push_back(bar);
      return true;
    }
    return false;
  }

  void notes(const model::Score& played, const ScoreClock& clock, Performance& to,
             base::Diagnostics& diagnostics) {
    LyricText lyrics(written_, options_.lyrics);
    const std::vector<std::size_t> numbers = model::tone_numbers(written_);
    Loudness loudness(played, options_.velocity);
    to.notes.reserve(played.notes.size());
    for (std::size_t i = 0; i < played.notes.size(); ++i) {
      const model::Note& note = played.notes[i];
      bar_ = played.measures[note.measure].number;
      loudness_ = loudness.of(note);
      const std::size_t source = unfolded_ ? unfolded_->source[i] : i;
      // A note that is struck anew has lost its grace notes.
      const std::size_t first = numbers[source] - note.grace_before.size();
      tones(note, first, lyrics.of(note, source), clock, to);
      if (!to.exact && !on_tick(note, clock.ppq())) {
        if (moved_.empty() || moved_.back() != bar_) moved_.push_back(bar_);
      }
    }
    report_moved(clock.ppq(), diagnostics);
    report_keys(diagnostics);
  }

  static bool on_tick(const model::Note& note, int ppq) {
    return is_on_tick(note.onset, ppq) && is_on_tick(note.duration, ppq);
  }

  // The note with its grace notes, one after the other; `number` is that of the first tone.
  void tones(const model::Note& note, std::size_t number, std::string lyric,
             const ScoreClock& clock, Performance& to) {
    const bool plain = note.grace_before.empty() && note.grace_after.empty();
    const Rational grace = plain ? Rational(0) : grace_length(note);
    const auto count =
        static_cast<std::int64_t>(note.grace_before.size() + note.grace_after.size());
    Rational at;
    const auto add = [&](const model::Tone& tone, Rational length, bool main, std::string text) {
      this->tone({tone, note, number++, at, length, main}, std::move(text), clock, to);
      at += length;
      bound_ = true;
    };
    for (const model::Tone& before : note.grace_before) {
      add(before, grace, false, grace_lyric(before));
    }
    add(note.tone, plain ? note.duration : note.duration - grace * Rational(count), true,
        std::move(lyric));
    for (const model::Tone& after : note.grace_after) add(after, grace, false, grace_lyric(after));
    bound_ = note.slur_to_next;
    breathes_ = note.has(model::Mark::breath) || note.has(model::Mark::optional_breath);
  }

  std::string grace_lyric(const model::Tone& tone) const {
    const bool wanted = options_.lyrics == Lyrics::fingering && tone.fingering;
    return wanted ? printed(*tone.fingering) : std::string();
  }

  void tone(const ToneOfNote& part, std::string lyric, const ScoreClock& clock, Performance& to) {
    const model::Note& note = part.note;
    const model::Pitch pitch = model::pitch_at(part.tone.pitch->total_cents() + tuning_);
    if (pitch.key < 0 || pitch.key > kHighestKey) {
      if (silent_.empty() || silent_.back() != bar_) silent_.push_back(bar_);
      return;
    }
    SoundingNote sounding;
    sounding.onset = note.onset + part.at;
    sounding.length = part.length;
    const std::int64_t free_from = to.notes.empty() ? 0 : to.notes.back().end;
    sounding.begin = std::max(free_from, clock.tick(note.measure, sounding.onset));
    // A note too short for the grid still sounds, for one tick.
    sounding.end =
        std::max(sounding.begin + 1, clock.tick(note.measure, sounding.onset + part.length));
    sounding.key = pitch.key;
    sounding.cents = pitch.cents;
    sounding.velocity = loudness_;
    sounding.lyric = std::move(lyric);
    sounding.tone = part.number;
    sounding.measure = note.measure;
    if (!to.notes.empty() && to.notes.back().end == sounding.begin && !breathes_) {
      sounding.attack = attack_after(to.notes.back(), pitch);
    }
    breathes_ = false;
    const bool last = sounding.onset + part.length == note.onset + note.duration;
    for (const model::Mark mark : note.marks) {
      if (stands_at_end(mark) ? last : part.main) sounding.marks.push_back(mark);
    }
    to.notes.push_back(std::move(sounding));
  }

  Attack attack_after(const SoundingNote& before, const model::Pitch& pitch) const {
    if (before.key == pitch.key && before.cents == pitch.cents) return Attack::struck;
    return bound_ ? Attack::slurred : Attack::tongued;
  }

  void report_moved(int ppq, base::Diagnostics& diagnostics) {
    if (moved_.empty()) return;
    diagnostics.push_back(base::report(
        rule::tick_rounding, {},
        base::message("{} ticks a quarter note cannot hold every time exactly: the notes of {} go "
                      "to the nearest tick",
                      ppq, base::bar_list(moved_))));
    diagnostics.back().measures = std::move(moved_);
  }

  void report_keys(base::Diagnostics& diagnostics) {
    if (silent_.empty()) return;
    diagnostics.push_back(base::report(
        rule::key_range, {},
        base::message("{}: a note outside the keys 0 to 127 stays silent", base::bar_list(silent_)),
        base::message("move the music by octaves")));
    diagnostics.back().measures = std::move(silent_);
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
  bool bound_ = false;               ///< the tone before is slurred to the next
  bool breathes_ = false;            ///< a breath is taken after it
  std::vector<std::string> moved_;   ///< bars with notes off the grid
  std::vector<std::string> silent_;  ///< bars with notes that have no MIDI key
};

}  // namespace

base::Outcome<Performance> perform(const model::Score& score, const MidiWriteOptions& options) {
  return Player(score, options).play();
}

}  // namespace yubifu::midi
