#include "notation/spelling.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/numbers.h"
#include "base/utf8.h"
#include "notation/characters.h"

namespace yubifu::notation {
namespace {

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

constexpr char kEscape = '\\';
constexpr char kQuote = '"';

bool is_bare_character(char c) {
  const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
  return letter || (c >= '0' && c <= '9') ||
         std::string_view("-+./_").find(c) != std::string_view::npos;
}

}  // namespace

bool may_be_header_key(std::string_view word) {
  constexpr std::string_view kForbidden = " \t\r\n:#>(){}|\"~";
  return !word.empty() && word.find_first_of(kForbidden) == std::string_view::npos &&
         word.find("\u3000") == std::string_view::npos;
}

std::optional<model::Mark> mark(std::string_view word) {
  const auto known = model::kMarkWords.value_of(word);
  return known ? known : kMarkAliases.value_of(word);
}

std::vector<std::string_view> mark_words() {
  std::vector<std::string_view> words = model::kMarkWords.words();
  for (const std::string_view word : kValuedMarks.words()) words.push_back(word);
  return words;
}

std::vector<std::string_view> direction_words() {
  std::vector<std::string_view> words{kIrregular, kEnding, kMeter};
  for (const std::string_view word : model::direction_words()) words.push_back(word);
  return words;
}

std::string quoted(std::string_view text) {
  std::string out(1, kQuote);
  for (const char c : text) {
    if (c == kQuote || c == kEscape) out += kEscape;
    out += c;
  }
  return out + kQuote;
}

std::optional<std::string> unquoted(std::string_view value) {
  if (value.size() < 2 || value.front() != kQuote) return std::nullopt;
  std::string text;
  for (std::size_t i = 1; i < value.size(); ++i) {
    if (value[i] == kQuote) return i + 1 == value.size() ? std::optional(text) : std::nullopt;
    const bool escape = value[i] == kEscape && i + 1 < value.size() &&
                        (value[i + 1] == kQuote || value[i + 1] == kEscape);
    if (escape) ++i;
    text += value[i];
  }
  return std::nullopt;
}

std::string bare_or_quoted(std::string_view text) {
  const bool bare = !text.empty() && std::all_of(text.begin(), text.end(), is_bare_character);
  return bare ? std::string(text) : quoted(text);
}

std::string braced(std::string_view word, std::string_view value) {
  return fmt::format("{{{}{}{}}}", word, value.empty() ? "" : " ", value);
}

std::string bar_end_text(const BarSign& sign) {
  std::string text;
  if (sign.repeat_end) {
    text = ":|";
    if (sign.times != BarSign().times) text += fmt::format("x{}", sign.times);
    if (sign.style == model::BarStyle::regular) return text;
    text += ' ';
  }
  return text.append(kBarSigns.word_of({.style = sign.style}));
}

std::string song_label(std::string_view verse) {
  return std::string(kSongLine).append(verse == "1" ? "" : verse);
}

std::optional<std::string> verse_of_label(std::string_view label) {
  if (!label.starts_with(kSongLine)) return std::nullopt;
  label.remove_prefix(kSongLine.size());
  if (label.empty()) return "1";
  if (label == model::kShogaVerse) return std::string(model::kShogaVerse);
  const auto number = base::whole_number(label);
  return number && *number >= 1 ? std::optional(fmt::format("{}", *number)) : std::nullopt;
}

std::string song_word(std::string_view syllable) {
  std::string word;
  while (!syllable.empty()) {
    const base::CodePoint point = base::first_code_point(syllable);
    const std::string_view character = syllable.substr(0, point.size);
    const bool first = word.empty();
    const bool last = syllable.size() == point.size;
    const bool special = is_space(point.value) || character == kSongBar ||
                         character.front() == kEscape ||
                         (first && (character == kCarryOn || character == kSkipNote)) ||
                         (last && character == kJoin);
    if (special) word += kEscape;
    word += character;
    syllable.remove_prefix(point.size);
  }
  return word;
}

}  // namespace yubifu::notation
