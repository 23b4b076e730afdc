#include "model/play_out.h"

#include <algorithm>
#include <set>
#include <string>
#include <utility>

#include "base/message.h"
#include "model/rules.h"

namespace yubifu::model {
namespace {

// What lasts from a direction on until the next one of its kind.
struct InForce {
  Tempo tempo = kDefaultTempo;
  bool bent = false;  // a rit or accel has begun and no tempo has ended it
  std::optional<Key> key;
  FluteName flute = kDefaultFluteSize;
};

// How a note reaches into a measure from earlier ones.
struct HeldIn {
  std::size_t note = 0;
  Rational rest;  // of its duration, from the measure's start
};

// What the playing itself follows, the cues up to `to_coda`, has nothing to say any more.
bool is_followed(const DirectionValue& value) {
  const auto* cue = std::get_if<Cue>(&value);
  return cue != nullptr && *cue <= Cue::to_coda;
}

// What led on to a note after the last one.
void lead_nowhere(std::vector<Note>& notes) {
  if (notes.empty()) return;
  notes.back().slur_to_next = false;
  std::erase(notes.back().marks, Mark::suri);
}

// A note as far as it sounds in the measures [begin, end), counted from there; nothing where it
// does not.
std::optional<Note> cut_note(const Score& score, const Note& note, std::size_t begin,
                             std::size_t end) {
  Rational until = note.onset + note.duration;  // from the start of `measure`
  std::size_t measure = note.measure;
  for (; measure < begin && until > Rational(0); ++measure) until -= score.measures[measure].length;
  if (measure >= end || until <= Rational(0)) return std::nullopt;
  Note cut = note;
  if (measure != note.measure) {
    cut.onset = 0;
    cut.grace_before.clear();
    cut.syllables.clear();
  }
  Rational room;
  for (std::size_t i = measure; i < end && room < until; ++i) room += score.measures[i].length;
  cut.duration = std::min(until, room) - cut.onset;
  cut.measure = measure - begin;
  return cut;
}

class Unfolding {
 public:
  explicit Unfolding(const Score& written) : written_(written) {
    const std::size_t count = written_.measures.size();
    held_.resize(count + 1);
    for (std::size_t i = 0; i < written_.notes.size(); ++i) hold(i);
    force_.reserve(count + 1);
    const Header& header = written_.header;
    force_.push_back({.tempo = header.tempo.value_or(kDefaultTempo),
                      .key = header.key,
                      .flute = header.flute.value_or(kDefaultFluteSize)});
    for (std::size_t i = 0; i < count; ++i) force_.push_back(after(i));
  }

  base::Outcome<PlayedScore> run() {
    auto order = played_order(written_);
    diagnostics_ = std::move(order.diagnostics);
    order_ = std::move(*order.value);
    played_.score.header = written_.header;
    for (std::size_t i = 0; i < order_.size(); ++i) measure(i);
    Score& score = played_.score;
    mark_irregular(score);
    lead_nowhere(score.notes);
    score.verses = verses_in_use(score);
    return {std::move(played_), std::move(diagnostics_)};
  }

 private:
  void hold(std::size_t index) {
    const Note& note = written_.notes[index];
    Rational left = note.onset + note.duration;
    for (std::size_t m = note.measure; m + 1 < held_.size(); ++m) {
      if (left <= written_.measures[m].length) return;
      left -= written_.measures[m].length;
      held_[m + 1] = HeldIn{index, left};
    }
  }

  // What is in force after a measure, given what was before it.
  InForce after(std::size_t measure) const {
    InForce force = force_.back();
    for (const Direction& direction : in_measure(written_.directions, measure)) {
      const DirectionValue& value = direction.value;
      if (const auto* tempo = std::get_if<TempoChange>(&value)) {
        force.tempo = tempo->tempo;
        force.bent = false;
      } else if (const auto* key = std::get_if<KeyChange>(&value)) {
        force.key = key->key;
      } else if (const auto* flute = std::get_if<FluteChange>(&value)) {
        force.flute = flute->flute;
      } else if (const auto* cue = std::get_if<Cue>(&value)) {
        if (*cue == Cue::rit || *cue == Cue::accel) force.bent = true;
        if (*cue == Cue::a_tempo) force.bent = false;
      }
    }
    return force;
  }

  bool arrives_from_elsewhere(std::size_t i) const {
    return i > 0 && order_[i - 1] + 1 != order_[i];
  }

  void measure(std::size_t i) {
    const std::size_t from = order_[i];
    Measure copy = written_.measures[from];
    copy.repeat_start = copy.repeat_end = copy.irregular = false;
    copy.times = 2;
    copy.ending.clear();
    // A final bar in the middle ends a section, no more.
    if (copy.right == BarStyle::final && i + 1 < order_.size()) copy.right = BarStyle::section;
    played_.score.measures.push_back(std::move(copy));
    if (arrives_from_elsewhere(i)) restore(i);
    flute_in_use(i);
    for (const Direction& direction : in_measure(written_.directions, from)) {
      if (is_followed(direction.value)) continue;
      played_.score.directions.push_back(direction);
      played_.score.directions.back().measure = i;
    }
    if (arrives_from_elsewhere(i) && held_[from]) strike_anew(i, *held_[from]);
    for (const Note& written : in_measure(written_.notes, from)) {
      Note note = written;
      note.measure = i;
      note.duration = played_length(i, note.onset, note.duration);
      played_.score.notes.push_back(std::move(note));
      played_.source.push_back(static_cast<std::size_t>(&written - written_.notes.data()));
    }
    for (const Rest& rest : in_measure(written_.rests, from)) {
      played_.score.rests.push_back(rest);
      played_.score.rests.back().measure = i;
    }
  }

