#include "notation/spelling.h"

#include "base/word_table.h"

namespace yubifu::notation {
namespace {

using model::PlaceInMeasure;

constexpr auto kMarkAliases = base::word_table<model::Mark>({
    {model::Mark::uchi, "打"},
    {model::Mark::uchi, "打ち"},
    {model::Mark::uchi, "指打ち"},
    {model::Mark::age, "上"},
    {model::Mark::age, "指上げ"},
    {model::Mark::suri, "スリ"},
    {model::Mark::yuri, "ユリ"},
    {model::Mark::breath, "息"},
    {model::Mark::fermata, "延"},
});

constexpr auto kValuedMarks = base::word_table<ValuedMark>({
    {ValuedMark::pre, "pre"},
    {ValuedMark::post, "post"},
    {ValuedMark::holes, "holes"},
});

constexpr auto kDirectionWords = base::word_table<DirectionWord>({
    {DirectionWord::irregular, "irregular"},
    {DirectionWord::ending, "ending"},
    {DirectionWord::meter, "meter"},
    {DirectionWord::beat, model::BeatChange::kWord},
    {DirectionWord::flute, model::FluteChange::kWord},
    {DirectionWord::section, model::SectionStart::kWord},
    {DirectionWord::tempo, model::TempoChange::kWord},
    {DirectionWord::key, model::KeyChange::kWord},
    {DirectionWord::text, model::TextDirection::kWord},
    {DirectionWord::dynamic, model::Dynamic::kWord},
});

}  // namespace

bool may_be_header_key(std::string_view word) {
  constexpr std::string_view kForbidden = " \t\r\n:#>(){}|\"~";
  return !word.empty() && word.find_first_of(kForbidden) == std::string_view::npos &&
         word.find("\u3000") == std::string_view::npos;
}

std::optional<model::Mark> mark(std::string_view word) {
  const auto known = model::mark_named(word);
  return known ? known : kMarkAliases.value_of(word);
}

std::string_view word_of(ValuedMark mark) {
  return kValuedMarks.word_of(mark);
}

std::optional<ValuedMark> valued_mark(std::string_view word) {
  return kValuedMarks.value_of(word);
}

std::vector<std::string_view> mark_words() {
  std::vector<std::string_view> words = model::mark_words();
  for (const std::string_view word : kValuedMarks.words()) words.push_back(word);
  return words;
}

std::string_view word_of(DirectionWord word) {
  return kDirectionWords.word_of(word);
}

std::optional<DirectionWord> direction_word(std::string_view word) {
  return kDirectionWords.value_of(word);
}

std::vector<std::string_view> direction_words() {
  std::vector<std::string_view> words = kDirectionWords.words();
  for (const std::string_view word : model::cue_words()) words.push_back(word);
  return words;
}

PlaceInMeasure place_of(DirectionWord word) {
  switch (word) {
    case DirectionWord::irregular:
    case DirectionWord::ending:
    case DirectionWord::meter:
    case DirectionWord::flute:
    case DirectionWord::section:
      return PlaceInMeasure::start;
    case DirectionWord::beat:
    case DirectionWord::tempo:
    case DirectionWord::key:
    case DirectionWord::text:
    case DirectionWord::dynamic:
      return PlaceInMeasure::anywhere;
  }
  return PlaceInMeasure::anywhere;
}

}  // namespace yubifu::notation
