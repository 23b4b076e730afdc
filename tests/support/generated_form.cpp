#include "support/generated_form.h"

#include <algorithm>

namespace yubifu::support {

using model::Cue;
using model::Measure;
using model::Meter;
using model::Rational;
using model::Score;

namespace {

const std::vector<Meter> kMeters{{4, 4}, {4, 4}, {3, 4}, {2, 4}, {6, 8}, {9, 8}, {12, 8},
                                 {3, 8}, {2, 2}, {5, 4}, {7, 8}, {5, 8}, {1, 4}, {4, 16}};

// Lays out blocks of measures: plain ones, repeats, repeats with endings.
class Blocks {
 public:
  Blocks(Score& score, Dice& dice, const GeneratorOptions& options)
      : score_(score), dice_(dice), options_(options) {}

  void run() {
    const auto count =
        static_cast<std::size_t>(dice_.between(options_.fewest_measures, options_.most_measures));
    while (score_.measures.size() < count) {
      const std::size_t room = count - score_.measures.size();
      if (options_.repeats && room >= 3 && dice_.percent(25)) {
        with_endings(room);
      } else if (options_.repeats && dice_.percent(25)) {
        repeat(room);
      } else {
        add(run_length(room), {});
      }
    }
    bar_styles();
  }

 private:
  std::size_t run_length(std::size_t room) {
    return 1 + dice_.below(std::min<std::size_t>(room, 3));
  }

  void add(std::size_t count, const std::vector<int>& ending) {
    for (std::size_t i = 0; i < count; ++i) {
      Measure measure;
      measure.ending = ending;
      score_.measures.push_back(measure);
    }
  }

  // A repeat may go without its start sign at the beginning and after an earlier repeat.
  void start_repeat(std::size_t first) {
    const bool may_lack = first == 0 || score_.measures[first - 1].repeat_end;
    score_.measures[first].repeat_start = !(may_lack && dice_.percent(40));
  }

  void end_repeat(int times) {
    score_.measures.back().repeat_end = true;
    score_.measures.back().times = times;
  }

  void repeat(std::size_t room) {
    const std::size_t first = score_.measures.size();
    add(run_length(room), {});
    start_repeat(first);
    end_repeat(dice_.percent(70) ? 2 : dice_.between(3, 5));
  }

  void with_endings(std::size_t room) {
    const std::size_t first = score_.measures.size();
    add(1 + dice_.below(std::min<std::size_t>(room - 2, 2)), {});
    start_repeat(first);
    struct Plan {
      std::vector<int> one;
      std::vector<int> other;
      int times;
    };
    const Plan plan = dice_.pick(std::vector<Plan>{
        {{1}, {2}, 2}, {{1}, {2}, 2}, {{1, 2}, {3}, 3}, {{1, 3}, {2, 4}, 4}, {{1, 3}, {2}, 3}});
    add(1, plan.one);
    end_repeat(plan.times);
    add(1, plan.other);
    const bool comes_back = plan.other.front() < std::max(plan.one.back(), plan.other.back());
    if (comes_back) end_repeat(plan.times);
    const bool room_left = room > score_.measures.size() - first;
    if (room_left && dice_.percent(30)) add(1, comes_back ? std::vector<int>{} : plan.other);
  }

  void bar_styles() {
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      Measure& here = score_.measures[i];
      const bool last = i + 1 == score_.measures.size();
      if (here.repeat_end && dice_.percent(20)) {
        here.right = dice_.percent(50) ? model::BarStyle::section : model::BarStyle::final;
      }
      if (here.repeat_end || (!last && score_.measures[i + 1].repeat_start)) continue;
      const bool in_ending =
          !last && !here.ending.empty() && score_.measures[i + 1].ending == here.ending;
      if (in_ending) continue;  // a double bar would close it
      if (last) {
        here.right = dice_.percent(70) ? model::BarStyle::final : model::BarStyle::regular;
      } else if (dice_.percent(8)) {
        here.right = dice_.percent(85) ? model::BarStyle::section : model::BarStyle::final;
      }
    }
  }

  Score& score_;
  Dice& dice_;
  const GeneratorOptions& options_;
};

// Gives the measures their meters, beats and lengths.
class Lengths {
 public:
  Lengths(Score& score, Dice& dice, const GeneratorOptions& options)
      : score_(score), dice_(dice), options_(options) {}

