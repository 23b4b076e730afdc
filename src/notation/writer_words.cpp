#include "notation/writer_words.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "model/rhythm_tree.h"
#include "notation/punctuation.h"
#include "notation/spelling.h"
#include "notation/writer_text.h"

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
  return brace(word_of(DirectionWord::ending), fmt::format("{}", fmt::join(numbers, ",")));
}

// The beat in force at each direction, as far as a reader can tell it.
class BeatInForce {
 public:
  explicit BeatInForce(Rational beat) : beat_(beat) {}

  void change(Rational onset, Rational beat) {
    arrive(onset);
    coming_ = beat;
    const Rational words = (onset - begin_) / beat_;
    coming_at_ = begin_ + beat_ * words.ceil();
    arrive(onset);
  }

  // Nothing between a change and the end of the word in which it is written.
  std::optional<Rational> at(Rational onset) {
    arrive(onset);
    return coming_ ? std::nullopt : std::optional(beat_);
  }

 private:
  void arrive(Rational onset) {
    if (!coming_ || onset < coming_at_) return;
    beat_ = *coming_;
    begin_ = coming_at_;
    coming_.reset();
  }

  Rational begin_;
  Rational beat_;
  std::optional<Rational> coming_;
  Rational coming_at_;
};

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
    }
    add_directions(measure_.length, bar_.tail);
    return std::move(bar_);
  }

 private:
  // What the measure itself says at its start.
  void add_attributes(Cell& cell) const {
    const auto add = [&](std::string text) { cell.push_back({{}, std::move(text), {}}); };
    if (measure_.irregular) add(brace(word_of(DirectionWord::irregular)));
    if (model::ending_starts(score_, index_)) {
      add(ending_text(measure_.ending));
    } else if (index_ > 0 && measure_.ending.empty() && ending_stays_open()) {
      add(brace(word_of(DirectionWord::ending), kEndingEnd));
    }
    if (index_ == 0) return;
    const model::Measure& before = score_.measures[index_ - 1];
    Rational beat = last_beat(score_, index_ - 1);
    if (measure_.meter != before.meter) {
      add(brace(word_of(DirectionWord::meter), model::to_text(measure_.meter)));
      beat = model::default_beat(measure_.meter);
    }
    if (measure_.beat != beat) {
      add(brace(word_of(DirectionWord::beat), model::beat_text(measure_.beat)));
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
      const auto beat = beat_.at(direction.onset);
      const Rational unit = beat ? model::felt_beat(measure_.meter, *beat) : Rational(0);
      cell.push_back({{}, direction_text(direction.value, unit), {}});
      if (const auto* change = std::get_if<model::BeatChange>(&direction.value)) {
        beat_.change(direction.onset, change->beat);
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
    for (const model::RhythmWord& part : word.parts) add_word(part, cell);
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
    const bool joins =
        found->kind == model::SyllableKind::begin || found->kind == model::SyllableKind::middle;
    if (joins) word += kJoin;
    return word;
  }

  const model::Score& score_;
  Alphabet alphabet_;
  std::size_t index_;
  const model::Measure& measure_;
  const model::BarContent& content_;
  BeatInForce beat_;
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
