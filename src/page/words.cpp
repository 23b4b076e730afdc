#include "page/words.h"

#include <fmt/format.h>

#include "model/tone_text.h"
#include "model/words.h"

namespace yubifu::page {
namespace {

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

}  // namespace

std::string words_of(const model::Note& note) {
  std::string text = printed(note.tone) + marks_of(note.marks);
  if (note.asked_holes) text += fmt::format("{{holes {}}}", printed(*note.asked_holes));
  text += graces("pre", note.grace_before) + graces("post", note.grace_after);
  return note.slur_to_next ? text + "~" : text;
}

std::string words_of(const model::Rest& rest) {
  return "・" + marks_of(rest.marks);
}

std::string opening_sign(const model::Measure& measure) {
  return measure.repeat_start ? "|:" : "";
}

std::string closing_sign(const model::Measure& measure) {
  if (measure.repeat_end) {
    return measure.times == 2 ? ":|" : fmt::format(":|x{}", measure.times);
  }
  switch (measure.right) {
    case model::BarStyle::regular:
      return "|";
    case model::BarStyle::section:
      return "||";
    case model::BarStyle::final:
      return "|=";
  }
  return {};
}

std::string words_of(const model::Score& score, const Bar& bar, const Piece& piece) {
  const model::Measure& measure = score.measures[bar.measure];
  std::string text;
  const auto add = [&](const std::string& words) {
    if (words.empty()) return;
    if (!text.empty()) text += ' ';
    text += words;
  };
  if (piece.first) add(opening_sign(measure));
  const CellRange range = cells_of(bar, piece);
  for (std::size_t i = range.begin; i < range.end; ++i) add(bar.cells[i].words);
  if (piece.last) add(closing_sign(measure));
  return text;
}

}  // namespace yubifu::page
