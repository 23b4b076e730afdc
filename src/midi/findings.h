// Findings about places of the music, told with their bars once the bars are known.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

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
           std::string_view hint = {});

  /// "bars 3 and 5: what (7 times)". `bar_of` gives the printed number of the bar at a tick.
  base::Diagnostics diagnostics(const std::function<std::string(std::int64_t)>& bar_of) const;

 private:
  std::vector<Finding> list_;
};

}  // namespace yubifu::midi
