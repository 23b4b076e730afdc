// What a person noted from a tuner, as a table: one sign a row.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "flute/flute.h"

namespace yubifu::hearing {

/// One row.
struct NotedSign {
  model::Fingering fingering;  ///< sign and half hole
  double hz = 0;
  std::optional<model::HolePattern> holes;
};

/// The text of a table that is in UTF-8 or Shift_JIS. Reports `readings-text` for other bytes.
base::Outcome<std::string> readings_text(std::string_view bytes);

/// Reads a table: columns parted by tabs, semicolons or commas, in the order sign, Hz, holes or
/// sign, note, cents, holes, or in any order where a first row names them (sign, Hz, note, cents,
/// holes; 指, 音名, セント, 指孔). Blank lines and lines that begin with # are passed over; with
/// semicolons or tabs a number may have a decimal comma. Notes count at the tuning of `like`, whose
/// signs the table may use; a standard sign that it lacks needs holes. Reports `readings-columns`,
/// `readings-sign`, `readings-pitch`, `readings-holes` and `readings-twice` at their places.
base::Outcome<std::vector<NotedSign>> read_readings(const base::SourceText& source,
                                                    const flute::Flute& like);

}  // namespace yubifu::hearing
