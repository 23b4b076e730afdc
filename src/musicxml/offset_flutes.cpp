#include "musicxml/offset_flutes.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace yubifu::musicxml {
namespace {

// How far 一 lies over the nearest size.
double offset_of(const model::FluteName& name) {
  const auto* size = std::get_if<model::FluteSize>(&name);
  if (size == nullptr) return 0;
  return model::pitch_at(100 * size->size.as_double() + size->cents).cents;
}

void add_to(model::Tone& tone, double offset) {
  if (!tone.pitch || tone.pitch->cents == 0) return;
  tone.pitch = model::pitch_at(tone.pitch->total_cents() + offset);
}

}  // namespace

void add_offsets(const model::Header& header, const std::vector<model::Direction>& directions,
                 std::vector<model::Note>& notes) {
  std::vector<std::pair<std::size_t, double>> changes;  // from a measure on
  changes.emplace_back(0, offset_of(header.flute.value_or(model::kDefaultFluteSize)));
  for (const model::Direction& direction : directions) {
    if (const auto* change = std::get_if<model::FluteChange>(&direction.value)) {
      changes.emplace_back(direction.measure, offset_of(change->flute));
    }
  }
  std::stable_sort(changes.begin(), changes.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  auto next = changes.begin();
  double offset = 0;
  for (model::Note& note : notes) {
    for (; next != changes.end() && next->first <= note.measure; ++next) offset = next->second;
    if (offset == 0) continue;
    add_to(note.tone, offset);
    for (model::Tone& grace : note.grace_before) add_to(grace, offset);
    for (model::Tone& grace : note.grace_after) add_to(grace, offset);
  }
}

}  // namespace yubifu::musicxml
