#include "page/sheet/strip.h"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "base/findings.h"
#include "base/message.h"
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

using Words = std::vector<RhythmWord>;

struct StripBuilder {
  const model::Score& score;
  const std::vector<model::BarContent>& contents;
  const std::vector<Words>& bar_words;
  std::vector<int> held_counts = std::vector<int>(score.notes.size());  // held whole beats of notes
  std::vector<int> held_seen = held_counts;
  Strip strip = {};
  const model::BarContent* content = nullptr;
  Bar* bar = nullptr;
  std::string brackets = {};  // opened before the next cell

  Strip run() {
    for (std::size_t i = 0; i < bar_words.size(); ++i) {
      for (const RhythmWord& word : bar_words[i]) {
        if (word.is_group() || word.starts) continue;
        if (const auto note = contents[i].spans[word.span].note) ++held_counts[*note];
      }
    }
    for (const model::Note& note : score.notes) {
      strip.fermata_signs.push_back(note.has(model::Mark::fermata));
    }
    strip.bars.reserve(bar_words.size());
    for (std::size_t i = 0; i < bar_words.size(); ++i) {
      content = &contents[i];
      bar = &strip.bars.emplace_back();
      bar->measure = i;
      for (const RhythmWord& word : bar_words[i]) add_word(word);
      bar->places.emplace_back(score.measures[i].length, bar->length);
    }
    strip.tone_numbers = model::tone_numbers(score);
    return std::move(strip);
  }

  void add_word(const RhythmWord& word) {
    if (bar->length > 0) bar->seams.push_back(bar->length);
    const Rational words = word.is_group() ? Rational(word.words) * word.fraction : Rational(1);
    const double length = words.as_double();
    if (word.is_group()) {
      add_group(word, bar->length, length, 0);
    } else {
      add_leaf(word, bar->length, length, true);
    }
    bar->length += length;
    add_free_hold();
  }

  // Returns the rank that a bracket around this group has.
  int add_group(const RhythmWord& word, double begin, double length, int rank) {
    const model::GroupDivision division = division_of(word);
    const int beams = division.halvings;
    const std::size_t first = bar->cells.size();
    const double whole = (word.end - word.begin).as_double();
    int bracket_rank = 0;
    brackets += '(';
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
    bar->cells.back().words += closing_bracket(word);
    for (int beam = 1; beam <= beams; ++beam) {
      bar->beams.push_back({first, bar->cells.size() - 1, rank + beam});
    }
    if (!division.uneven) return bracket_rank;
    bar->brackets.push_back({begin, begin + length, *division.uneven, bracket_rank});
    return bracket_rank + 1;
  }

  void add_leaf(const RhythmWord& word, double begin, double length, bool whole_beat) {
    const model::BarSpan& span = content->spans[word.span];
    bar->places.emplace_back(word.begin, begin);
    Cell cell;
    cell.begin = begin;
    cell.length = length;
    cell.note = span.note;
    cell.last_of_note = word.end == span.end && !span.held_out;
    cell.words = std::exchange(brackets, {});
    if (!span.note) {
      cell.kind = CellKind::rest;
      if (word.begin == span.begin) cell.rest = span.rest;
      cell.words += cell.rest ? "・" + marks_of(score.rests[*cell.rest].marks) : "・";
    } else if (word.starts) {
      cell.words += words_of(score.notes[*span.note]);
    } else {
      const std::size_t note = *span.note;
      const bool freely = whole_beat && score.notes[note].has(model::Mark::fermata);
      cell.kind = freely ? CellKind::free_hold : CellKind::held;
      cell.words += '-';
      if (freely) strip.fermata_signs[note] = false;
      if (whole_beat && !freely && held_counts[note] > 1) {
        cell.stroke = held_seen[note]++ % 2 == 0 ? Stroke::level : Stroke::upright;
      }
    }
    bar->cells.push_back(cell);
  }

  // A note held freely without a held beat of its own gets a step for its stroke; where the next
  // note follows within the beat, there is no room, and the sign stands instead.
  void add_free_hold() {
    Cell& last = bar->cells.back();
    if (!last.note || !last.last_of_note || last.kind == CellKind::free_hold) return;
    if (!score.notes[*last.note].has(model::Mark::fermata) || held_counts[*last.note] > 0) return;
    last.last_of_note = false;
    strip.fermata_signs[*last.note] = false;
    const Cell hold{
        .kind = CellKind::free_hold, .begin = bar->length, .note = last.note, .last_of_note = true};
    bar->cells.push_back(hold);
    bar->length += hold.length;
  }

  static std::string closing_bracket(const RhythmWord& word) {
    if (word.fraction != Rational(1)) {
      return fmt::format("):{}/{}", word.fraction.numerator(), word.fraction.denominator());
    }
    return word.words > 1 ? fmt::format("):{}", word.words) : ")";
  }
};

base::Diagnostics not_fingered(const model::Score& score) {
  base::Findings found;
  for (const model::Note& note : score.notes) {
    const auto is_fingered = [](const model::Tone& tone) { return tone.fingering.has_value(); };
    if (all_tones(note, is_fingered)) continue;
    found.add(report(rule::not_fingered, note.source,
                     base::message("a note has no fingering and cannot be printed"),
                     base::message("find fingers for a flute first")),
              note.measure);
  }
  return found.diagnostics(model::BarNumbers{score}, base::bars_unsaid);
}

}  // namespace

double Bar::step_at(Rational place) const {
  const auto found = std::lower_bound(
      places.begin(), places.end(), place,
      [](const std::pair<Rational, double>& at, Rational wanted) { return at.first < wanted; });
  return found == places.end() ? length : found->second;
}

base::Outcome<Strip> make_strip(const model::Score& score) {
  base::Outcome<Strip> result{std::nullopt, not_fingered(score)};
  if (!result.diagnostics.empty()) return result;
  std::vector<model::BarContent> contents;
  try {
    contents = bar_contents(score);
  } catch (const model::TimeOverflow&) {
    result.diagnostics.push_back(report(
        rule::too_fine, std::nullopt, base::message("a time of the score is too fine to be held")));
    return result;
  }
  std::vector<Words> words(contents.size());
  for (std::size_t i = 0; i < contents.size(); ++i) {
    try {
      words[i] = rhythm_words(score, i, contents[i]);
    } catch (const std::runtime_error&) {  // DivisionTooFine, TimeOverflow
      const model::Measure& bar = score.measures[i];
      result.diagnostics.push_back(report(
          rule::too_fine, bar.source,
          base::message("bar {} is divided too finely to be printed in even steps", bar.number), {},
          {bar.number}));
    }
  }
  if (result.diagnostics.empty()) result.value = StripBuilder{score, contents, words}.run();
  return result;
}

}  // namespace yubifu::page
