#include "midi/beat_places.h"

#include <cmath>
#include <numbers>

namespace yubifu::midi {

const BeatPlaces& usual_places(bool compound) {
  static const BeatPlaces simple_time{{0, 0.8},     {0.5, 0.35},     {0.25, 0.12},
                                      {0.75, 0.16}, {1.0 / 3, 0.05}, {2.0 / 3, 0.07}};
  static const BeatPlaces compound_time{{0, 0.8},        {1.0 / 3, 0.35}, {2.0 / 3, 0.45},
                                        {1.0 / 6, 0.04}, {0.5, 0.08},     {5.0 / 6, 0.06}};
  return compound ? compound_time : simple_time;
}

const std::vector<BeatPlaces>& feels() {
  static const std::vector<BeatPlaces> list{usual_places(false),
                                            usual_places(true),
                                            {{0, 0.8}, {0.54, 0.5}},
                                            {{0, 0.8}, {0.58, 0.5}},
                                            {{0, 0.8}, {0.62, 0.5}}};
  return list;
}

double normal_density(double error, double variance) {
  return std::exp(-error * error / (2 * variance)) / std::sqrt(2 * std::numbers::pi * variance);
}

double onset_density(const BeatPlaces& places, double at, double milliseconds, double variance) {
  double sum = kStrayRate;
  for (const BeatPlace& place : places) {
    const double error = at - place.at - std::round(at - place.at);
    sum += place.rate * normal_density(error * milliseconds, variance);
  }
  return sum;
}

}  // namespace yubifu::midi
