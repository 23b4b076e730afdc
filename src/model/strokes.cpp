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
constexpr std::array<std::string_view, 10> kRaised{"⁰", "¹", "²", "³", "⁴",
                                                   "⁵", "⁶", "⁷", "⁸", "⁹"};

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

  void add(const BarContent& content, const std::vector<RhythmWord>& words) {
    content_ = &content;
    for (const RhythmWord& word : words) {
      word.is_group() ? add_group(word, {}) : add_leaf(word, nullptr);
    }
  }

  std::vector<std::string> take() {
    for (std::size_t i = 0; i < texts_.size(); ++i) write_beats(i);
    return std::move(texts_);
  }

 private:
  void add_group(const RhythmWord& group, Division division) {
    const auto [halvings, uneven] = division_of(group);
    division.halvings += halvings;
    if (uneven) {
      for (const char digit : std::to_string(*uneven)) {
        division.uneven += kRaised[static_cast<std::size_t>(digit - '0')];
      }
    }
    for (const RhythmWord& part : group.parts) {
      part.is_group() ? add_group(part, division) : add_leaf(part, &division);
    }
  }

  void add_leaf(const RhythmWord& word, const Division* division) {
    const auto& note = content_->spans[word.span].note;
    if (!note) return;
    if (division == nullptr) {
      if (!word.starts) ++beats_[*note];
      return;
    }
    write_beats(*note);
    if (!word.starts) texts_[*note] += kHeld;
    texts_[*note] += division->text();
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
  const BarContent* content_ = nullptr;
};

}  // namespace

std::vector<std::string> stroke_texts(const Score& score) {
  StrokeWriter writer(score.notes.size());
  const std::vector<BarContent> contents = bar_contents(score);
  for (std::size_t i = 0; i < contents.size(); ++i) {
    try {
      writer.add(contents[i], rhythm_words(score, i, contents[i]));
    } catch (const DivisionTooFine&) {
      continue;
    } catch (const TimeOverflow&) {
      continue;
    }
  }
  return writer.take();
}

std::string_view without_strokes(std::string_view text) {
  const auto ends_in = [&](std::string_view mark) { return text.ends_with(mark); };
  constexpr std::array<std::string_view, 5> kMarks{kHeld, kOddBeat, kEvenBeat, kHalf, kQuarter};
  while (true) {
    auto mark = std::find_if(kMarks.begin(), kMarks.end(), ends_in);
    std::size_t size = mark == kMarks.end() ? 0 : mark->size();
    if (size == 0) {
      const auto raised = std::find_if(kRaised.begin(), kRaised.end(), ends_in);
      if (raised == kRaised.end()) return text;
      size = raised->size();
    }
    text.remove_suffix(size);
  }
}

}  // namespace yubifu::model
