// Findings about places of the music, told with their bars once the bars are known.
#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/message.h"

namespace yubifu::midi {

/// One rule's places and what is said of them.
struct Finding {
  const base::Rule* rule = nullptr;
  std::string what;  ///< a sentence that goes behind the bars: "a note is …"
  std::string hint;
  std::vector<std::int64_t> ticks;  ///< in the order found
};

/// Gathers the findings of a file, one a rule.
class Findings {
 public:
  /// Adds a place to the finding of this rule; what is said is that of the first place.
  void add(const base::Rule& rule, std::int64_t tick, std::string_view what,
           std::string_view hint = {}) {
    const auto same = std::find_if(list_.begin(), list_.end(),
                                   [&](const Finding& finding) { return finding.rule == &rule; });
    if (same != list_.end()) {
      same->ticks.push_back(tick);
    } else {
      list_.push_back({&rule, std::string(what), std::string(hint), {tick}});
    }
  }

  /// "bars 3 and 5: what (7 times)". `bar_of` gives the printed number of the bar at a tick.
  base::Diagnostics diagnostics(const std::function<std::string(std::int64_t)>& bar_of) const {
    base::Diagnostics diagnostics;
    for (const Finding& finding : list_) {
      std::vector<std::int64_t> ticks = finding.ticks;
      std::sort(ticks.begin(), ticks.end());
      std::vector<std::string> bars;
      for (const std::int64_t tick : ticks) {
        std::string bar = bar_of(tick);
        if (bars.empty() || bars.back() != bar) bars.push_back(std::move(bar));
      }
      const std::string count =
          ticks.size() == 1 ? std::string() : base::message(" ({} times)", ticks.size());
      diagnostics.push_back(base::report(
          *finding.rule, {}, fmt::format("{}: {}{}", base::bar_list(bars), finding.what, count),
          finding.hint));
      diagnostics.back().measures = std::move(bars);
    }
    return diagnostics;
  }

 private:
  std::vector<Finding> list_;
};

}  // namespace yubifu::midi
