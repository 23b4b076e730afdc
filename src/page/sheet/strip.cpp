#include "page/sheet/strip.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/findings.h"
#include "base/message.h"
#include "model/note.h"
#include "model/play_out.h"
#include "model/rhythm_tree.h"
#include "model/words.h"
#include "page/rules.h"

namespace yubifu::page {
namespace {

using model::Rational;
using model::RhythmWord;

std::string marks_of(const std::vector<model::Mark>& marks) {
  std::string text;
  for (const model::Mark mark : marks) text += fmt::format("{{{}}}", model::word_of(mark));
  return text;
}

std::string graces(std::string_view word, const std::vector<model::Tone>& tones) {
  if (tones.empty()) return {};
  std::string text = fmt::format("{{{}", word);
  for (const model::Tone& tone : tones) text += " " + printed(tone);
  return text + "}";
}

// A note or a marked rest with its additions: 三メ↓20{uchi}~.
std::string words_of(const model::Note& note) {
  std::string text = printed(note.tone) + marks_of(note.marks);
  if (note.asked_holes) text += fmt::format("{{holes {}}}", printed(*note.asked_holes));
  text += graces("pre", note.grace_before) + graces("post", note.grace_after);
  return note.slur_to_next ? text + "~" : text;
}

std::string words_of(const model::Rest& rest) {
  return "・" + marks_of(rest.marks);
}

class BarBuilder {
 public:
  BarBuilder(const model::Score& score, const std::vector<int>& held_counts,
             std::vector<int>& held_seen, Strip& strip)
      : score_(score), held_counts_(held_counts), held_seen_(held_seen), strip_(strip) {}

  void add(std::size_t measure, const model::BarContent& content,
           const std::vector<RhythmWord>& words) {
    content_ = &content;
    bar_ = &strip_.bars.emplace_back();
    bar_->measure = measure;
    for (const RhythmWord& word : words) add_word(word);
    bar_->places.emplace_back(score_.measures[measure].length, bar_->length);
  }

 private:
  void add_word(const RhythmWord& word) {
    if (bar_->length > 0) bar_->seams.push_back(bar_->length);
    const Rational words = word.is_group() ? Rational(word.words) * word.fraction : Rational(1);
    const double length = words.as_double();
    if (word.is_group()) {
      add_group(word, bar_->length, length, 0);
    } else {
      add_leaf(word, bar_->length, length, true);
    }
    bar_->length += length;
    add_free_hold();
  }

  // Returns the rank that a bracket around this group has.
  int add_group(const RhythmWord& word, double begin, double length, int rank) {
    const model::GroupDivision division = division_of(word);
    const int beams = division.halvings;
    const std::size_t first = bar_->cells.size();
    const double whole = (word.end - word.begin).as_double();
    int bracket_rank = 0;
    brackets_ += '(';
    for (const RhythmWord& part : word.parts) {
      const double part_begin = begin + length * (part.begin - word.begin).as_double() / whole;
      const double part_length = length * (part.end - part.begin).as_double() / whole;
      if (part.is_group()) {
        bracket_rank =
            std::max(bracket_rank, add_group(part, part_begin, part_length, rank + beams));
      } else {
        add_leaf(part, part_begin, part_length, false);
      }
    }
    bar_->cells.back().words += closing_bracket(word);
    for (int beam = 1; beam <= beams; ++beam) {
      bar_->beams.push_back({first, bar_->cells.size() - 1, rank + beam});
    }
    if (!division.uneven) return bracket_rank;
    bar_->brackets.push_back({begin, begin + length, *division.uneven, bracket_rank});
    return bracket_rank + 1;
  }

  void add_leaf(const RhythmWord& word, double begin, double length, bool whole_beat) {
    const model::BarSpan& span = content_->spans[word.span];
    bar_->places.emplace_back(word.begin, begin);
    Cell cell;
    cell.begin = begin;
    cell.length = length;
    cell.note = span.note;
    cell.last_of_note = word.end == span.end && !span.held_out;
    cell.words = std::exchange(brackets_, {});
    if (!span.note) {
      cell.kind = CellKind::rest;
      if (word.begin == span.begin) cell.rest = span.rest;
      cell.words += cell.rest ? words_of(score_.rests[*cell.rest]) : "・";
    } else if (word.starts) {
      cell.words += words_of(score_.notes[*span.note]);
    } else {
      cell.kind = CellKind::held;
      cell.words += '-';
      if (whole_beat) add_held_beat(cell);
    }
    bar_->cells.push_back(cell);
  }

  // Finds the stroke of a whole beat.
  void add_held_beat(Cell& cell) {
    const std::size_t note = *cell.note;
    if (score_.notes[note].has(model::Mark::fermata)) {
      cell.kind = CellKind::free_hold;
      return;
    }
    const int seen = held_seen_[note]++;
    if (held_counts_[note] > 1) cell.stroke = seen % 2 == 0 ? Stroke::level : Stroke::upright;
  }

