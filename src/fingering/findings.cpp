#include "fingering/findings.h"

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

}  // namespace yubifu::fingering
