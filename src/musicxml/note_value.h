// Written note values: a power of two with up to two dots.
#pragma once

#include <optional>

#include "model/rational.h"

namespace yubifu::musicxml {

/// A value with its dots; three quarters are a half (`base` 2) with one dot.
struct NoteValue {
  model::Rational base;  ///< a power of two, in quarters, at most a breve
  int dots = 0;

  friend bool operator==(const NoteValue&, const NoteValue&) = default;
};

/// More dots than this are not written.
inline constexpr int kMostDots = 2;

/// The longest value without dots: the breve, eight quarters.
inline constexpr model::Rational kLongestBase(8);

/// The one value that lasts so long; nothing where several tied notes are needed.
std::optional<NoteValue> single_value(model::Rational quarters);

/// Flags or beams of a value: 1 for an eighth, 0 from the quarter up.
int flag_count(const NoteValue& value);

/// True when the denominator is a power of two.
bool is_dyadic(model::Rational value);

/// The largest odd divisor; of 0 it is 0.
std::int64_t odd_part(std::int64_t value);

}  // namespace yubifu::musicxml
