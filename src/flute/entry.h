// One line of a flute's table, and how far its notes bend.
#pragma once

#include <string>
#include <vector>

#include "model/fingering.h"

namespace yubifu::flute {

/// What an entry asks of the fingers. The register is told apart (Entry::in).
enum class EntryKind {
  plain,        ///< holes open or closed in order
  cross,        ///< closed holes under an open one: 0
  half_usual,   ///< a half hole that every player uses: 三メ 七メ 3メ 7メ
  half_harder,  ///< a half hole that wants practice: 五メ 六メ 5メ 6メ
  half_hard,    ///< a half hole that seldom speaks at once: 二メ 2メ
};

/// One sign of a flute, with or without a half hole: what it sounds and which holes it closes.
struct Entry {
  model::Sign sign;
  model::HalfHole half = model::HalfHole::none;
  double cents = 0;                           ///< from 一
  model::Register in = model::Register::low;  ///< decides bend limits and register breaks
  EntryKind kind = EntryKind::plain;
  std::vector<model::HolePattern> patterns;  ///< in order of preference, at least one
};

/// Sign and half hole, without a bend.
model::Fingering fingering_of(const Entry& entry);

/// 三 or 三メ.
std::string printed(const Entry& entry);

/// How far a note bends by turning the flute, in cents; both are distances, not signed.
struct BendLimit {
  int down = 0;
  int up = 0;

  /// True for a bend (lowered is negative) within the limit.
  bool allows(int bend_cents) const { return -down <= bend_cents && bend_cents <= up; }

  friend bool operator==(const BendLimit&, const BendLimit&) = default;
};

/// The limits of a flute by register; entries with a half hole have their own, in the third
/// register the narrower of the two. The defaults are a choice of this program, not a
/// measurement.
struct BendLimits {
  BendLimit low{50, 30};  ///< the tube tone too
  BendLimit second{50, 30};
  BendLimit third{30, 20};
  BendLimit half_hole{30, 20};

  friend bool operator==(const BendLimits&, const BendLimits&) = default;
};

/// The limit of one entry.
BendLimit limit_of(const BendLimits& limits, const Entry& entry);

}  // namespace yubifu::flute
