#include "model/meter.h"

#include <fmt/format.h>

#include "base/numbers.h"

namespace yubifu::model {
namespace {

constexpr int kMostBeats = 64;
constexpr int kSmallestUnit = 128;
constexpr Rational kLongestBeat(8);
constexpr std::int64_t kFinestBeat = 1'000'000;  // so that sums of beats can be held
constexpr Rational kShortestTempoUnit(4, 128);
constexpr Rational kFastestTempo(1000);
// Of a Standard MIDI File: a quarter note of one microsecond.
constexpr Rational kFastestExact(60'000'000);

}  // namespace

std::string to_text(const Meter& meter) {
  return meter.is_free() ? "free" : fmt::format("{}/{}", meter.beats, meter.unit);
}

std::optional<Meter> parse_meter(std::string_view text) {
  if (text == "free") return Meter::free_time();
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  const auto beats = base::whole_number(text.substr(0, slash));
  const auto unit = base::whole_number(text.substr(slash + 1));
  const bool is_known = beats && unit && *beats >= 1 && *beats <= kMostBeats &&
                        *unit <= kSmallestUnit && base::is_power_of_two(*unit);
  return is_known ? std::optional(Meter{*beats, *unit}) : std::nullopt;
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

std::string exact_text(const Tempo& tempo) {
  const std::string decimal = to_decimal(tempo.per_minute);
  const bool exact = parse_decimal(decimal) == tempo.per_minute;
  return fmt::format("{}={}", beat_text(tempo.unit), exact ? decimal : to_text(tempo.per_minute));
}

std::optional<Tempo> parse_exact_tempo(std::string_view text, Rational usual) {
  Tempo tempo{0, usual};
  if (const std::size_t equals = text.find('='); equals != std::string_view::npos) {
    const auto unit = parse_rational(text.substr(0, equals));
    if (!unit || *unit <= Rational(0) || *unit > Rational(16)) return std::nullopt;
    tempo.unit = *unit * 4;
    text.remove_prefix(equals + 1);
  }
  const bool fraction = text.find('/') != std::string_view::npos;
  const auto number = fraction ? parse_rational(text) : parse_decimal(text);
  if (!number || *number <= Rational(0) || *number > kFastestExact) return std::nullopt;
  tempo.per_minute = *number;
  return tempo;
}

std::string beat_text(Rational quarters) {
  const Rational whole = quarters / 4;
  return fmt::format("{}/{}", whole.numerator(), whole.denominator());
}

std::optional<Rational> parse_beat(std::string_view text) {
  const auto whole = parse_rational(text);
  if (!whole || whole->denominator() > kFinestBeat) return std::nullopt;
  if (*whole <= Rational(0) || *whole > kLongestBeat / 4) return std::nullopt;
  return *whole * 4;
}

}  // namespace yubifu::model
