#include "model/measure_report.h"

#include <utility>

namespace yubifu::model {

std::optional<base::SourceRange> place_of(const Measure& measure) {
  if (measure.source == base::SourceRange{}) return std::nullopt;
  return measure.source;
}

base::Diagnostic report_measure(const base::Rule& rule, const Measure& measure, std::string message,
                                std::string hint) {
  base::Diagnostic diagnostic =
      base::report(rule, place_of(measure), std::move(message), std::move(hint));
  if (!measure.number.empty()) diagnostic.measures.push_back(measure.number);
  return diagnostic;
}

}  // namespace yubifu::model
