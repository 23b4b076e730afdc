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

/// A flute, and the fingerings that a chart shows of it, bends aside; else all of its table.
struct ChartOfFlute {
  std::shared_ptr<const flute::Flute> flute;
  std::optional<std::vector<model::Fingering>> only;
};

/// For paper, or one document of the width of a telephone's screen, as high as it must be.
enum class ChartSize { screen, a4, letter };

/// The sheets of a chart, at least one: signs with their holes (mouth end first), staff note,
/// frequency and deviation, by registers; the hearing caution if due. Reports `page-not-in-chart`.
base::Outcome<std::vector<Sheet>> lay_out_chart(const ChartOfFlute& chart, ChartSize size);

/// A head that names the flute and the columns, then one block a register, highest first as on a
/// staff: sign, holes from the mouth end to the foot, staff_note, frequency in Hz at the flute's
/// tuning and the deviation in cents. Further patterns of a sign follow on lines of their own. Ends
/// with the hearing caution if due, and a line end. What the table lacks is passed over. In ASCII a
/// note is Bb4 and not B♭4; titles and own signs of flute files stay as they are.
std::string chart_text(const ChartOfFlute& chart,
                       model::Alphabet alphabet = model::Alphabet::printed);

/// JSON of schemas/chart.schema.json: of each flute the entries, lowest first, each with its sign,
/// register, hole patterns, nearest note and frequency. What the table lacks is passed over.
std::string chart_json(const std::vector<ChartOfFlute>& charts);

/// The flutes with every fingering that is played on them, grace notes too and as often as played,
/// in the order in which they first appear, each once. `flutes` has one for each of Score::flutes.
std::vector<ChartOfFlute> flutes_used(const model::Score& score, const FluteList& flutes);

/// A fingering as the chart shows it: its sign as spelled, and the entry of the flute's table.
struct ChartEntry {
  model::Fingering fingering;
  const flute::Entry* entry = nullptr;
};

/// The entries of some fingerings without gaps, each once, or of the table; lowest first. Bends are
/// not looked at. Reports `page-not-in-chart` for those that the table does not hold.
base::Outcome<std::vector<ChartEntry>> entries_of(const ChartOfFlute& chart);

/// Sheets without foot: one column a fingering, one block a register. Height 0: as high as need be.
base::Outcome<std::vector<Sheet>> chart_sheets(const std::vector<ChartOfFlute>& charts,
                                               const SheetSize& size);

/// True when one of the entries calls for the caution.
bool has_loud(const flute::Flute& flute, const std::vector<ChartEntry>& entries);

/// "Low register (ryo)" and so on.
std::string register_name(model::Register in);

/// What an entry sounds at the flute's tuning.
model::Pitch pitch_of(const flute::Flute& flute, const flute::Entry& entry);

/// Whether the table is only about right: 0 of built-in flutes depends on the maker and the breath.
bool is_approximate(const flute::Flute& flute, const flute::Entry& entry);

/// The staff note nearest to an entry. A half-holed note and 0 are spelled as the lowered note of
/// the sign where that is a usual name, other notes in the major key of 一.
model::Spelling staff_note(const flute::Flute& flute, const flute::Entry& entry);

}  // namespace yubifu::page
