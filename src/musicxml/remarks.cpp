#include "musicxml/remarks.h"

#include <algorithm>
#include <utility>

#include "base/message.h"

namespace yubifu::musicxml {
namespace {

/// More stretches of bars than this do not help a reader of messages.
constexpr std::size_t kMostStretches = 20;

/// Nor do more details than this.
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

std::string bar_list(const std::vector<std::size_t>& measures,
                     const std::vector<std::string>& numbers) {
  std::string list;
  std::size_t stretches = 0;
  for (std::size_t i = 0; i < measures.size();) {
    std::size_t last = i;
    while (last + 1 < measures.size() && measures[last + 1] == measures[last] + 1) ++last;
    if (last == i + 1) last = i;  // two in a row stay two
    if (++stretches > kMostStretches) {
      return list + base::message(" and {} more", measures.size() - i);
    }
    if (!list.empty()) list += ", ";
    list += numbers[measures[i]];
    if (last > i) list += "-" + numbers[measures[last]];
    i = last + 1;
  }
  return list;
}

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

base::Diagnostics Remarks::diagnostics(const std::vector<std::string>& numbers) const {
  base::Diagnostics list;
  for (const Entry& entry : entries_) {
    const std::vector<std::size_t> measures = each_once(entry.measures);
    std::string sentence =
        base::message("{} {}", entry.count, entry.count == 1 ? entry.kind->one : entry.kind->many);
    if (!entry.details.empty()) sentence += base::message(" ({})", listed(entry.details));
    if (!measures.empty()) {
      sentence += measures.size() == 1 ? base::message(": bar ") : base::message(": bars ");
      sentence += bar_list(measures, numbers);
    }
    base::Diagnostic diagnostic = base::report(*entry.kind->rule, entry.first, std::move(sentence));
    for (const std::size_t measure : measures) {
      diagnostic.measures.push_back(numbers[measure]);
    }
    list.push_back(std::move(diagnostic));
  }
  return list;
}

}  // namespace yubifu::musicxml
