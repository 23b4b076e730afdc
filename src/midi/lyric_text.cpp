#include "midi/lyric_text.h"

#include <charconv>
#include <string_view>

namespace yubifu::midi {
namespace {

int verse_number(const model::Syllable& syllable) {
  const std::string& name = syllable.verse;
  int number = 0;
  std::from_chars(name.data(), name.data() + name.size(), number);
  return number;
}

// Spaces behind it aside.
bool ends_with_hyphen(std::string_view text) {
  const std::size_t last = text.find_last_not_of(' ');
  return last != std::string_view::npos && text[last] == '-';
}

}  // namespace

std::string to_lyric(const model::Syllable& syllable) {
  if (word_goes_on(syllable.kind)) return syllable.text + '-';
  return ends_with_hyphen(syllable.text) ? syllable.text + ' ' : syllable.text;
}

std::vector<std::optional<model::Syllable>> from_lyrics(const std::vector<std::string>& lyrics) {
  std::vector<std::optional<model::Syllable>> syllables(lyrics.size());
  bool word_open = false;
  for (std::size_t i = 0; i < lyrics.size(); ++i) {
    if (lyrics[i].empty()) continue;
    model::Syllable& syllable = syllables[i].emplace();
    syllable.text = lyrics[i];
    const bool goes_on = lyrics[i].ends_with('-');
    if (goes_on || ends_with_hyphen(lyrics[i])) syllable.text.pop_back();
    syllable.kind = model::syllable_kind(word_open, goes_on);
    word_open = goes_on;
  }
  return syllables;
}

std::string LyricText::of(const model::Note& note, std::size_t source) {
  const int pass = ++played_[source];
  if (what_ == Lyrics::none) return {};
  if (what_ == Lyrics::fingering) {
    return note.tone.fingering ? printed(*note.tone.fingering) : std::string();
  }
  const model::Syllable* found = nullptr;
  for (const model::Syllable& syllable : note.syllables) {
    const bool shoga = syllable.verse == model::kShogaVerse;
    if (shoga != (what_ == Lyrics::shoga)) continue;
    if (found == nullptr || verse_number(syllable) <= pass) found = &syllable;
  }
  return found == nullptr || found->extends ? std::string() : to_lyric(*found);
}

}  // namespace yubifu::midi
