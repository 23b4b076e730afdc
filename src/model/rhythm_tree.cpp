#include "model/rhythm_tree.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <utility>

#include "base/numbers.h"
#include "model/rhythm_division.h"

namespace yubifu::model {
namespace {

// A bar longer than this many words cannot be meant.
constexpr std::size_t kMostWordsInBar = 500'000;

// What is left of a time behind its whole words.
Rational behind_words(Rational time, Rational beat) {
  const Rational words = time / beat;
  return (words - words.floor()) * beat;
}

// Part of a bar in which one beat counts. A bar without a change of beat inside has one.
struct Segment {
  Rational begin;
  Rational end;
  Rational beat;
  Rational first_word;  // what an incomplete word at its beginning lasts; zero for none

  Rational last_word() const { return behind_words(end - begin - first_word, beat); }
};

struct ChangeOfBeat {
  Rational onset;
  Rational beat;
};

std::vector<ChangeOfBeat> beat_changes(const Score& score, const BarContent& content) {
  std::vector<ChangeOfBeat> changes;
  for (const std::size_t index : content.directions) {
    const Direction& direction = score.directions[index];
    const auto* change = std::get_if<BeatChange>(&direction.value);
    if (change != nullptr) changes.push_back({direction.onset, change->beat});
  }
  return changes;
}

// A new beat counts from the end of the word in which it is written.
std::vector<Segment> segments_of(const Measure& measure, const std::vector<ChangeOfBeat>& changes,
                                 Rational first_word) {
  std::vector<Segment> segments;
  Segment now{0, measure.length, measure.beat, first_word};
  std::optional<ChangeOfBeat> coming;
  const auto begin_coming = [&] {
    segments.push_back({now.begin, coming->onset, now.beat, now.first_word});
    now = {coming->onset, measure.length, coming->beat, 0};
    coming.reset();
  };
  for (const auto& [onset, beat] : changes) {
    if (coming && onset >= coming->onset) begin_coming();
    const Rational whole = now.begin + now.first_word;
    const Rational words = (onset - whole) / now.beat;
    coming = {whole + now.beat * std::max<Rational>(words.ceil(), 0), beat};
  }
  if (coming && coming->onset < measure.length) begin_coming();
  segments.push_back(now);
  return segments;
}

// The segments of a bar whose incomplete word is its first: the shortest such word after which all
// others are whole. Where changes of beat leave none, the incomplete word comes last.
std::vector<Segment> segments_of_pickup(const Measure& measure,
                                        const std::vector<ChangeOfBeat>& changes) {
  std::vector<Rational> lengths{0, behind_words(measure.length, measure.beat)};
  for (const auto& [onset, beat] : changes) {
    lengths.push_back(behind_words(onset, measure.beat));
    lengths.push_back(
        behind_words(onset + behind_words(measure.length - onset, beat), measure.beat));
  }
  std::sort(lengths.begin(), lengths.end());
  for (const Rational first_word : lengths) {
    auto segments = segments_of(measure, changes, first_word);
    if (segments.back().last_word() == Rational(0)) return segments;
  }
  return segments_of(measure, changes, 0);
}

class BarWriter {
 public:
  BarWriter(const Score& score, std::size_t measure, const BarContent& content)
      : score_(score), measure_(measure), content_(content) {
    for (const BarSpan& span : content.spans) starts_.push_back(span.begin);
    for (const std::size_t index : content.directions) {
      starts_.push_back(score.directions[index].onset);
    }
    starts_.push_back(score.measures[measure].length);
    std::sort(starts_.begin(), starts_.end());
    starts_.erase(std::unique(starts_.begin(), starts_.end()), starts_.end());
  }

  std::vector<RhythmWord> words() {
    if (content_.spans.empty()) return {};
    const Measure& measure = score_.measures[measure_];
    const auto changes = beat_changes(score_, content_);
    const auto segments = fraction_comes_first(score_, measure_)
                              ? segments_of_pickup(measure, changes)
                              : segments_of(measure, changes, 0);
    for (const Segment& segment : segments) write_segment(segment);
    return std::move(words_);
  }

 private:
  void write_segment(const Segment& segment) {
    const Rational begin = segment.begin + segment.first_word;
    const Rational end = segment.end - segment.last_word();
    if (segment.begin < begin) write_fraction(segment.begin, begin, segment.beat);
    write_row(begin, ((end - begin) / segment.beat).floor(), segment.beat);
    if (end < segment.end) write_fraction(end, segment.end, segment.beat);
  }

  // The starts from `begin` to `end`, both included, counted in words.
  std::vector<Rational> places(Rational begin, Rational end, Rational word) const {
    const auto first = std::lower_bound(starts_.begin(), starts_.end(), begin);
    const auto last = std::upper_bound(first, starts_.end(), end);
    std::vector<Rational> found;
    for (auto start = first; start != last; ++start) found.push_back((*start - begin) / word);
    return found;
  }

