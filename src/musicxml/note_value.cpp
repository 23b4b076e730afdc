#include "musicxml/note_value.h"

namespace yubifu::musicxml {

using model::Rational;

bool is_dyadic(Rational value) {
  const std::int64_t below = value.denominator();
  return (below & (below - 1)) == 0;
}

std::int64_t odd_part(std::int64_t value) {
  if (value == 0) return 0;
  while (value % 2 == 0) value /= 2;
  return value;
}

std::optional<NoteValue> single_value(Rational quarters) {
  if (quarters <= Rational(0) || !is_dyadic(quarters)) return std::nullopt;
  // Dots make 1, 3 and 7 of the smallest part.
  const std::int64_t parts = odd_part(quarters.numerator());
  std::int64_t with_dots = 1;
  for (int dots = 0; dots <= kMostDots; ++dots) {
    if (parts == with_dots) {
      const Rational base = quarters * Rational(std::int64_t{1} << dots, parts);
      if (base > kLongestBase) return std::nullopt;
      return NoteValue{base, dots};
    }
    with_dots = 2 * with_dots + 1;
  }
  return std::nullopt;
}

int flag_count(const NoteValue& value) {
  int flags = 0;
  for (Rational length = value.base; length < Rational(1); length = length * 2) ++flags;
  return flags;
}

}  // namespace yubifu::musicxml
