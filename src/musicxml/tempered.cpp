#include "musicxml/tempered.h"

#include <cmath>
#include <cstddef>

#include "base/diagnostic.h"
#include "base/message.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml {
namespace {

constexpr double kSemitone = 100;

bool is_between(const model::Tone& tone, const model::FluteInUse& flute) {
  if (!tone.pitch || !tone.fingering || tone.fingering->is_gap()) return false;
  const double from_ichi =
      tone.pitch->total_cents() - tone.fingering->bend_cents - flute.ichi.total_cents();
  return std::abs(std::remainder(from_ichi, kSemitone)) > kMostFromTempered;
}

bool has_between(const model::Note& note, const model::FluteInUse& flute) {
  if (is_between(note.tone, flute)) return true;
  for (const auto* graces : {&note.grace_before, &note.grace_after}) {
    for (const model::Tone& tone : *graces) {
      if (is_between(tone, flute)) return true;
    }
  }
  return false;
}

}  // namespace

base::Diagnostics tell_tempered(const model::Score& score) {
  base::Diagnostics found;
  std::size_t flute = 0;
  for (const model::Note& note : score.notes) {
    while (flute + 1 < score.flutes.size() && score.flutes[flute + 1].measure <= note.measure) {
      ++flute;
    }
    if (!has_between(note, score.flutes[flute])) continue;
    if (found.empty()) {
      found.push_back(base::report(
          rule::nearest_tempered, std::nullopt,
          base::message("the flute {} plays notes between those of a staff, which shows the "
                        "nearest tempered ones; its fingering is what counts",
                        score.flutes[flute].title),
          base::message("--alter exact writes the decimals; MIDI has the true pitches")));
    }
    const std::string& number = score.measures[note.measure].number;
    if (found[0].measures.empty() || found[0].measures.back() != number) {
      found[0].measures.push_back(number);
    }
  }
  if (!found.empty()) found[0].message += ": " + base::bar_list(found[0].measures);
  return found;
}

}  // namespace yubifu::musicxml
