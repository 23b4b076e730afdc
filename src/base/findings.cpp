#include "base/findings.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"

namespace yubifu::base {
namespace {

/// More stretches of bars, and more details, than these do not help a reader of messages.
constexpr std::size_t kMostStretches = 20;
constexpr std::size_t kMostDetails = 10;

bool follows(const std::string& earlier, const std::string& later) {
  const auto from = whole_number<unsigned long>(earlier);
  const auto to = whole_number<unsigned long>(later);
  return from && to && *to > *from && *to - *from == 1;
}

}  // namespace

std::string bar_list(const std::vector<std::string>& numbers) {
  if (numbers.size() == 1) return message("bar {}", numbers.front());
  std::string list;
  std::size_t stretches = 0;
  for (std::size_t i = 0; i < numbers.size();) {
    std::size_t last = i;
    while (last + 1 < numbers.size() && follows(numbers[last], numbers[last + 1])) ++last;
    if (last == i + 1) last = i;  // two in a row stay two
    if (++stretches > kMostStretches) {
      return message("bars {} and {} more", list, numbers.size() - i);
    }
    if (!list.empty()) list += ", ";
    list += last > i ? numbers[i] + "-" + numbers[last] : numbers[i];
    i = last + 1;
  }
  return message("bars {}", list);
}

void Finding::add(Place place) {
  ++count;
  if (place == kNoBar) return;
  if (places.empty() || places.back() != place) places.push_back(place);
}

void Finding::add_detail(std::string detail) {
  if (detail.empty() || details.size() == kMostDetails) return;
  if (std::find(details.begin(), details.end(), detail) != details.end()) return;
  details.push_back(std::move(detail));
}

std::string with_bars(std::string sentence, const Finding& finding) {
  if (!finding.details.empty()) sentence += fmt::format(" ({})", fmt::join(finding.details, ", "));
  const std::vector<std::string>& bars = finding.told.measures;
  return bars.empty() ? sentence : sentence + ": " + bar_list(bars);
}

std::string bars_last(const Finding& finding) {
  return with_bars(finding.told.message, finding);
}

std::string bars_unsaid(const Finding& finding) {
  return finding.told.message;
}

void tell(Diagnostics& to, Finding finding, const BarNames& names, const Sentence& sentence) {
  if (finding.count == 0) return;
  std::sort(finding.places.begin(), finding.places.end());
  std::vector<std::string>& bars = finding.told.measures;
  for (const Place place : finding.places) {
    std::string bar = names(place);
    if (bars.empty() || bars.back() != bar) bars.push_back(std::move(bar));
  }
  finding.told.message = sentence(finding);
  to.push_back(std::move(finding.told));
}

Finding& Findings::of(const Rule& rule, std::string_view key) {
  const auto [found, is_new] = index_.try_emplace({&rule, std::string(key)}, list_.size());
  if (is_new) list_.push_back({found->first, {report(rule, {}, {})}});
  return list_[found->second].second;
}

void Findings::append(Findings&& other) {
  for (auto& [key, from] : other.list_) {
    Finding& to = of(*key.first, key.second);
    if (to.count == 0) {
      to = std::move(from);
      continue;
    }
    to.count += from.count;
    to.places.insert(to.places.end(), from.places.begin(), from.places.end());
    for (std::string& detail : from.details) to.add_detail(std::move(detail));
  }
}

Diagnostics Findings::diagnostics(const BarNames& names, const Sentence& sentence) const {
  Diagnostics list;
  for (const auto& [key, finding] : list_) tell(list, finding, names, sentence);
  return list;
}

}  // namespace yubifu::base