  // Cuts a row at the starts on word boundaries: no word reaches over one of them.
  void write_row(Rational begin, Units words, Rational beat) {
    if (words > static_cast<Units>(kMostWordsInBar)) throw TimeOverflow();
    const std::vector<Rational> all = places(begin, begin + beat * words, beat);
    auto from = all.begin();
    for (Units at = 0; at < words;) {
      const auto inside = from != all.end() && *from == Rational(at) ? from + 1 : from;
      const auto to = std::find_if(inside, all.end(), [](Rational p) { return p.is_whole(); });
      const Units next = to == all.end() ? words : to->numerator();
      origin_ = begin + beat * at;
      write_stretch({from, to == all.end() ? to : to + 1}, at, next - at, beat);
      at = next;
      from = to;
    }
  }

  // Runs `build` over so many words, of `finest` units each, with starts at the places found; and
  // a second time in the plain way when the search was too long.
  template <typename Build>
  auto divided(const std::vector<Rational>& found, Units words, Units finest, const Build& build) {
    std::vector<Units> starts;
    for (const Rational place : found) starts.push_back((place * finest).numerator());
    RhythmDivision division(std::move(starts));
    const Stretch all = division.stretch(0, words * finest);
    const std::size_t leaves = leaves_;
    const std::size_t span = span_;
    auto built = build(division, all);
    if (!division.exhausted()) return built;
    division.give_up_joining();
    leaves_ = leaves;
    span_ = span;
    return build(division, all);
  }

  // Words that have starts only inside them, and perhaps at both ends of the stretch. `found`
  // holds those starts in order, counted from `words_before` words earlier.
  void write_stretch(std::vector<Rational> found, Units words_before, Units words, Rational beat) {
    for (Rational& place : found) place -= words_before;
    const auto finest = common_denominator(found);
    if (finest) {
      unit_ = beat / *finest;
      auto list = divided(found, words, *finest, [&](RhythmDivision& division, const Stretch& row) {
        return row_words(division, row, *finest, 0);
      });
      std::move(list.begin(), list.end(), std::back_inserter(words_));
      return;
    }
    if (words == 1) throw DivisionTooFine();
    // Too fine to be joined in one word of several parts.
    const Rational origin = origin_;
    auto first = found.begin();
    for (Units word = 0; word < words; ++word) {
      // One at a border belongs to the words on both sides.
      first = std::lower_bound(first, found.end(), Rational(word));
      const auto last = std::upper_bound(first, found.end(), Rational(word + 1));
      std::vector<Rational> inside(first, last);
      origin_ = origin + beat * word;
      write_stretch(std::move(inside), word, 1, beat);
    }
  }

  // Nothing when it passes the limit.
  static std::optional<Units> common_denominator(const std::vector<Rational>& found) {
    Units common = 1;
    for (const Rational place : found) {
      if (place.denominator() > kFinestDivision) return std::nullopt;
      common = std::lcm(common, place.denominator());
      if (common > kFinestDivision) return std::nullopt;
    }
    return common;
  }

  void write_fraction(Rational begin, Rational end, Rational beat) {
    const Rational fraction = (end - begin) / beat;
    const std::vector<Rational> found = places(begin, end, end - begin);
    const auto finest = common_denominator(found);
    if (!finest || fraction.denominator() > kFinestDivision) throw DivisionTooFine();
    origin_ = begin;
    unit_ = (end - begin) / *finest;
    auto word = divided(found, 1, *finest, [&](RhythmDivision& division, const Stretch& all) {
      if (all.count() > 0) return group(division, all, 1);
      RhythmWord whole = word_over(0, *finest);
      whole.parts = {leaf(0, *finest)};
      whole.shares = 1;
      return whole;
    });
    word.fraction = fraction;
    words_.push_back(std::move(word));
  }

  std::vector<RhythmWord> row_words(RhythmDivision& division, const Stretch& row, Units part,
                                    Units around) {
    std::vector<RhythmWord> words;
    std::size_t first = row.first;
    for (Units at = row.begin; at < row.end && !division.exhausted();) {
      const Stretch next = division.next_in_row(row, part, at, first);
      if (division.is_joined(next, part, around)) {
        words.push_back(group(division, next, static_cast<int>(next.length() / part)));
      } else {
        add_separate(division, next, part, words);
      }
      at = next.end;
      first = next.last + 1;
    }
    return words;
  }

