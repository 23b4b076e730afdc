#include "flute/flute.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/message.h"

namespace yubifu::flute {
namespace {

BendLimit of_register(const BendLimits& limits, model::Register in) {
  switch (in) {
    case model::Register::tube:
    case model::Register::low:
      return limits.low;
    case model::Register::second:
      return limits.second;
    case model::Register::third:
      return limits.third;
  }
  return limits.low;
}

constexpr double kSemitone = 100;
// A メ entry further than this from a semitone above the plain sign is another note.
constexpr double kFurthestFromSemitone = 50;

void require(bool condition, const char* what) {
  if (!condition) throw std::invalid_argument(what);
}

BendLimit limit_of(const BendLimits& limits, const Entry& entry) {
  const BendLimit limit = of_register(limits, entry.in);
  if (entry.half == model::HalfHole::none) return limit;
  return {std::min(limit.down, limits.half_hole.down), std::min(limit.up, limits.half_hole.up)};
}

}  // namespace

model::Fingering fingering_of(const Entry& entry) {
  return {entry.sign, entry.half, 0};
}

std::string printed(const Entry& entry) {
  return model::printed(fingering_of(entry));
}

Flute::Flute(FluteTable table) : table_(std::move(table)) {
  require(!table_.entries.empty(), "a flute without entries");
  for (std::size_t i = 0; i < table_.entries.size(); ++i) {
    const Entry& entry = table_.entries[i];
    require(by_sign_.try_emplace({entry.sign, entry.half}, i).second, "an entry given twice");
    require(!entry.patterns.empty(), "an entry without a hole pattern");
    for (const model::HolePattern& pattern : entry.patterns) {
      require(pattern.holes.size() == table_.hole_count, "a pattern for another number of holes");
    }
    by_pitch_.push_back(i);
  }
  std::stable_sort(by_pitch_.begin(), by_pitch_.end(), [&](std::size_t a, std::size_t b) {
    return table_.entries[a].cents < table_.entries[b].cents;
  });
}

std::optional<std::size_t> Flute::find(const model::Fingering& fingering) const {
  if (!fingering.sign) return std::nullopt;
  if (const auto own = by_sign_.find({*fingering.sign, fingering.half}); own != by_sign_.end()) {
    return own->second;
  }
  const auto plain = by_sign_.find({*fingering.sign, model::HalfHole::none});
  if (fingering.half != model::HalfHole::over || plain == by_sign_.end()) return std::nullopt;
  const Entry& sign = table_.entries[plain->second];
  std::optional<std::size_t> nearest;
  double least = kFurthestFromSemitone;
  for (std::size_t i = 0; i < table_.entries.size(); ++i) {
    const Entry& entry = table_.entries[i];
    if (entry.half != model::HalfHole::under || entry.in != sign.in) continue;
    const double distance = std::abs(entry.cents - (sign.cents + kSemitone));
    if (distance < least) {
      least = distance;
      nearest = i;
    }
  }
  return nearest;
}

double Flute::total_cents(std::size_t entry) const {
  return table_.ichi.total_cents() + table_.entries[entry].cents;
}

std::optional<double> Flute::total_cents(const model::Fingering& fingering) const {
  const auto entry = find(fingering);
  if (!entry) return std::nullopt;
  return total_cents(*entry) + fingering.bend_cents;
}

std::optional<model::Pitch> Flute::sound(const model::Fingering& fingering) const {
  const auto cents = total_cents(fingering);
  if (!cents) return std::nullopt;
  return model::pitch_at(*cents);
}

BendLimit Flute::bend_limit(std::size_t entry) const {
  return limit_of(table_.bend_limits, table_.entries[entry]);
}

std::vector<Reach> Flute::reaches(double total_cents) const {
  const double cents = total_cents - table_.ichi.total_cents();
  // No bend is larger than kMostBendCents, so only a stretch of the sorted entries can reach.
  const auto first = std::lower_bound(
      by_pitch_.begin(), by_pitch_.end(), cents - model::kMostBendCents - 1,
      [&](std::size_t entry, double value) { return table_.entries[entry].cents < value; });
  std::vector<Reach> found;
  for (auto at = first; at != by_pitch_.end(); ++at) {
    const double distance = cents - table_.entries[*at].cents;
    if (distance < -model::kMostBendCents - 1) break;
    const int bend = static_cast<int>(std::lround(distance));
    if (std::abs(bend) <= model::kMostBendCents && bend_limit(*at).allows(bend)) {
      found.push_back({*at, bend});
    }
  }
  std::sort(found.begin(), found.end(),
            [](const Reach& a, const Reach& b) { return a.entry < b.entry; });
  return found;
}

bool is_loud(const Flute& flute, const model::Fingering& fingering) {
  const auto entry = flute.find(fingering);
  if (!entry) return false;
  if (flute.entries()[*entry].in == model::Register::third) return true;
  return model::frequency_hz(*flute.sound(fingering), flute.tuning_hz()) >= kLoudHz;
}

std::string hearing_caution() {
  return base::message(
      "high notes are loud next to the ear: for long practice use hearing protection "
      "and take breaks, follow local noise rules and a hearing professional's advice");
}

}  // namespace yubifu::flute
