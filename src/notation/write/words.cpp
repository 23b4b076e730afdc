#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "model/rhythm_tree.h"
#include "notation/spelling.h"
#include "notation/write/layout.h"
#include "notation/write/text.h"

namespace yubifu::notation {
namespace {

using model::Rational;

// The beat in force at the end of a measure.
Rational last_beat(const model::Score& score, std::size_t measure) {
  Rational beat = score.measures[measure].beat;
  const auto after = std::upper_bound(
      score.directions.begin(), score.directions.end(), measure,
      [](std::size_t index, const model::Direction& d) { return index < d.measure; });
  for (auto direction = after; direction != score.directions.begin();) {
    --direction;
    if (direction->measure != measure) break;
    if (const auto* change = std::get_if<model::BeatChange>(&direction->value)) {
      return change->beat;
    }
  }
  return beat;
}

std::string ending_text(const std::vector<int>& numbers) {
  return braced(kEnding, fmt::format("{}", fmt::join(numbers, ",")));
}

class BarPrinter {
 public:
  BarPrinter(const model::Score& score, std::size_t measure, const model::BarContent& content,
             Alphabet alphabet)
      : score_(score),
        alphabet_(alphabet),
        index_(measure),
        measure_(score.measures[measure]),
        content_(content),
        beat_(measure_.beat) {}

  PrintedBar print() {
    add_attributes(bar_.lead);
    add_directions(0, bar_.lead);
    for (const model::RhythmWord& word : model::rhythm_words(score_, index_, content_)) {
      bar_.words.emplace_back();
      add_word(word, bar_.words.back());
      if (coming_beat_) beat_ = *std::exchange(coming_beat_, std::nullopt);
    }
    add_directions(measure_.length, bar_.tail);
    return std::move(bar_);
  }

 private:
  // What the measure itself says at its start.
  void add_attributes(Cell& cell) const {
    const auto add = [&](std::string text) { cell.push_back({{}, std::move(text), {}}); };
    if (measure_.irregular) add(braced(kIrregular));
    if (model::ending_starts(score_, index_)) {
      add(ending_text(measure_.ending));
    } else if (index_ > 0 && measure_.ending.empty() && ending_stays_open()) {
      add(braced(kEnding, kEndingEnd));
    }
    if (index_ == 0) return;
    const model::Measure& before = score_.measures[index_ - 1];
    Rational beat = last_beat(score_, index_ - 1);
    if (measure_.meter != before.meter) {
      add(braced(kMeter, model::to_text(measure_.meter)));
      beat = model::default_beat(measure_.meter);
    }
    if (measure_.beat != beat) {
      add(braced(model::BeatChange::kWord, model::beat_text(measure_.beat)));
    }
  }

  // True when the measure before is in an ending that no bar sign closes.
  bool ending_stays_open() const {
    const model::Measure& before = score_.measures[index_ - 1];
    return !before.ending.empty() && !before.repeat_end && before.right == model::BarStyle::regular;
  }

  // The directions up to a place that have not been printed yet.
  void add_directions(Rational until, Cell& cell) {
    for (; next_direction_ < content_.directions.size(); ++next_direction_) {
      const model::Direction& direction = score_.directions[content_.directions[next_direction_]];
      if (direction.onset > until) return;
      // Between a change of beat in a group and the end of its word it is unclear which counts.
      const Rational unit = coming_beat_ ? Rational(0) : model::felt_beat(measure_.meter, beat_);
      cell.push_back({{}, direction_text(direction.value, unit), {}});
      if (const auto* change = std::get_if<model::BeatChange>(&direction.value)) {
        if (depth_ > 0) {
          coming_beat_ = change->beat;
        } else {
          beat_ = change->beat;
        }
      }
    }
  }

  void add_word(const model::RhythmWord& word, Cell& cell) {
    add_directions(word.begin, cell);
    if (!word.is_group()) {
      cell.push_back(leaf(word));
      return;
    }
    open_ += '(';
    ++depth_;
    for (const model::RhythmWord& part : word.parts) add_word(part, cell);
    --depth_;
    std::string& text = cell.back().text;
    text += ')';
    if (word.words > 1) text += fmt::format(":{}", word.words);
    if (word.fraction != Rational(1)) text += ":" + model::to_text(word.fraction);
  }

  Piece leaf(const model::RhythmWord& word) {
    Piece piece;
    std::swap(piece.brackets, open_);
    const model::BarSpan& span = content_.spans[word.span];
    if (!span.note) {
      const bool marked = span.rest && word.starts;
      piece.text = rest_text(marked ? &score_.rests[*span.rest] : nullptr, alphabet_);
      return piece;
    }
    const model::Note& note = score_.notes[*span.note];
    if (!word.starts) {
      piece.text = kHold;
      return piece;
    }
    piece.text = note_text(note, alphabet_);
    for (const std::string& verse : score_.verses) piece.song.push_back(song_of(note, verse));
    return piece;
  }

  static std::string song_of(const model::Note& note, const std::string& verse) {
    const auto found =
        std::find_if(note.syllables.begin(), note.syllables.end(),
                     [&](const model::Syllable& syllable) { return syllable.verse == verse; });
    if (found == note.syllables.end()) return std::string(kSkipNote);
    if (found->extends) return std::string(kCarryOn);
    std::string word = song_word(found->text);
    if (word_goes_on(found->kind)) word += kJoin;
    return word;
  }

  const model::Score& score_;
  Alphabet alphabet_;
  std::size_t index_;
  const model::Measure& measure_;
  const model::BarContent& content_;
  Rational beat_;                        // in force
  std::optional<Rational> coming_beat_;  // in force from the end of the word on
  int depth_ = 0;                        // of groups
  std::size_t next_direction_ = 0;
  std::string open_;  // brackets before the next leaf
  PrintedBar bar_;
};

}  // namespace

PrintedBar print_bar(const model::Score& score, std::size_t measure,
                     const model::BarContent& content, Alphabet alphabet) {
  return BarPrinter(score, measure, content, alphabet).print();
}

}  // namespace yubifu::notation
