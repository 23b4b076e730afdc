// The sentences about a fingering that a flute does not have or a pitch that it does not reach.
#pragma once

#include <cstddef>
#include <string>

#include "fingering/effort.h"
#include "flute/flute.h"
#include "model/score.h"

namespace yubifu::fingering {

/// A message and what to do about it.
struct Wording {
  std::string message;
  std::string hint;
};

/// The signs of its table, each once, parted by spaces.
std::string plain_signs(const flute::Flute& flute);

/// For a sign that is not in the table.
Wording missing_sign(const flute::Flute& flute, const model::Fingering& fingering);

/// For a half hole that is not in the table beside a plain sign that is; offers what sounds that
/// pitch, and of nメ also the bend that it may stand for.
Wording missing_half_hole(const flute::Flute& flute, const model::Fingering& fingering);

/// For a bend outside the limits of its entry; offers what comes nearer.
Wording far_bend(const flute::Flute& flute, const model::Fingering& fingering, std::size_t entry);

/// For a tone that is a gap, perhaps only because not all entries are allowed.
Wording gap(const flute::Flute& flute, const model::Tone& tone, Allowed allowed);

/// For a gap with a pitch that no score holds (model/key_range.h), so far has it been moved.
Wording out_of_all_reach(const model::Tone& tone);

/// For a fingering that sounds another key than the one written.
Wording disagreement(const flute::Flute& flute, const model::Tone& tone, int sounding_key);

}  // namespace yubifu::fingering
