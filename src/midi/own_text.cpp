#include "midi/own_text.h"

#include <string_view>

#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

// Spaces behind it aside.
bool ends_with_hyphen(std::string_view text) {
  const std::size_t last = text.find_last_not_of(' ');
  return last != std::string_view::npos && text[last] == '-';
}

}  // namespace

std::optional<OwnText> own_text(const MetaEvent& meta) {
  if (meta.type != kText || !meta.data.starts_with(kOwnPrefix)) return std::nullopt;
  const std::string_view rest = meta.data.substr(kOwnPrefix.size());
  const std::size_t colon = rest.find(": ");
  if (colon == std::string_view::npos) return std::nullopt;
  return OwnText{rest.substr(0, colon), rest.substr(colon + 2)};
}

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

}  // namespace yubifu::midi
