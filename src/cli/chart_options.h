// What the verb chart takes beside the options that it shares with others.
#pragma once

#include <optional>
#include <string>

#include "page/chart/chart.h"

namespace yubifu::cli {

/// What the chart is written as.
enum class ChartFormat { text, svg };

/// The options of chart alone.
struct ChartOptions {
  std::optional<ChartFormat> to;  ///< by the name of the output when absent
  page::ChartSize size = page::ChartSize::a4;
  std::string score;  ///< the file to whose fingerings the chart is limited; empty for none
};

}  // namespace yubifu::cli
