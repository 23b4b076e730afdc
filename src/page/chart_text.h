// The fingering chart of a flute as lines of text for a terminal.
#pragma once

#include <string>

#include "flute/flute.h"

namespace yubifu::page {

enum class ChartAlphabet {
  printed,  ///< 三メ, ●○◐◎, B♭4
  ascii,    ///< r3m, xohs, Bb4; titles and own signs of flute files stay as they are
};

/// A head that names the flute and the columns, then one block a register: sign, holes from the
/// mouth end to the foot, nearest note, frequency in Hz at the flute's tuning and the deviation
/// from the note in cents. Further patterns of a sign follow on lines of their own. A half-holed
/// note and 0 are spelled as the lowered note of the sign where that is a usual name, other notes
/// in the major key of 一. Registers and notes stand highest first, as on a staff.
/// Ends with a line end.
std::string chart_text(const flute::Flute& flute, ChartAlphabet alphabet = ChartAlphabet::printed);

}  // namespace yubifu::page
