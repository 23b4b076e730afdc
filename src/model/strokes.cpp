#include "model/strokes.h"

#include <algorithm>
#include <array>
#include <utility>

#include "model/rhythm_tree.h"

namespace yubifu::model {
namespace {

constexpr std::string_view kHeld = "／";
constexpr std::string_view kOddBeat = "＿";
constexpr std::string_view kEvenBeat = "｜";
constexpr std::string_view kHalf = "′";
constexpr std::string_view kQuarter = "″";
// Of a number its raised digits.
constexpr std::array<std::string_view, 15> kMarks{
    "⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹", kHeld, kOddBeat, kEvenBeat, kHalf, kQuarter};

// What a part of a beat is marked with: the bars of halvings, and the numbers of uneven divisions.
struct Division {
  int halvings = 0;
  std::string uneven;

  std::string text() const {
    std::string marks;
    for (int i = 0; i < halvings / 2; ++i) marks += kQuarter;
    if (halvings % 2 != 0) marks += kHalf;
    return marks + uneven;
  }
};

// Gathers the texts bar by bar. Whole beats that a note is held for wait until it is known whether
// they are one or more.
class StrokeWriter {
 public:
  explicit StrokeWriter(std::size_t notes) : texts_(notes), beats_(notes, 0) {}

  // `around` is the division of the group that holds the words; null outside of groups.
  void add(const BarContent& content, const std::vector<RhythmWord>& words,
           const Division* around = nullptr) {
    for (const RhythmWord& word : words) {
      if (!word.is_group()) {
        if (const auto note = content.spans[word.span].note) add_leaf(*note, word.starts, around);
        continue;
      }
      Division division = around == nullptr ? Division{} : *around;
      const auto [halvings, uneven] = division_of(word);
      division.halvings += halvings;
      for (const char digit : uneven ? std::to_string(*uneven) : std::string()) {
        division.uneven += kMarks[static_cast<std::size_t>(digit - '0')];
      }
      add(content, word.parts, &division);
    }
  }

  std::vector<std::string> take() {
    for (std::size_t i = 0; i < texts_.size(); ++i) write_beats(i);
    return std::move(texts_);
  }

 private:
  void add_leaf(std::size_t note, bool starts, const Division* division) {
    if (division == nullptr) {
      if (!starts) ++beats_[note];
      return;
    }
    write_beats(note);
    if (!starts) texts_[note] += kHeld;
    texts_[note] += division->text();
  }

  void write_beats(std::size_t note) {
    const int beats = std::exchange(beats_[note], 0);
    if (beats == 1) texts_[note] += kHeld;
    for (int beat = 1; beats > 1 && beat <= beats; ++beat) {
      texts_[note] += beat % 2 == 1 ? kOddBeat : kEvenBeat;
    }
  }

  std::vector<std::string> texts_;
  std::vector<int> beats_;  // held, not yet written
};

}  // namespace

std::vector<std::string> stroke_texts(const Score& score) {
  StrokeWriter writer(score.notes.size());
  const std::vector<BarContent> contents = bar_contents(score);
  for (std::size_t i = 0; i < contents.size(); ++i) {
    try {
      writer.add(contents[i], rhythm_words(score, i, contents[i]));
    } catch (const DivisionTooFine&) {
    } catch (const TimeOverflow&) {
    }
  }
  return writer.take();
}

std::string_view without_strokes(std::string_view text) {
  while (true) {
    const auto* mark = std::find_if(kMarks.begin(), kMarks.end(),
                                    [&](std::string_view known) { return text.ends_with(known); });
    if (mark == kMarks.end()) return text;
    text.remove_suffix(mark->size());
  }
}

}  // namespace yubifu::model
