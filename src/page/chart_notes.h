// What charts call registers and notes.
#pragma once

#include <string>

#include "flute/flute.h"

namespace yubifu::page {

/// "Low register (ryo)" and so on.
std::string register_name(model::Register in);

/// The staff note nearest to an entry. A half-holed note and 0 are spelled as the lowered note of
/// the sign where that is a usual name, other notes in the major key of 一.
model::Spelling staff_note(const flute::Flute& flute, const flute::Entry& entry);

/// Whether a note lies only about where the table says: 0 of the built-in flutes, whose pitch is
/// the maker's and the breath's.
bool is_approximate(const flute::Flute& flute, const flute::Entry& entry);

/// B♭4: with the printed accidentals.
std::string printed_note(const model::Spelling& spelling);

}  // namespace yubifu::page
