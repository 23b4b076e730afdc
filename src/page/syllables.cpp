#include "page/syllables.h"

#include <algorithm>

#include "base/utf8.h"
#include "page/text_fit.h"

namespace yubifu::page {

bool is_shoga(const std::string& verse) {
  return verse == model::kShogaVerse;
}

std::size_t verse_index(const model::Score& score, const model::Syllable& syllable) {
  const auto found = std::find(score.verses.begin(), score.verses.end(), syllable.verse);
  return static_cast<std::size_t>(found - score.verses.begin());
}

std::string syllable_text(const model::Syllable& syllable) {
  if (!word_goes_on(syllable.kind) || syllable.text.empty()) return syllable.text;
  const bool wide = stands_upright(base::first_code_point(syllable.text).value);
  return wide ? syllable.text : syllable.text + "-";
}

}  // namespace yubifu::page
