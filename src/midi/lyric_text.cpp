#include "midi/lyric_text.h"

#include <charconv>
#include <string_view>

namespace yubifu::midi {
namespace {

constexpr std::string_view kShoga = "shoga";

int verse_number(const model::Syllable& syllable) {
  const std::string& name = syllable.verse;
  int number = 0;
  std::from_chars(name.data(), name.data() + name.size(), number);
  return number;
}

}  // namespace

std::string to_lyric(const model::Syllable& syllable) {
  const bool goes_on =
      syllable.kind == model::SyllableKind::begin || syllable.kind == model::SyllableKind::middle;
  if (goes_on) return syllable.text + '-';
  return syllable.text.ends_with('-') ? syllable.text + ' ' : syllable.text;
}

std::string LyricText::of(const model::Note& note, std::size_t source) {
  const int pass = ++played_[source];
  if (what_ == Lyrics::none) return {};
  if (what_ == Lyrics::fingering) {
    return note.tone.fingering ? printed(*note.tone.fingering) : std::string();
  }
  const model::Syllable* found = nullptr;
  for (const model::Syllable& syllable : note.syllables) {
    const bool shoga = syllable.verse == kShoga;
    if (shoga != (what_ == Lyrics::shoga)) continue;
    if (found == nullptr || verse_number(syllable) <= pass) found = &syllable;
  }
  return found == nullptr || found->extends ? std::string() : to_lyric(*found);
}

}  // namespace yubifu::midi
