// A flute described by a file: any number of holes, its own signs, measured pitches.
#pragma once

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "flute/flute.h"

namespace yubifu::flute {

/// The air in a flute that is being played, in degrees Celsius: what readings in Hz are converted
/// to when a file tells the temperature at which they were taken but none for the concert.
inline constexpr double kConcertCelsius = 20;
/// What a flute file may tell.
inline constexpr double kColdestCelsius = -30;
inline constexpr double kHottestCelsius = 60;

/// A frequency read at one temperature of the air, at another: the pitch of an air column rises
/// with the square root of the absolute temperature.
double hz_at(double hz, double reading_celsius, double concert_celsius);

/// Reads a flute file (JSON, schemas/flute.schema.json). `name` is how the score names it; entries
/// in Hz keep their frequency at any tuning of A4, those in cents follow it with 一. Reports faults
/// at their places, and signs that cannot be told apart or stand out of order.
base::Outcome<Flute> read_flute_file(const base::SourceText& source, const model::FluteName& name,
                                     double a4_hz);

}  // namespace yubifu::flute
