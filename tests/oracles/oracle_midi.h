// Generated scores as MIDI files, for the independent readers of MIDI.
#pragma once

#include <cstdint>
#include <filesystem>

#include "model/score.h"

namespace yubifu::oracles {

/// Writes BASE.mid, the played-out score as BASE.json, and what was asked for as BASE.options.json.
/// The options change with the seed. False when the score could not be written; true without a file
/// when JSON has no words for its times.
bool write_midi_case(const model::Score& music, std::uint64_t seed,
                     const std::filesystem::path& base);

}  // namespace yubifu::oracles
