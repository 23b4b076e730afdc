// How much of a human performance is read as it was meant: for two rhythms, three tempos and three
// sizes of error, beside someone who knows how each beat is divided. Prints a table; fixed seeds.
#include <cstdio>

#include <fmt/format.h>

#include "bench/performed_tune.h"

using namespace yubifu::bench;

int main() {
  constexpr std::size_t kBeats = 1000;
  constexpr int kTunes = 5;
  // The quantiser was tuned on seeds under 1000; what is stated comes from others.
  constexpr std::uint64_t kFirstSeed = 1001;
  fmt::print("{:8} {:>5} {:>7} {:>9} {:>9}\n", "rhythm", "bpm", "error", "read", "oracle");
  for (const Rhythm rhythm : {Rhythm::binary, Rhythm::mixed}) {
    for (const double tempo : {60.0, 100.0, 140.0}) {
      for (const double error : {5.0, 15.0, 25.0}) {
        double right = 0;
        double right_by_oracle = 0;
        for (std::uint64_t seed = kFirstSeed; seed < kFirstSeed + kTunes; ++seed) {
          const auto tune = random_tune(rhythm, kBeats, seed);
          const auto played = play(tune, {tempo, error, 1000 + seed});
          right += share_right(tune, read_back(performed_file(played, tempo)));
          right_by_oracle += share_right(tune, oracle(tune, played));
        }
        fmt::print("{:8} {:5.0f} {:4.0f} ms {:8.2f}% {:8.2f}%\n",
                   rhythm == Rhythm::binary ? "binary" : "mixed", tempo, error,
                   100 * right / kTunes, 100 * right_by_oracle / kTunes);
      }
    }
  }
}