  // How much of a note is played before the playing goes elsewhere.
  Rational played_length(std::size_t i, Rational onset, Rational duration) const {
    Rational left = onset + duration;
    for (std::size_t k = i;; ++k) {
      if (left <= written_.measures[order_[k]].length) return duration;
      left -= written_.measures[order_[k]].length;
      if (k + 1 == order_.size() || arrives_from_elsewhere(k + 1)) return duration - left;
    }
  }

  void strike_anew(std::size_t i, const HeldIn& held) {
    const Note& written = written_.notes[held.note];
    Note note;
    note.measure = i;
    note.duration = played_length(i, 0, held.rest);
    note.tone = written.tone;
    note.asked_holes = written.asked_holes;
    note.slur_to_next = written.slur_to_next;
    note.source = written.source;
    played_.score.notes.push_back(std::move(note));
    played_.source.push_back(held.note);
    if (!told_.insert(order_[i]).second) return;
    diagnostics_.push_back(report_measure(
        rule::tie_struck_anew, written_.measures[order_[i]],
        base::message("bar {} begins with a hold, but the playing arrives from elsewhere: "
                      "the rest of the note is struck anew",
                      written_.measures[order_[i]].number),
        base::message("begin the bar with a note of its own")));
  }

  // Brings back what was in force at the written place, unless a direction there says its own.
  void restore(std::size_t i) {
    const std::size_t from = order_[i];
    const InForce& now = force_[order_[i - 1] + 1];
    const InForce& then = force_[from];
    const auto add_unless = [&](bool same, DirectionValue value) {
      if (same) return;
      for (const Direction& own : in_measure(written_.directions, from)) {
        if (own.onset == Rational(0) && own.value.index() == value.index()) return;
      }
      played_.score.directions.push_back({i, 0, std::move(value), {}});
    };
    add_unless(now.flute == then.flute, FluteChange{then.flute});
    add_unless(now.tempo == then.tempo && now.bent == then.bent, TempoChange{then.tempo});
    // Without a key in the header the first one is found from the notes and has no name here.
    if (then.key) add_unless(now.key == then.key, KeyChange{*then.key});
  }

  // The resolved flute of the written place, where another one was in use before.
  void flute_in_use(std::size_t i) {
    if (written_.flutes.empty() || order_[i] < written_.flutes[0].measure) return;
    const std::size_t index = flute_index(written_, order_[i]);
    if (std::exchange(flute_, index) == index) return;
    played_.score.flutes.push_back(written_.flutes[index]);
    played_.score.flutes.back().measure = i;
  }

  const Score& written_;
  std::vector<std::optional<HeldIn>> held_;  // by measure
  std::vector<InForce> force_;               // at the start of each measure, and at the end
  std::vector<std::size_t> order_;
  PlayedScore played_;
  std::set<std::size_t> told_;  // measures whose hold has been reported
  std::optional<std::size_t> flute_;
  base::Diagnostics diagnostics_;
};

}  // namespace

base::Outcome<PlayedScore> play_out(const Score& score) {
  return Unfolding(score).run();
}

std::optional<Excerpt> excerpt(const Score& score, int first, int last) {
  const auto& measures = score.measures;
  const auto is = [](int number) {
    return [=](const Measure& measure) { return measure.number == std::to_string(number); };
  };
  const auto from = std::find_if(measures.begin(), measures.end(), is(first));
  const auto to = std::find_if(measures.rbegin(), measures.rend(), is(last)).base();
  if (from >= to) return std::nullopt;
  const auto begin = static_cast<std::size_t>(from - measures.begin());
  const auto end = static_cast<std::size_t>(to - measures.begin());
  Score cut;
  cut.header = score.header;
  cut.song_bars = score.song_bars;
  cut.measures.assign(from, to);
  cut.measures.front().break_before = LineBreak::none;
  // The flute in use at the start, and those that follow.
  const std::size_t first_flute = flute_index(score, begin);
  for (std::size_t i = first_flute; i < score.flutes.size(); ++i) {
    if (i > first_flute && score.flutes[i].measure >= end) break;
    cut.flutes.push_back(score.flutes[i]);
    cut.flutes.back().measure = i == first_flute ? 0 : score.flutes[i].measure - begin;
  }
  for (const Note& note : score.notes) {
    if (auto part = cut_note(score, note, begin, end)) cut.notes.push_back(*std::move(part));
  }
  lead_nowhere(cut.notes);
  for (Rest rest : score.rests) {
    if (rest.measure < begin || rest.measure >= end) continue;
    rest.measure -= begin;
    cut.rests.push_back(std::move(rest));
  }
  for (Direction direction : score.directions) {
    // At the start also what holds on from before.
    const bool is_before = direction.measure < begin;
    if (direction.measure >= end || (is_before && !holds_on(direction.value))) continue;
    if (is_before) direction.onset = 0;
    direction.measure = is_before ? 0 : direction.measure - begin;
    cut.directions.push_back(std::move(direction));
  }
  cut.verses = verses_in_use(cut);
  gather_start_into_header(cut);
  mark_irregular(cut);
  return Excerpt{std::move(cut), first_flute};
}

std::vector<std::size_t> tone_numbers(const Score& score) {
  std::vector<std::size_t> numbers;
  numbers.reserve(score.notes.size());
  std::size_t next = 0;
  for (const Note& note : score.notes) {
    numbers.push_back(next + note.grace_before.size());
    next = numbers.back() + 1 + note.grace_after.size();
  }
  return numbers;
}

}  // namespace yubifu::model
