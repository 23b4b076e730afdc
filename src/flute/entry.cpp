#include "flute/entry.h"

#include <algorithm>

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

}  // namespace

model::Fingering fingering_of(const Entry& entry) {
  return {entry.sign, entry.half, 0};
}

std::string printed(const Entry& entry) {
  return model::printed(fingering_of(entry));
}

BendLimit limit_of(const BendLimits& limits, const Entry& entry) {
  const BendLimit limit = of_register(limits, entry.in);
  if (entry.half == model::HalfHole::none) return limit;
  return {std::min(limit.down, limits.half_hole.down), std::min(limit.up, limits.half_hole.up)};
}

}  // namespace yubifu::flute
