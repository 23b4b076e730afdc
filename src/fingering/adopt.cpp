#include "fingering/adopt.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "base/numbers.h"
#include "fingering/flute_line.h"
#include "model/note.h"
#include "model/strokes.h"

namespace yubifu::fingering {
namespace {

constexpr int kKeysOfOctave = 12;

// The fingering or gap that a syllable spells.
std::optional<model::Tone> tone_of(const model::Syllable& syllable) {
  if (syllable.kind != model::SyllableKind::single) return std::nullopt;
  const std::string_view text = model::without_strokes(syllable.text);
  if (auto gap = model::parse_gap(text)) return gap;
  const auto fingering = model::parse_printed(text);
  if (!fingering) return std::nullopt;
  model::Tone tone;
  tone.fingering = fingering;
  return tone;
}

// By how many octaves a tone that has a fingering lies over the pitch of a note; nothing when it
// gives another note.
std::optional<int> octaves_over(const model::Pitch& written, const model::Tone& tone,
                                const flute::Flute& flute) {
  const bool is_gap = tone.fingering->is_gap();
  if (is_gap && !tone.spelling) return std::nullopt;
  const auto sound =
      is_gap ? model::Pitch{model::midi_key(*tone.spelling), 0} : flute.sound(*tone.fingering);
  if (!sound) return std::nullopt;
  const auto octaves = static_cast<int>(
      std::lround((sound->total_cents() - written.total_cents()) / model::kOctaveCents));
  model::Pitch there = written;
  there.key += kKeysOfOctave * octaves;
  if (!agrees(there, *sound, flute.ichi())) return std::nullopt;
  return octaves;
}

// What the tones that have fingers say together about the notes they stand on.
class SharedOctaves {
 public:
  // False for a tone that does not fit those before.
  bool add(const model::Note& note, const model::Tone& tone, const flute::Flute& flute) {
    if (!note.tone.pitch) return false;
    const auto octaves = octaves_over(*note.tone.pitch, tone, flute);
    if (!octaves || octaves_.value_or(*octaves) != *octaves) return false;
    octaves_ = octaves;
    if (!tone.fingering->is_gap()) ++signs_;
    return true;
  }

  std::optional<int> result() const {
    return signs_ >= kFewestAdoptedSigns ? octaves_ : std::nullopt;
  }

 private:
  std::optional<int> octaves_;
  std::size_t signs_ = 0;
};

// By how many octaves a verse lies over the notes; nothing if it is no annotation.
std::optional<int> octaves_of_verse(const model::Score& score, const std::string& verse,
                                    const FluteLine& flutes) {
  SharedOctaves shared;
  for (const model::Note& note : score.notes) {
    const model::Syllable* syllable = note.syllable_of(verse);
    if (!syllable) continue;
    const auto tone = tone_of(*syllable);
    if (!tone || !shared.add(note, *tone, flutes.at(note.measure))) return std::nullopt;
  }
  return shared.result();
}

// A numbered verse after `gone` takes the number before its own.
std::string moved_up(const std::string& verse, const std::string& gone) {
  const auto number = base::whole_number(verse);
  const auto limit = base::whole_number(gone);
  return number && limit && *number > *limit ? std::to_string(*number - 1) : verse;
}

}  // namespace

std::optional<AdoptedVerse> adopt_annotation(model::Score& score, const FluteLine& flutes,
                                             WrittenPitch written) {
  AdoptedVerse adopted;
  const auto found =
      std::find_if(score.verses.begin(), score.verses.end(), [&](const std::string& verse) {
        const auto octaves = octaves_of_verse(score, verse, flutes);
        adopted.octaves = octaves.value_or(0);
        return octaves && (adopted.octaves == 0 || written == WrittenPitch::perhaps_octaves_off);
      });
  if (found == score.verses.end()) return std::nullopt;
  if (!model::move_octaves(score.notes, adopted.octaves)) return std::nullopt;
  adopted.verse = *found;
  const std::string& verse = adopted.verse;
  score.verses.erase(found);
  for (std::string& other : score.verses) other = moved_up(other, verse);
  for (model::Note& note : score.notes) {
    if (const model::Syllable* syllable = note.syllable_of(verse)) {
      const auto tone = tone_of(*syllable);
      note.tone.fingering = tone->fingering;
      if (tone->spelling) note.tone.spelling = tone->spelling;
    }
    std::erase_if(note.syllables, [&](const model::Syllable& s) { return s.verse == verse; });
    for (model::Syllable& other : note.syllables) other.verse = moved_up(other.verse, verse);
  }
  return adopted;
}

int move_to_fingers(model::Score& score, const FluteLine& flutes) {
  SharedOctaves shared;
  for (const model::Note& note : score.notes) {
    if (!note.tone.fingering || note.tone.fingering->is_gap()) continue;
    if (!shared.add(note, note.tone, flutes.at(note.measure))) return 0;
  }
  const int octaves = shared.result().value_or(0);
  return model::move_octaves(score.notes, octaves) ? octaves : 0;
}

}  // namespace yubifu::fingering
