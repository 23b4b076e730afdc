// The fingering chart as positioned items: one column a fingering, one block a register.
#pragma once

#include <cstddef>
#include <vector>

#include "base/outcome.h"
#include "flute/flute.h"
#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

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

/// Sheets of blocks that fill `width` and `height`, in millimetres, without foot. `height` 0 makes
/// one sheet as high as it must be.
std::vector<Sheet> chart_sheets(const flute::Flute& flute, const std::vector<ChartEntry>& entries,
                                double width, double height);

/// True when one of the entries calls for the caution.
bool has_loud(const flute::Flute& flute, const std::vector<ChartEntry>& entries);

/// The charts of what a score uses of each of its flutes, on sheets of the page's size.
base::Outcome<std::vector<Sheet>> chart_sheets_for(const model::Score& score,
                                                   const FluteList& flutes,
                                                   const PageOptions& options);

}  // namespace yubifu::page
