// Where in a beat notes begin, and how often: what tells a clock that explains a melody from one
// that does not. Our choice, from invented tunes; it does not say where notes go (division_cost.h
// does).
#pragma once

#include <cstddef>
#include <vector>

namespace yubifu::midi {

/// A place of the beat, 0 to below 1, and how many notes begin there in one beat.
struct BeatPlace {
  double at = 0;
  double rate = 0;
};
using BeatPlaces = std::vector<BeatPlace>;

/// Those of an ordinary melody, in simple or in compound time.
const BeatPlaces& usual_places(bool compound);

/// The ways to divide the beats of a steady clock: in halves, in thirds, and with the swing of a
/// second half that comes late.
const std::vector<BeatPlaces>& feels();

/// The standard deviation of an onset that an ordinary player plays, in milliseconds.
inline constexpr double kUsualSpread = 20;
/// More standard deviations than this are no chance.
inline constexpr double kSure = 3;
/// So many notes tell a clock; more would only take time.
inline constexpr std::size_t kJudgedNotes = 1000;
/// Notes a millisecond that are at no place at all.
inline constexpr double kStrayRate = 1e-4;

/// A normal distribution around 0.
double normal_density(double error, double variance);

/// How many notes a millisecond begin `at` so many beats, of so many milliseconds each, when they
/// spread by that variance in square milliseconds.
double onset_density(const BeatPlaces& places, double at, double milliseconds, double variance);

}  // namespace yubifu::midi
