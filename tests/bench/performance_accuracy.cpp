// How much of a human performance is read as it was meant: for two rhythms, three tempos and three
// sizes of error, beside someone who knows how each beat is divided; then the onsets of notes that
// are held for a part of their length. Prints tables; fixed seeds.
#include <cstdio>

#include <fmt/format.h>

#include "bench/performed_tune.h"

using namespace yubifu::bench;

namespace {

constexpr std::size_t kBeats = 1000;
constexpr int kTunes = 5;
// The quantiser was tuned on seeds under 1000; what is stated comes from others.
constexpr std::uint64_t kFirstSeed = 1001;

const char* name(Rhythm rhythm) {
  return rhythm == Rhythm::binary ? "binary" : "mixed";
}

void legato() {
  fmt::print("{:8} {:>5} {:>7} {:>9} {:>9}\n", "rhythm", "bpm", "error", "read", "oracle");
  for (const Rhythm rhythm : {Rhythm::binary, Rhythm::mixed}) {
    for (const double tempo : {60.0, 100.0, 140.0}) {
      for (const double error : {5.0, 15.0, 25.0}) {
        double right = 0;
        double right_by_oracle = 0;
        for (std::uint64_t seed = kFirstSeed; seed < kFirstSeed + kTunes; ++seed) {
          const auto tune = random_tune(rhythm, kBeats, seed);
          const auto played = play(tune, {tempo, error, 1000 + seed, 1});
          right += share_right(tune, read_back(performed_file(played, tempo)));
          right_by_oracle += share_right(tune, oracle(tune, played));
        }
        fmt::print("{:8} {:5.0f} {:4.0f} ms {:8.2f}% {:8.2f}%\n", name(rhythm), tempo, error,
                   100 * right / kTunes, 100 * right_by_oracle / kTunes);
      }
    }
  }
}

void detached() {
  constexpr double kError = 15;
  fmt::print("\n{:8} {:>5} {:>5} {:>9}\n", "rhythm", "bpm", "held", "onsets");
  for (const Rhythm rhythm : {Rhythm::binary, Rhythm::mixed}) {
    for (const double tempo : {60.0, 100.0, 140.0}) {
      for (const double held : {0.9, 0.8, 0.7, 0.5}) {
        double right = 0;
        for (std::uint64_t seed = kFirstSeed; seed < kFirstSeed + kTunes; ++seed) {
          const auto tune = random_tune(rhythm, kBeats, seed);
          const auto played = play(tune, {tempo, kError, 1000 + seed, held});
          right += share_begun_right(tune, read_back(performed_file(played, tempo)));
        }
        fmt::print("{:8} {:5.0f} {:4.0f}% {:8.2f}%\n", name(rhythm), tempo, 100 * held,
                   100 * right / kTunes);
      }
    }
  }
}

}  // namespace

int main() {
  legato();
  detached();
}