  void add_separate(RhythmDivision& division, const Stretch& in, Units part,
                    std::vector<RhythmWord>& words) {
    std::size_t first = in.first;
    for (Units at = in.begin; at < in.end;) {
      const bool some_left = first < in.last;
      const Stretch inside =
          some_left ? division.part_around(in, part, first) : Stretch{in.end, in.end, 0, 0};
      for (; at < inside.begin; at += part) words.push_back(leaf(at, at + part));
      if (!some_left) return;
      words.push_back(group(division, inside, 1));
      at = inside.end;
      first = inside.last;
    }
  }

  RhythmWord group(RhythmDivision& division, const Stretch& in, int joined) {
    const Units shares = division.group(in).shares;
    RhythmWord word = word_over(in.begin, in.end);
    if (division.exhausted()) return word;
    word.parts = row_words(division, in, in.length() / shares, division.denominator(in));
    word.shares = static_cast<int>(shares);
    word.words = joined;
    return word;
  }

  RhythmWord leaf(Units begin, Units end) {
    if (++leaves_ > kMostWordsInBar) throw TimeOverflow();
    RhythmWord word = word_over(begin, end);
    while (content_.spans[span_].end <= word.begin) ++span_;
    const BarSpan& span = content_.spans[span_];
    word.span = span_;
    word.starts = span.begin == word.begin && !span.held_in;
    return word;
  }

  RhythmWord word_over(Units begin, Units end) const {
    RhythmWord word;
    word.begin = origin_ + unit_ * begin;
    word.end = origin_ + unit_ * end;
    return word;
  }

  const Score& score_;
  std::size_t measure_;
  const BarContent& content_;
  std::vector<Rational> starts_;  // and the end of the bar
  std::vector<RhythmWord> words_;
  std::size_t leaves_ = 0;
  std::size_t span_ = 0;  // the span of the last leaf

  Rational origin_;  // where the units of the division at work begin
  Rational unit_;
};

}  // namespace

std::vector<BarContent> bar_contents(const Score& score) {
  std::vector<BarContent> bars(score.measures.size());
  for (std::size_t i = 0; i < score.directions.size(); ++i) {
    bars[score.directions[i].measure].directions.push_back(i);
  }
  std::size_t next_note = 0;
  std::size_t next_rest = 0;
  std::optional<std::size_t> held;  // the note that reaches over the bar line
  Rational still_held;
  for (std::size_t measure = 0; measure < score.measures.size(); ++measure) {
    const Rational length = score.measures[measure].length;
    BarContent& bar = bars[measure];
    Rational now;
    const auto place = [&](std::size_t note, Rational begin, Rational duration, bool held_in) {
      const Rational end = begin + duration;
      const bool held_out = end > length;
      bar.spans.push_back({begin, held_out ? length : end, note, {}, held_in, held_out});
      now = bar.spans.back().end;
      held = held_out ? std::optional(note) : std::nullopt;
      still_held = held_out ? end - length : Rational(0);
    };
    // Parted where a marked rest or a direction stands.
    const auto add_rest = [&](Rational end) {
      std::map<Rational, std::optional<std::size_t>> cuts{{now, {}}};
      for (const std::size_t index : bar.directions) {
        const Rational onset = score.directions[index].onset;
        if (onset > now && onset < end) cuts[onset];
      }
      for (; next_rest < score.rests.size() && score.rests[next_rest].measure == measure &&
             score.rests[next_rest].onset < end;
           ++next_rest) {
        cuts[score.rests[next_rest].onset] = next_rest;
      }
      for (auto cut = cuts.begin(); cut != cuts.end(); ++cut) {
        const auto next = std::next(cut);
        bar.spans.push_back({cut->first, next == cuts.end() ? end : next->first, {}, cut->second});
      }
    };
    // A bar of no length (free time) has no span; the note goes on behind it.
    if (held && length > Rational(0)) place(*held, 0, still_held, true);
    while (next_note < score.notes.size() && score.notes[next_note].measure == measure) {
      const Note& note = score.notes[next_note];
      if (note.onset > now) add_rest(note.onset);
      place(next_note++, note.onset, note.duration, false);
    }
    if (now < length) add_rest(length);
  }
  return bars;
}

std::vector<RhythmWord> rhythm_words(const Score& score, std::size_t measure,
                                     const BarContent& content) {
  return BarWriter(score, measure, content).words();
}

GroupDivision division_of(const RhythmWord& group) {
  const Rational ratio = Rational(group.shares) / (Rational(group.words) * group.fraction);
  GroupDivision division;
  for (Rational reached = 2; reached <= ratio; reached = reached * 2) ++division.halvings;
  if (!base::is_power_of_two(ratio.numerator()) || !base::is_power_of_two(ratio.denominator())) {
    const bool shares_say_it = !base::is_power_of_two(group.shares);
    division.uneven = shares_say_it ? group.shares : static_cast<int>(ratio.numerator());
  }
  return division;
}

}  // namespace yubifu::model
