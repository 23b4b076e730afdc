#include "model/meter.h"

#include <fmt/format.h>

#include "base/numbers.h"

namespace yubifu::model {
namespace {

constexpr int kMostBeats = 64;
constexpr int kSmallestUnit = 128;
constexpr Rational kLongestBeat(8);
constexpr Rational kShortestTempoUnit(4, 128);
constexpr Rational kFastestTempo(1000);

}  // namespace

std::string to_text(const Meter& meter) {
  return meter.is_free() ? "free" : fmt::format("{}/{}", meter.beats, meter.unit);
}

std::optional<Meter> parse_meter(std::string_view text) {
  if (text == "free") return Meter::free_time();
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos || text.find('/', slash + 1) != std::string_view::npos) {
    return std::nullopt;
  }
  const auto beats = parse_rational(text.substr(0, slash));
  const auto unit = parse_rational(text.substr(slash + 1));
  if (!beats || !unit || !beats->is_whole() || !unit->is_whole()) return std::nullopt;
  const bool known = *beats >= Rational(1) && *beats <= Rational(kMostBeats) &&
                     *unit <= Rational(kSmallestUnit) && base::is_power_of_two(unit->numerator());
  if (!known) return std::nullopt;
  return Meter{static_cast<int>(beats->numerator()), static_cast<int>(unit->numerator())};
}

Rational default_beat(const Meter& meter) {
  return Rational(4, meter.unit);
}

Rational felt_beat(const Meter& meter, Rational beat) {
  const bool compound =
      meter.unit == 8 && (meter.beats == 6 || meter.beats == 9 || meter.beats == 12);
  return compound ? Rational(3, 2) : beat;
}

bool divides(Rational beat, const Meter& meter) {
  return meter.is_free() || (meter.length() / beat).is_whole();
}

std::string to_text(const Tempo& tempo, Rational usual) {
  const std::string number = to_decimal(tempo.per_minute);
  return tempo.unit == usual ? number : fmt::format("{}={}", beat_text(tempo.unit), number);
}

std::optional<Tempo> parse_tempo(std::string_view text, Rational usual) {
  Tempo tempo{0, usual};
  if (const std::size_t equals = text.find('='); equals != std::string_view::npos) {
    const auto unit = parse_beat(text.substr(0, equals));
    if (!unit || *unit < kShortestTempoUnit) return std::nullopt;
    tempo.unit = *unit;
    text.remove_prefix(equals + 1);
  }
  const auto number = parse_decimal(text);
  if (!number || *number <= Rational(0) || *number > kFastestTempo) return std::nullopt;
  tempo.per_minute = *number;
  return tempo;
}

std::string beat_text(Rational quarters) {
  const Rational whole = quarters / 4;
  return fmt::format("{}/{}", whole.numerator(), whole.denominator());
}

std::optional<Rational> parse_beat(std::string_view text) {
  const auto whole = parse_rational(text);
  if (!whole || *whole <= Rational(0) || *whole > kLongestBeat / 4) return std::nullopt;
  return *whole * 4;
}

}  // namespace yubifu::model
