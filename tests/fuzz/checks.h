// What must hold whatever bytes come in. A broken promise ends the process, so that a fuzzer and
// the replay of its findings both see it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "fingering/resolve.h"
#include "model/score.h"

namespace yubifu::fuzz {

/// The bytes that a fuzzer hands over.
std::string bytes_of(const std::uint8_t* data, std::size_t size);

/// Prints the promise and aborts when it does not hold.
void require(bool holds, std::string_view promise);

/// Findings have a rule, a message and a place inside the text.
void check_findings(const base::Diagnostics& findings, const base::SourceText& source);

/// The same of a reader; what it read without an error holds every invariant, and where it read
/// nothing it says why.
void check_reading(const base::Outcome<model::Score>& read, const base::SourceText& source);

/// The way of the program from a score that was read to all that it can be written as: everything
/// ends with a result or an error, and what was written as text or JSON is read again.
void check_conversion(const model::Score& score, fingering::Origin origin);

}  // namespace yubifu::fuzz
