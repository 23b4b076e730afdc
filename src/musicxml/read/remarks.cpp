#include "musicxml/read/remarks.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/message.h"

namespace yubifu::musicxml {
namespace {

/// More details than this do not help a reader of messages.
constexpr std::size_t kMostDetails = 10;

std::string listed(const std::vector<std::string>& details) {
  std::string list;
  for (const std::string& detail : details) {
    if (!list.empty()) list += ", ";
    list += detail;
  }
  return list;
}

bool is_rising(const std::vector<std::size_t>& measures) {
  return std::is_sorted(measures.begin(), measures.end());
}

std::vector<std::size_t> each_once(std::vector<std::size_t> measures) {
  if (!is_rising(measures)) std::sort(measures.begin(), measures.end());
  measures.erase(std::unique(measures.begin(), measures.end()), measures.end());
  return measures;
}

}  // namespace

Remarks::Entry& Remarks::entry(const RemarkKind& kind, std::string detail,
                               base::SourceRange where) {
  std::string key = kind.details == Details::apart ? detail : std::string();
  const auto [found, is_new] = index_.try_emplace({&kind, std::move(key)}, entries_.size());
  if (is_new) entries_.push_back({&kind, {}, where, 0, {}});
  Entry& here = entries_[found->second];
  const bool known =
      detail.empty() || here.details.size() >= kMostDetails ||
      std::find(here.details.begin(), here.details.end(), detail) != here.details.end();
  if (!known) here.details.push_back(std::move(detail));
  return here;
}

void Remarks::add(const RemarkKind& kind, std::size_t measure, base::SourceRange where,
                  std::string detail) {
  Entry& here = entry(kind, std::move(detail), where);
  ++here.count;
  if (measure == kNoMeasure) return;
  if (here.measures.empty() || here.measures.back() != measure) here.measures.push_back(measure);
}

void Remarks::append(Remarks other) {
  for (Entry& from : other.entries_) {
    if (from.details.empty()) from.details.emplace_back();
    for (std::string& detail : from.details) {
      Entry& here = entry(*from.kind, std::move(detail), from.first);
      here.count += std::exchange(from.count, 0);
      here.measures.insert(here.measures.end(), from.measures.begin(), from.measures.end());
    }
  }
}

base::Diagnostics Remarks::diagnostics(
    const std::function<std::string(std::size_t)>& number_of) const {
  base::Diagnostics list;
  for (const Entry& entry : entries_) {
    const std::vector<std::size_t> measures = each_once(entry.measures);
    std::string sentence =
        fmt::format("{} {}", entry.count,
                    base::translated(entry.count == 1 ? entry.kind->one : entry.kind->many));
    if (!entry.details.empty()) sentence += fmt::format(" ({})", listed(entry.details));
    std::vector<std::string> bars;
    for (const std::size_t measure : measures) bars.push_back(number_of(measure));
    if (!bars.empty()) sentence += ": " + base::bar_list(bars);
    base::Diagnostic diagnostic = base::report(*entry.kind->rule, entry.first, std::move(sentence));
    diagnostic.measures = std::move(bars);
    list.push_back(std::move(diagnostic));
  }
  return list;
}

}  // namespace yubifu::musicxml
