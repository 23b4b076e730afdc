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

// What stands after one note. Held beats wait until it is known whether they are one or more.
struct NoteStrokes {
  std::string text;
  int beats = 0;  // held, not yet written

  void write_beats() {
    if (beats == 1) text += kHeld;
    for (int beat = 1; beats > 1 && beat <= beats; ++beat) {
      text += beat % 2 == 1 ? kOddBeat : kEvenBeat;
    }
    beats = 0;
  }
};

// `around` is the division of the group that holds the words; null outside of groups.
void add_words(std::vector<NoteStrokes>& notes, const BarContent& content,
               const std::vector<RhythmWord>& words, const Division* around = nullptr) {
  for (const RhythmWord& word : words) {
    if (word.is_group()) {
      Division division = around == nullptr ? Division{} : *around;
      const auto [halvings, uneven] = division_of(word);
      division.halvings += halvings;
      for (const char digit : uneven ? std::to_string(*uneven) : std::string()) {
        division.uneven += kMarks[static_cast<std::size_t>(digit - '0')];
      }
      add_words(notes, content, word.parts, &division);
    } else if (const auto note = content.spans[word.span].note) {
      NoteStrokes& strokes = notes[*note];
      if (around != nullptr) {
        strokes.write_beats();
        if (!word.starts) strokes.text += kHeld;
        strokes.text += around->text();
      } else if (!word.starts) {
        ++strokes.beats;
      }
    }
  }
}

}  // namespace

std::vector<std::string> stroke_texts(const Score& score) {
  std::vector<NoteStrokes> notes(score.notes.size());
  const std::vector<BarContent> contents = bar_contents(score);
  for (std::size_t i = 0; i < contents.size(); ++i) {
    try {
      add_words(notes, contents[i], rhythm_words(score, i, contents[i]));
    } catch (const DivisionTooFine&) {
    } catch (const TimeOverflow&) {
    }
  }
  std::vector<std::string> texts;
  for (NoteStrokes& strokes : notes) {
    strokes.write_beats();
    texts.push_back(std::move(strokes.text));
  }
  return texts;
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
