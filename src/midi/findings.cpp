#include "midi/findings.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/message.h"

namespace yubifu::midi {

void Findings::add(const base::Rule& rule, std::int64_t tick, std::string_view what,
                   std::string_view hint) {
  const auto same = std::find_if(list_.begin(), list_.end(),
                                 [&](const Finding& finding) { return finding.rule == &rule; });
  if (same != list_.end()) {
    same->ticks.push_back(tick);
  } else {
    list_.push_back({&rule, std::string(what), std::string(hint), {tick}});
  }
}

base::Diagnostics Findings::diagnostics(
    const std::function<std::string(std::int64_t)>& bar_of) const {
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

}  // namespace yubifu::midi
