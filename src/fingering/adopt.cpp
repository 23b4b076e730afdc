#include "fingering/adopt.h"

#include <algorithm>
#include <charconv>

#include "fingering/agreement.h"
#include "model/strokes.h"

namespace yubifu::fingering {
namespace {

const model::Syllable* syllable_of(const model::Note& note, const std::string& verse) {
  const auto at = std::find_if(note.syllables.begin(), note.syllables.end(),
                               [&](const model::Syllable& s) { return s.verse == verse; });
  return at == note.syllables.end() ? nullptr : &*at;
}

// The fingering that a syllable spells, if it sounds the note's pitch.
std::optional<model::Fingering> fitting(const model::Note& note, const model::Syllable& syllable,
                                        const flute::Flute& flute) {
  auto fingering = model::parse_printed(model::without_strokes(syllable.text));
  if (!fingering || syllable.kind != model::SyllableKind::single || !note.tone.pitch) {
    return std::nullopt;
  }
  const auto sound = flute.sound(*fingering);
  if (!sound || !agrees(*note.tone.pitch, *sound, flute.ichi())) return std::nullopt;
  return fingering;
}

bool is_annotation(const model::Score& score, const std::string& verse, const FluteLine& flutes) {
  std::size_t signs = 0;
  for (const model::Note& note : score.notes) {
    const model::Syllable* syllable = syllable_of(note, verse);
    if (!syllable) continue;
    if (!fitting(note, *syllable, flutes.at(note.measure))) return false;
    ++signs;
  }
  return signs >= kFewestAdoptedSigns;
}

std::optional<int> verse_number(const std::string& verse) {
  int number = 0;
  const auto [end, error] = std::from_chars(verse.data(), verse.data() + verse.size(), number);
  if (error != std::errc{} || end != verse.data() + verse.size()) return std::nullopt;
  return number;
}

// A numbered verse after `gone` takes the number before its own.
std::string moved_up(const std::string& verse, const std::string& gone) {
  const auto number = verse_number(verse);
  const auto limit = verse_number(gone);
  return number && limit && *number > *limit ? std::to_string(*number - 1) : verse;
}

}  // namespace

std::optional<std::string> adopt_annotation(model::Score& score, const FluteLine& flutes) {
  const auto found =
      std::find_if(score.verses.begin(), score.verses.end(),
                   [&](const std::string& verse) { return is_annotation(score, verse, flutes); });
  if (found == score.verses.end()) return std::nullopt;
  const std::string verse = *found;
  score.verses.erase(found);
  for (std::string& other : score.verses) other = moved_up(other, verse);
  for (model::Note& note : score.notes) {
    if (const model::Syllable* syllable = syllable_of(note, verse)) {
      note.tone.fingering = fitting(note, *syllable, flutes.at(note.measure));
    }
    std::erase_if(note.syllables, [&](const model::Syllable& s) { return s.verse == verse; });
    for (model::Syllable& other : note.syllables) other.verse = moved_up(other.verse, verse);
  }
  return verse;
}

}  // namespace yubifu::fingering
