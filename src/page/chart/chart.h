// The fingering chart of a flute, as SVG, as text for a terminal, and as JSON.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "flute/flute.h"
#include "model/score.h"
#include "page/page.h"

namespace yubifu::page {

/// For paper, or one document of the width of a telephone's screen, as high as it must be.
enum class ChartSize { screen, a4, letter };

/// What the chart shows, and on what.
struct ChartSvgOptions {
  ChartSize size = ChartSize::a4;
  /// Only these fingerings, bends aside; everything in the flute's table when absent.
  std::optional<std::vector<model::Fingering>> only;
};

/// The sheets of a chart, at least one: signs with their holes (mouth end first), staff note,
/// frequency and deviation, by registers, and the hearing caution when third-register signs are
/// among them. Reports `page-not-in-chart`.
base::Outcome<std::vector<Sheet>> lay_out_chart(const flute::Flute& flute,
                                                const ChartSvgOptions& options);

/// The same as SVG, one document a page.
base::Outcome<std::vector<std::string>> write_chart_svg(const flute::Flute& flute,
                                                        const ChartSvgOptions& options);

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

/// A flute, with the fingerings that a chart shows of it; all of its table when absent.
struct ChartOfFlute {
  std::shared_ptr<const flute::Flute> flute;
  std::optional<std::vector<model::Fingering>> only;
};

/// JSON of schemas/chart.schema.json: of each flute the entries, lowest first, each with its sign,
/// register, hole patterns, nearest note and frequency. What the table lacks is passed over.
std::string chart_json(const std::vector<ChartOfFlute>& charts);

/// A flute and every fingering that is played on it, in the order of the notes, grace notes among
/// them; a fingering may stand there many times.
struct FluteUse {
  std::shared_ptr<const flute::Flute> flute;
  std::vector<model::Fingering> fingerings;
};

/// The flutes in the order in which they first appear; one that comes back has a single entry.
/// `flutes` has one for each of Score::flutes.
std::vector<FluteUse> flutes_used(const model::Score& score, const FluteList& flutes);

/// A fingering as the chart shows it: its sign as spelled, and the table's entry.
struct ChartEntry {
  model::Fingering fingering;
  std::size_t entry = 0;
};

/// Every entry of the flute's table, lowest first.
std::vector<ChartEntry> all_entries(const flute::Flute& flute);

/// The entries of some fingerings, each once, lowest first; bends are not looked at. Reports
/// `page-not-in-chart` for those that the table does not hold; gaps are passed over.
base::Outcome<std::vector<ChartEntry>> entries_of(const flute::Flute& flute,
                                                  const std::vector<model::Fingering>& wanted);

/// Sheets of blocks that fill a size, without foot: one column a fingering, one block a register.
/// Height 0 makes one sheet as high as it must be.
std::vector<Sheet> chart_sheets(const flute::Flute& flute, const std::vector<ChartEntry>& entries,
                                const SheetSize& size);

/// The charts of what a score uses of each of its flutes.
base::Outcome<std::vector<Sheet>> chart_sheets(const model::Score& score, const FluteList& flutes,
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
