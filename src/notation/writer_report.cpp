#include "notation/writer_report.h"

#include <utility>

#include "base/diagnostic.h"

namespace yubifu::notation {
namespace {

constexpr std::size_t kMostMeasuresNamed = 50;

}  // namespace

base::Diagnostic report_measures(const model::Score& score, const base::Rule& rule,
                                 std::string message, std::string hint,
                                 const std::vector<std::size_t>& measures) {
  base::Diagnostic finding = base::report(rule, std::nullopt, std::move(message), std::move(hint));
  for (const std::size_t measure : measures) {
    if (finding.measures.size() == kMostMeasuresNamed) break;
    const std::string& number = score.measures[measure].number;
    const bool named = !finding.measures.empty() && finding.measures.back() == number;
    if (!named) finding.measures.push_back(number);
  }
  if (!finding.measures.empty()) finding.message += ": " + base::bar_list(finding.measures);
  return finding;
}

}  // namespace yubifu::notation