  // A note held freely without a held beat of its own gets a step for its stroke; where the next
  // note follows within the beat, there is no room, and the sign stands instead.
  void add_free_hold() {
    Cell& last = bar_->cells.back();
    if (!last.note || !last.last_of_note || last.kind == CellKind::free_hold) return;
    if (!score_.notes[*last.note].has(model::Mark::fermata) || held_counts_[*last.note] > 0) return;
    last.last_of_note = false;
    Cell hold;
    hold.kind = CellKind::free_hold;
    hold.begin = bar_->length;
    hold.note = last.note;
    hold.last_of_note = true;
    bar_->cells.push_back(hold);
    bar_->length += hold.length;
  }

  static std::string closing_bracket(const RhythmWord& word) {
    if (word.fraction != Rational(1)) {
      return fmt::format("):{}/{}", word.fraction.numerator(), word.fraction.denominator());
    }
    return word.words > 1 ? fmt::format("):{}", word.words) : ")";
  }

  const model::Score& score_;
  const std::vector<int>& held_counts_;
  std::vector<int>& held_seen_;
  Strip& strip_;
  const model::BarContent* content_ = nullptr;
  Bar* bar_ = nullptr;
  std::string brackets_;  // opened before the next cell
};

bool is_fingered(const model::Note& note) {
  return all_tones(note, [](const model::Tone& tone) { return tone.fingering.has_value(); });
}

base::Diagnostics not_fingered(const model::Score& score) {
  base::Findings found;
  for (const model::Note& note : score.notes) {
    if (is_fingered(note)) continue;
    found.add(report(rule::not_fingered, note.source,
                     base::message("a note has no fingering and cannot be printed"),
                     base::message("find fingers for a flute first")),
              note.measure);
  }
  return found.diagnostics(model::BarNumbers{score}, base::bars_unsaid);
}

base::Diagnostic too_fine(const model::Measure& measure) {
  return report(
      rule::too_fine, measure.source,
      base::message("bar {} is divided too finely to be printed in even steps", measure.number), {},
      {measure.number});
}

// The words of every bar, or what stands against it.
base::Outcome<std::vector<std::vector<RhythmWord>>> all_words(
    const model::Score& score, const std::vector<model::BarContent>& contents) {
  base::Outcome<std::vector<std::vector<RhythmWord>>> result;
  std::vector<std::vector<RhythmWord>> bars(contents.size());
  for (std::size_t i = 0; i < contents.size(); ++i) {
    try {
      bars[i] = rhythm_words(score, i, contents[i]);
    } catch (const model::DivisionTooFine&) {
      result.diagnostics.push_back(too_fine(score.measures[i]));
    } catch (const model::TimeOverflow&) {
      result.diagnostics.push_back(too_fine(score.measures[i]));
    }
  }
  if (result.diagnostics.empty()) result.value = std::move(bars);
  return result;
}

// For each note the words of a whole beat that hold it.
std::vector<int> held_beats_of(const model::Score& score,
                               const std::vector<model::BarContent>& contents,
                               const std::vector<std::vector<RhythmWord>>& bars) {
  std::vector<int> counts(score.notes.size(), 0);
  for (std::size_t i = 0; i < bars.size(); ++i) {
    for (const RhythmWord& word : bars[i]) {
      if (word.is_group() || word.starts) continue;
      if (const auto note = contents[i].spans[word.span].note) ++counts[*note];
    }
  }
  return counts;
}

std::vector<bool> fermata_signs(const model::Score& score, const std::vector<Bar>& bars) {
  std::vector<bool> signs;
  for (const model::Note& note : score.notes) signs.push_back(note.has(model::Mark::fermata));
  for (const Bar& bar : bars) {
    for (const Cell& cell : bar.cells) {
      if (cell.kind == CellKind::free_hold) signs[*cell.note] = false;
    }
  }
  return signs;
}

}  // namespace

double Bar::step_at(Rational place) const {
  const auto found = std::lower_bound(
      places.begin(), places.end(), place,
      [](const std::pair<Rational, double>& at, Rational wanted) { return at.first < wanted; });
  return found == places.end() ? length : found->second;
}

base::Outcome<Strip> make_strip(const model::Score& score) {
  base::Outcome<Strip> result;
  result.diagnostics = not_fingered(score);
  if (!result.diagnostics.empty()) return result;
  std::vector<model::BarContent> contents;
  try {
    contents = bar_contents(score);
  } catch (const model::TimeOverflow&) {
    result.diagnostics.push_back(report(
        rule::too_fine, std::nullopt, base::message("a time of the score is too fine to be held")));
    return result;
  }
  auto words = all_words(score, contents);
  base::append(result.diagnostics, std::move(words.diagnostics));
  if (!words.value) return result;
  const std::vector<int> held_counts = held_beats_of(score, contents, *words.value);
  std::vector<int> held_seen(score.notes.size(), 0);
  Strip strip;
  strip.bars.reserve(contents.size());
  BarBuilder builder(score, held_counts, held_seen, strip);
  for (std::size_t i = 0; i < contents.size(); ++i) {
    builder.add(i, contents[i], (*words.value)[i]);
  }
  strip.fermata_signs = fermata_signs(score, strip.bars);
  strip.tone_numbers = model::tone_numbers(score);
  result.value = std::move(strip);
  return result;
}

}  // namespace yubifu::page
