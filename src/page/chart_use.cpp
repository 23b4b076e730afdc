#include "page/chart_use.h"

#include <algorithm>
#include <cstddef>

namespace yubifu::page {
namespace {

// The fingerings of the measures [from, to).
void add_fingerings(std::vector<model::Fingering>& used, const model::Score& score,
                    std::size_t from, std::size_t to) {
  const auto add = [&](const model::Tone& tone) {
    if (tone.fingering) used.push_back(*tone.fingering);
  };
  for (const model::Note& note : score.notes) {
    if (note.measure < from || note.measure >= to) continue;
    for (const model::Tone& tone : note.grace_before) add(tone);
    add(note.tone);
    for (const model::Tone& tone : note.grace_after) add(tone);
  }
}

}  // namespace

std::vector<FluteUse> flutes_used(const model::Score& score, const FluteList& flutes) {
  std::vector<FluteUse> used;
  const std::size_t count = std::min(flutes.size(), score.flutes.size());
  for (std::size_t i = 0; i < count; ++i) {
    const bool last = i + 1 == count;
    const std::size_t to = last ? score.measures.size() : score.flutes[i + 1].measure;
    const auto known = std::find_if(used.begin(), used.end(), [&](const FluteUse& use) {
      return use.flute->name() == flutes[i]->name();
    });
    FluteUse& use = known == used.end() ? used.emplace_back(FluteUse{flutes[i], {}}) : *known;
    add_fingerings(use.fingerings, score, score.flutes[i].measure, to);
  }
  return used;
}

}  // namespace yubifu::page
