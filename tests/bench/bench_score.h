// The music that every benchmark reads or writes.
#pragma once

#include <cstddef>

#include "model/score.h"

namespace yubifu::bench {

/// The sizes that are measured.
inline constexpr int kSmall = 2'000;
inline constexpr int kMiddle = 20'000;
inline constexpr int kLarge = 200'000;

/// A tune in 4/4 of at least so many notes (less than a bar more), resolved for the flute of size
/// 6: quarters, eighths, dotted values, triplets, ties over bars and rests in turn, some notes
/// half-holed, bent or marked.
model::Score bench_score(std::size_t notes);

}  // namespace yubifu::bench