  void run() {
    Meter meter = random_meter();
    Rational beat = random_beat(meter, model::default_beat(meter));
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      if (i > 0 && options_.meter_changes && dice_.percent(7)) {
        const Meter before = meter;
        meter = random_meter();
        if (meter != before) beat = model::default_beat(meter);
        beat = random_beat(meter, beat);
      } else if (i > 0 && options_.beat_changes && dice_.percent(5)) {
        beat = random_beat(meter, beat);
      }
      score_.measures[i].meter = meter;
      score_.measures[i].beat = beat;
    }
    for (std::size_t i = 0; i < score_.measures.size(); ++i) set_length(i);
    mark_irregular();
    for (std::size_t i = 0; i < score_.measures.size(); ++i) change_beat_inside(i);
  }

 private:
  Meter random_meter() {
    if (options_.free_meter && dice_.percent(12)) return Meter::free_time();
    return dice_.pick(kMeters);
  }

  Rational random_beat(const Meter& meter, Rational usual) {
    if (!options_.odd_beats || !dice_.percent(32)) return usual;
    if (meter.is_free()) return dice_.pick(std::vector<Rational>{1, {1, 2}, {3, 2}, 2});
    std::vector<Rational> fitting;
    for (const Rational beat :
         {Rational(1, 4), Rational(1, 2), Rational(3, 4), Rational(1), Rational(3, 2), Rational(2),
          Rational(3), Rational(1, 3), Rational(2, 5)}) {
      const bool dyadic = 4 % beat.denominator() == 0;
      if (!dyadic && (options_.rhythm != RhythmKind::any || !dice_.percent(45))) continue;
      if ((meter.length() / beat).is_whole()) fitting.push_back(beat);
    }
    return fitting.empty() ? usual : dice_.pick(fitting);
  }

  Rational random_fraction() {
    static const std::vector<Rational> kPlain{{1, 2}, {1, 2}, {1, 4}, {3, 4}};
    static const std::vector<Rational> kAny{{1, 2}, {1, 4}, {3, 4}, {1, 3}, {2, 3},
                                            {1, 8}, {5, 8}, {2, 5}, {3, 7}};
    return dice_.pick(options_.rhythm == RhythmKind::any ? kAny : kPlain);
  }

  // Shorter than `full` and longer than nothing, perhaps with an incomplete word.
  Rational shorter_than(Rational full, Rational beat) {
    const std::int64_t words = (full / beat).ceil();
    const Rational whole(dice_.between(0, static_cast<int>(words) - 1));
    const Rational part = whole == Rational(0) || dice_.percent(35) ? random_fraction() : 0;
    const Rational length = (whole + part) * beat;
    return length < full ? length : full * Rational(1, 2);
  }

  void set_length(std::size_t i) {
    Measure& here = score_.measures[i];
    if (here.meter.is_free()) {
      Rational words(dice_.between(1, 6));
      if (dice_.percent(8)) words += random_fraction();
      here.length = words * here.beat;
      return;
    }
    const Rational full = here.meter.length();
    if (here.length == Rational(0)) here.length = full;  // else the rest of a parted bar
    if (here.length != full) return;
    if (options_.short_bars && may_be_short_alone(i) && dice_.percent(i == 0 ? 35 : 20)) {
      here.length = shorter_than(full, here.beat);
      if (dice_.percent(60)) complete(i);
    } else if (options_.short_bars && dice_.percent(20)) {
      complete(i);
    } else if (options_.irregular_bars && dice_.percent(3)) {
      const bool longer = dice_.percent(50);
      const Rational more = dice_.percent(30) ? random_fraction() : 1;
      here.length = longer ? full + here.beat * more : shorter_than(full, here.beat);
    }
  }

  // Without another bar that completes it.
  bool may_be_short_alone(std::size_t i) const {
    if (i == 0) return true;
    const auto breaks = [&](std::size_t at) {
      return at < score_.measures.size() &&
             (score_.measures[at].meter != score_.measures[at - 1].meter ||
              model::ending_starts(score_, at));
    };
    return breaks(i) || breaks(i + 1);
  }

  // A repeat sign or a double bar before measure `at`.
  bool sign_at(std::size_t at) const {
    if (at == 0 || at == score_.measures.size()) return true;
    return double_bar_at(at) || score_.measures[at - 1].repeat_end ||
           score_.measures[at].repeat_start;
  }

  bool double_bar_at(std::size_t at) const {
    return at == 0 || at == score_.measures.size() ||
           score_.measures[at - 1].right != model::BarStyle::regular;
  }

  // The measures that may complete a short one: across a sign at its end, and the first of what
  // ends with it.
  std::vector<std::size_t> partners(std::size_t i) const {
    std::vector<std::size_t> all;
    if (!sign_at(i + 1)) return all;
    std::size_t first = i;
    while (!sign_at(first)) --first;
    all.push_back(first);
    if (double_bar_at(i + 1)) {
      while (!double_bar_at(first)) --first;
      all.push_back(first);
    }
    all.push_back(i + 1 == score_.measures.size() ? 0 : i + 1);
    std::erase(all, i);
    return all;
  }

