#include "fingering/findings.h"

#include "base/bar_list.h"

namespace yubifu::fingering {

void Findings::add(const base::Rule& rule, base::Severity severity, std::size_t note,
                   std::string message, std::string hint) {
  const model::Note& where = score_.notes[note];
  const auto [at, is_new] =
      known_.try_emplace({std::string(rule.name), message}, diagnostics_.size(), where.measure);
  if (is_new) {
    diagnostics_.push_back(base::report(rule, where.source, std::move(message), std::move(hint)));
    diagnostics_.back().severity = severity;
  }
  auto& [index, last_measure] = at->second;
  if (is_new || last_measure != where.measure) {
    diagnostics_[index].measures.push_back(score_.measures[where.measure].number);
    last_measure = where.measure;
  }
}

base::Diagnostics Findings::take() {
  for (base::Diagnostic& diagnostic : diagnostics_) {
    if (diagnostic.where && diagnostic.measures.size() == 1) continue;
    diagnostic.message += ": " + base::bar_list(diagnostic.measures);
  }
  return std::move(diagnostics_);
}

}  // namespace yubifu::fingering
