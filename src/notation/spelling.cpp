#include "notation/spelling.h"

#include <algorithm>
#include <array>

namespace yubifu::notation {
namespace {

template <typename Value>
struct Row {
  Value value;
  std::string_view word;
};

// The tables hold every value of their enumeration, in its order.
template <typename Value, std::size_t size>
std::string_view word_in(const std::array<Row<Value>, size>& table, Value value) {
  return table[static_cast<std::size_t>(value)].word;
}

template <typename Value, std::size_t size>
std::optional<Value> value_in(const std::array<Row<Value>, size>& table, std::string_view word) {
  const auto row = std::find_if(table.begin(), table.end(), [&](const Row<Value>& candidate) {
    return candidate.word == word;
  });
  return row == table.end() ? std::nullopt : std::optional(row->value);
}

template <typename Value, std::size_t size>
void add_words(const std::array<Row<Value>, size>& table, std::vector<std::string_view>& words) {
  for (const Row<Value>& row : table) words.push_back(row.word);
}

constexpr std::array<Row<HeaderKey>, 14> kHeaderKeys{{
    {HeaderKey::title, "title"},
    {HeaderKey::subtitle, "subtitle"},
    {HeaderKey::composer, "composer"},
    {HeaderKey::lyricist, "lyricist"},
    {HeaderKey::source, "source"},
    {HeaderKey::rights, "rights"},
    {HeaderKey::flute, "flute"},
    {HeaderKey::tuning, "tuning"},
    {HeaderKey::meter, "meter"},
    {HeaderKey::beat, "beat"},
    {HeaderKey::tempo, "tempo"},
    {HeaderKey::key, "key"},
    {HeaderKey::staff, "staff"},
    {HeaderKey::zero, "zero"},
}};

constexpr std::array<Row<model::Mark>, 9> kMarkAliases{{
    {model::Mark::uchi, "打"},
    {model::Mark::uchi, "打ち"},
    {model::Mark::uchi, "指打ち"},
    {model::Mark::age, "上"},
    {model::Mark::age, "指上げ"},
    {model::Mark::suri, "スリ"},
    {model::Mark::yuri, "ユリ"},
    {model::Mark::breath, "息"},
    {model::Mark::fermata, "延"},
}};

constexpr std::array<Row<ValuedMark>, 3> kValuedMarks{{
    {ValuedMark::pre, "pre"},
    {ValuedMark::post, "post"},
    {ValuedMark::holes, "holes"},
}};

constexpr std::array<Row<DirectionWord>, 10> kDirectionWords{{
    {DirectionWord::irregular, "irregular"},
    {DirectionWord::ending, "ending"},
    {DirectionWord::meter, "meter"},
    {DirectionWord::beat, "beat"},
    {DirectionWord::flute, "flute"},
    {DirectionWord::section, "section"},
    {DirectionWord::tempo, "tempo"},
    {DirectionWord::key, "key"},
    {DirectionWord::text, "text"},
    {DirectionWord::dynamic, "dyn"},
}};

}  // namespace

std::string_view word_of(HeaderKey key) {
  return word_in(kHeaderKeys, key);
}

std::optional<HeaderKey> header_key(std::string_view word) {
  return value_in(kHeaderKeys, word);
}

std::vector<std::string_view> header_words() {
  std::vector<std::string_view> words;
  add_words(kHeaderKeys, words);
  return words;
}

bool may_be_header_key(std::string_view word) {
  constexpr std::string_view kForbidden = " \t\r\n:#>(){}|\"~";
  return !word.empty() && word.find_first_of(kForbidden) == std::string_view::npos &&
         word.find("\u3000") == std::string_view::npos;
}

std::optional<model::Mark> mark(std::string_view word) {
  const auto known = model::mark_named(word);
  return known ? known : value_in(kMarkAliases, word);
}

std::string_view word_of(ValuedMark mark) {
  return word_in(kValuedMarks, mark);
}

std::optional<ValuedMark> valued_mark(std::string_view word) {
  return value_in(kValuedMarks, word);
}

std::vector<std::string_view> mark_words() {
  std::vector<std::string_view> words = model::mark_words();
  add_words(kValuedMarks, words);
  return words;
}

std::string_view word_of(DirectionWord word) {
  return word_in(kDirectionWords, word);
}

std::optional<DirectionWord> direction_word(std::string_view word) {
  return value_in(kDirectionWords, word);
}

std::vector<std::string_view> direction_words() {
  std::vector<std::string_view> words;
  add_words(kDirectionWords, words);
  for (const std::string_view word : model::cue_words()) words.push_back(word);
  return words;
}

DirectionPlace place_of(model::Cue cue) {
  switch (cue) {
    case model::Cue::segno:
    case model::Cue::coda:
      return DirectionPlace::bar_start;
    case model::Cue::fine:
    case model::Cue::da_capo:
    case model::Cue::dal_segno:
    case model::Cue::to_coda:
    case model::Cue::until_cue:
      return DirectionPlace::bar_end;
    case model::Cue::rit:
    case model::Cue::accel:
    case model::Cue::a_tempo:
    case model::Cue::caesura:
      return DirectionPlace::anywhere;
  }
  return DirectionPlace::anywhere;
}

DirectionPlace place_of(DirectionWord word) {
  switch (word) {
    case DirectionWord::irregular:
    case DirectionWord::ending:
    case DirectionWord::meter:
    case DirectionWord::flute:
    case DirectionWord::section:
      return DirectionPlace::bar_start;
    case DirectionWord::beat:
    case DirectionWord::tempo:
    case DirectionWord::key:
    case DirectionWord::text:
    case DirectionWord::dynamic:
      return DirectionPlace::anywhere;
  }
  return DirectionPlace::anywhere;
}

}  // namespace yubifu::notation
