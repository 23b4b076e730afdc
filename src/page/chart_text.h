// The fingering chart of a flute as lines of text for a terminal.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "flute/flute.h"

namespace yubifu::page {

/// The characters of signs, holes and notes.
enum class ChartAlphabet {
  printed,  ///< 三メ, ●○◐◎, B♭4
  ascii,    ///< r3m, xohs, Bb4; titles and own signs of flute files stay as they are
};

/// What the chart shows, and how.
struct ChartTextOptions {
  ChartAlphabet alphabet = ChartAlphabet::printed;
  /// Only these fingerings, bends aside, as they are spelled; everything in the flute's table when
  /// absent. What the table lacks is passed over.
  std::optional<std::vector<model::Fingering>> only;
};

/// A head that names the flute and the columns, then one block a register: sign, holes from the
/// mouth end to the foot, nearest note, frequency in Hz at the flute's tuning and the deviation
/// from the note in cents. Further patterns of a sign follow on lines of their own. A half-holed
/// note and 0 are spelled as the lowered note of the sign where that is a usual name, other notes
/// in the major key of 一. Registers and notes stand highest first, as on a staff. The hearing
/// caution ends a chart with third-register signs. Ends with a line end.
std::string chart_text(const flute::Flute& flute, const ChartTextOptions& options = {});

}  // namespace yubifu::page
