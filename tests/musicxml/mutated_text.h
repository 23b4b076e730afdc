// Damage to staff files, the same for the same seed.
#pragma once

#include <cstdint>
#include <random>
#include <string>

namespace yubifu::musicxml {

/// The text with one to four faults: bytes changed, stretches cut out, doubled, moved, tags of
/// other elements, numbers and words that nobody expects. Mostly well-formed afterwards when the
/// text was.
std::string mutated(std::string text, std::mt19937_64& random);

/// The bytes with one to four of them changed, cut out or doubled.
std::string mutated_bytes(std::string bytes, std::mt19937_64& random);

}  // namespace yubifu::musicxml
