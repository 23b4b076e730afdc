// Meter, beat and tempo.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "model/rational.h"

namespace yubifu::model {

/// A time signature, or free time, in which bars are phrases and nothing is counted.
struct Meter {
  int beats = 4;  ///< 0 in free time
  int unit = 4;   ///< 1, 2, 4 … 128

  static Meter free_time() { return {0, 4}; }
  bool is_free() const { return beats == 0; }

  /// In quarter notes; zero in free time.
  Rational length() const { return Rational(beats) * Rational(4, unit); }
  friend bool operator==(const Meter&, const Meter&) = default;
};

/// "6/8" or "free".
std::string to_text(const Meter& meter);
/// Beats 1 to 64 over a power of two up to 128, or "free".
std::optional<Meter> parse_meter(std::string_view text);

/// What one word lasts when the score does not say: the unit of the meter, a quarter in free time.
Rational default_beat(const Meter& meter);

/// The beat that a tempo counts when it names none: the dotted quarter in 6/8, 9/8 and 12/8,
/// otherwise the beat in force.
Rational felt_beat(const Meter& meter, Rational beat);

/// True when a bar of the meter holds the beat, a positive number of quarter notes, a whole number
/// of times; in free time any beat will do. Throws TimeOverflow.
bool divides(Rational beat, const Meter& meter);

/// So many units a minute; the unit in quarter notes.
struct Tempo {
  Rational per_minute = 120;
  Rational unit = 1;

  Rational quarters_per_minute() const { return per_minute * unit; }
  friend bool operator==(const Tempo&, const Tempo&) = default;
};

/// Where a score gives none: 120 quarters a minute, as players of MIDI files do (SMF 1.1).
inline constexpr Tempo kDefaultTempo{};

/// "76" when the unit is `usual`, otherwise "1/8=180" with the unit as a part of a whole note.
std::string to_text(const Tempo& tempo, Rational usual);
/// Reads `to_text`'s form. The number is above 0 and at most 1000, the unit from 1/128 to 2/1.
std::optional<Tempo> parse_tempo(std::string_view text, Rational usual);

/// The same, always with its unit and exact also where no decimal is: "1/4=20000000/166667".
std::string exact_text(const Tempo& tempo);
/// Reads it, up to the fastest tempo of a Standard MIDI File; without a unit it counts `usual`.
std::optional<Tempo> parse_exact_tempo(std::string_view text, Rational usual);

/// A note value as a part of a whole note: "1/8" for half a quarter.
std::string beat_text(Rational quarters);
/// Reads "3/8" as quarters; above zero, at most two whole notes.
std::optional<Rational> parse_beat(std::string_view text);

}  // namespace yubifu::model
