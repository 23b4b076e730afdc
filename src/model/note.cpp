#include "model/note.h"

namespace yubifu::model {

const Syllable* Note::syllable_of(std::string_view verse) const {
  const auto at = std::find_if(syllables.begin(), syllables.end(),
                               [&](const Syllable& syllable) { return syllable.verse == verse; });
  return at == syllables.end() ? nullptr : &*at;
}

std::string printed(const Tone& tone, Alphabet alphabet) {
  if (!tone.fingering) return {};
  Fingering fingering = *tone.fingering;
  // The pitch of a gap stands as if it were a sign.
  if (fingering.is_gap()) {
    fingering.sign = Sign(std::string(kGapSign) + (tone.spelling ? to_text(*tone.spelling) : ""));
  }
  return printed(fingering, alphabet);
}

std::optional<Tone> parse_gap(std::string_view text) {
  if (!text.starts_with(kGapSign)) return std::nullopt;
  text.remove_prefix(kGapSign.size());
  const std::size_t end = std::min({text.find(kBendDown), text.find(kBendUp), text.size()});
  Tone tone;
  tone.fingering = Fingering{};
  tone.spelling = parse_spelling(text.substr(0, end));
  if (!tone.spelling) return std::nullopt;
  const auto cents = end == text.size() ? 0 : parse_bend(text.substr(end));
  tone.fingering->bend_cents = cents.value_or(0);
  return cents ? std::optional(std::move(tone)) : std::nullopt;
}

}  // namespace yubifu::model