  // The measure and one of its partners make one bar.
  void complete(std::size_t i) {
    const std::vector<std::size_t> all = partners(i);
    if (all.empty()) return;
    Measure& here = score_.measures[i];
    Measure& other = score_.measures[dice_.pick(all)];
    if (here.meter != other.meter) return;
    const Rational full = here.meter.length();
    if (here.length == full) {
      const bool other_is_short = other.length != Rational(0) && other.length < full;
      here.length = other_is_short ? full - other.length : shorter_than(full, here.beat);
    }
    other.length = full - here.length;
  }

  // A bar that became of another kind than the options allow is made whole.
  void mark_irregular() {
    for (bool changed = true; changed;) {
      changed = false;
      model::mark_irregular(score_);
      for (Measure& here : score_.measures) {
        const Rational full = here.meter.length();
        if (here.meter.is_free() || here.length == full) continue;
        if (here.irregular ? options_.irregular_bars : options_.short_bars) continue;
        here.length = full;
        changed = true;
      }
    }
  }

  void change_beat_inside(std::size_t i) {
    Measure& here = score_.measures[i];
    if (!options_.beat_changes || !dice_.percent(7)) return;
    const Rational words = here.length / here.beat;
    if (!words.is_whole() || words < Rational(2)) return;
    const Rational from = here.beat * dice_.between(1, static_cast<int>(words.floor()) - 1);
    const Rational beat = random_beat(here.meter, here.beat * Rational(1, 2));
    if (beat == here.beat || !((here.length - from) / beat).is_whole()) return;
    // Inside a word the new beat is said before the word's end, from which it counts.
    const Rational onset = dice_.percent(35) ? from - here.beat * Rational(1, 2) : from;
    score_.directions.push_back({i, onset, model::BeatChange{beat}, {}});
    const bool last = i + 1 == score_.measures.size();
    if (last || score_.measures[i + 1].meter != here.meter || dice_.percent(30)) return;
    const bool whole_words = (score_.measures[i + 1].length / beat).is_whole();
    if (whole_words) score_.measures[i + 1].beat = beat;
  }

  Score& score_;
  Dice& dice_;
  const GeneratorOptions& options_;
};

void add_cue(Score& score, std::size_t measure, Cue cue) {
  const bool at_start = cue == Cue::segno || cue == Cue::coda;
  score.directions.push_back(
      {measure, at_start ? Rational(0) : score.measures[measure].length, cue, {}});
}

// One jump of a usual kind: D.C. or D.S., to the end, to fine, or by way of coda.
void add_jump(Score& score, Dice& dice) {
  const std::size_t count = score.measures.size();
  if (count < 3 || !dice.percent(25)) return;
  const bool from_sign = dice.percent(50);
  const bool by_coda = count >= 4 && dice.percent(40);
  const std::size_t jump = by_coda ? count - 2 : count - 1;
  if (score.measures[jump].repeat_end) return;
  const std::size_t target = from_sign ? dice.below(jump) : 0;
  if (from_sign) add_cue(score, target, Cue::segno);
  const std::size_t leave = target + dice.below(jump - target);
  if (by_coda) {
    add_cue(score, leave, Cue::to_coda);
    add_cue(score, count - 1, Cue::coda);
  } else if (dice.percent(70)) {
    add_cue(score, leave, Cue::fine);
  }
  add_cue(score, jump, from_sign ? Cue::dal_segno : Cue::da_capo);
}

}  // namespace

void add_form(Score& score, Dice& dice, const GeneratorOptions& options) {
  Blocks(score, dice, options).run();
  Lengths(score, dice, options).run();
  if (options.jumps) add_jump(score, dice);
  if (options.until_cue && dice.percent(5)) {
    add_cue(score, dice.below(score.measures.size()), Cue::until_cue);
  }
}

bool follows_a_seam(const Score& score, std::size_t measure) {
  if (measure == 0) return true;
  if (score.measures[measure - 1].repeat_end || score.measures[measure].repeat_start) return true;
  if (model::ending_starts(score, measure) || model::ending_stops(score, measure - 1)) return true;
  return std::any_of(score.directions.begin(), score.directions.end(), [&](const auto& direction) {
    const auto* cue = std::get_if<Cue>(&direction.value);
    if (cue == nullptr) return false;
    const bool arrives = *cue == Cue::segno || *cue == Cue::coda;
    return direction.measure == (arrives ? measure : measure - 1);
  });
}

}  // namespace yubifu::support
