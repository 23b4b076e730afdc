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

// A pitch without cents is the plain note of the flute. One that lies on its semitone because a
// bend takes the offset away is so little beside it that nobody hears it.
constexpr double kBesideSemitone = 1e-6;

void set_beside(model::Pitch& pitch) {
  if (pitch.cents == 0) pitch.cents = kBesideSemitone;
}

// Calls `take` with every pitch that stands on a flute with an offset, and with that.
template <typename Take>
void each_pitch(const model::Header& header, const std::vector<model::Direction>& directions,
                std::vector<model::Note>& notes, const Take& take) {
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
  const auto take_tone = [&](model::Tone& tone) {
    if (tone.pitch) take(*tone.pitch, offset);
  };
  for (model::Note& note : notes) {
    for (; next != changes.end() && next->first <= note.measure; ++next) offset = next->second;
    if (offset == 0) continue;
    take_tone(note.tone);
    std::for_each(note.grace_before.begin(), note.grace_before.end(), take_tone);
    std::for_each(note.grace_after.begin(), note.grace_after.end(), take_tone);
  }
}

}  // namespace

void add_offsets(const model::Header& header, const std::vector<model::Direction>& directions,
                 std::vector<model::Note>& notes) {
  if (header.staff != model::StaffMode::sounding) {
    each_pitch(header, directions, notes, [](model::Pitch& pitch, double offset) {
      if (pitch.cents == 0) return;
      pitch = model::pitch_at(pitch.total_cents() + offset);
      set_beside(pitch);
    });
    return;
  }
  bool is_exact = false;
  each_pitch(header, directions, notes,
             [&](const model::Pitch& pitch, double) { is_exact = is_exact || pitch.cents != 0; });
  if (!is_exact) return;
  each_pitch(header, directions, notes, [](model::Pitch& pitch, double) { set_beside(pitch); });
}

}  // namespace yubifu::musicxml
