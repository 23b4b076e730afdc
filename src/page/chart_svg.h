// The fingering chart of a flute as SVG.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/outcome.h"
#include "flute/flute.h"

namespace yubifu::page {

/// For paper, or one document of the width of a telephone's screen, as high as it must be.
enum class ChartSize { screen, a4, letter };

/// What the chart shows, and on what.
struct ChartSvgOptions {
  ChartSize size = ChartSize::a4;
  /// Only these fingerings, bends aside; everything in the flute's table when absent.
  std::optional<std::vector<model::Fingering>> only;
};

/// One document a page: signs with their holes (mouth end first), staff note, frequency and
/// deviation, by registers, and the hearing caution when third-register signs are among them.
/// Reports `page-not-in-chart`.
base::Outcome<std::vector<std::string>> write_chart_svg(const flute::Flute& flute,
                                                        const ChartSvgOptions& options);

}  // namespace yubifu::page
