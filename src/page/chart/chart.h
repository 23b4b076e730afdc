// The fingering chart of a flute, as SVG, as text for a terminal, and as JSON.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "flute/flute.h"
#include "model/score.h"
#include "page/page.h"

namespace yubifu::page {

/// A flute, with the fingerings that a chart shows of it, bends aside; all of its table when
/// absent.
struct ChartOfFlute {
  std::shared_ptr<const flute::Flute> flute;
  std::optional<std::vector<model::Fingering>> only;
};

/// For paper, or one document of the width of a telephone's screen, as high as it must be.
enum class ChartSize { screen, a4, letter };

/// The sheets of a chart, at least one: signs with their holes (mouth end first), staff note,
/// frequency and deviation, by registers, and the hearing caution when third-register signs are
/// among them. Reports `page-not-in-chart`.
base::Outcome<std::vector<Sheet>> lay_out_chart(const ChartOfFlute& chart, ChartSize size);

/// The characters of signs, holes and notes.
enum class ChartAlphabet {
  printed,  ///< 三メ, ●○◐◎, B♭4
  ascii,    ///< r3m, xohs, Bb4; titles and own signs of flute files stay as they are
};

/// A head that names the flute and the columns, then one block a register: sign, holes from the
/// mouth end to the foot, nearest note, frequency in Hz at the flute's tuning and the deviation
/// from the note in cents. Further patterns of a sign follow on lines of their own. A half-holed
/// note and 0 are spelled as the lowered note of the sign where that is a usual name, other notes
/// in the major key of 一. Registers and notes stand highest first, as on a staff. The hearing
/// caution ends a chart with third-register signs. Ends with a line end. What the table lacks is
/// passed over.
std::string chart_text(const ChartOfFlute& chart, ChartAlphabet alphabet = ChartAlphabet::printed);

/// JSON of schemas/chart.schema.json: of each flute the entries, lowest first, each with its sign,
/// register, hole patterns, nearest note and frequency. What the table lacks is passed over.
std::string chart_json(const std::vector<ChartOfFlute>& charts);

/// The flutes with every fingering that is played on them, in the order in which they first
/// appear; one that comes back has a single entry. A fingering may stand there many times, those of
/// grace notes too. `flutes` has one for each of Score::flutes.
std::vector<ChartOfFlute> flutes_used(const model::Score& score, const FluteList& flutes);

/// A fingering as the chart shows it: its sign as spelled, and the entry of the flute's table.
struct ChartEntry {
  model::Fingering fingering;
  const flute::Entry* entry = nullptr;
};

/// The entries of some fingerings, each once, or every entry of the table; lowest first. Bends are
/// not looked at. Reports `page-not-in-chart` for those that the table does not hold; gaps are
/// passed over.
base::Outcome<std::vector<ChartEntry>> entries_of(const ChartOfFlute& chart);

/// Sheets of blocks that fill a size, without foot: one column a fingering, one block a register.
/// Height 0 makes one sheet as high as it must be.
std::vector<Sheet> chart_sheets(const flute::Flute& flute, const std::vector<ChartEntry>& entries,
                                const SheetSize& size);

/// The same for several flutes.
base::Outcome<std::vector<Sheet>> chart_sheets(const std::vector<ChartOfFlute>& charts,
                                               const SheetSize& size);

/// True when one of the entries calls for the caution.
bool has_loud(const flute::Flute& flute, const std::vector<ChartEntry>& entries);

/// "Low register (ryo)" and so on.
std::string register_name(model::Register in);

/// What an entry sounds at the flute's tuning.
model::Pitch pitch_of(const flute::Flute& flute, const flute::Entry& entry);

/// Whether a note lies only about where the table says: 0 of the built-in flutes, whose pitch is
/// the maker's and the breath's.
bool is_approximate(const flute::Flute& flute, const flute::Entry& entry);

/// The staff note nearest to an entry. A half-holed note and 0 are spelled as the lowered note of
/// the sign where that is a usual name, other notes in the major key of 一.
model::Spelling staff_note(const flute::Flute& flute, const flute::Entry& entry);

}  // namespace yubifu::page
