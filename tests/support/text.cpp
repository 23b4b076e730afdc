#include "support/text.h"

#include <fmt/format.h>

namespace yubifu::support {

std::vector<std::string> short_forms(const base::Diagnostics& diagnostics,
                                     const base::SourceText& source) {
  std::vector<std::string> forms;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    std::string place = "-";
    if (diagnostic.where) {
      const base::Position at = source.position(diagnostic.where->begin);
      place = fmt::format("{}:{}", at.line, at.column);
    }
    forms.push_back(
        fmt::format("{} {} {}", place, name(diagnostic.severity), diagnostic.rule->name));
  }
  return forms;
}

std::vector<std::string> rule_names(const base::Diagnostics& diagnostics) {
  std::vector<std::string> names;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    names.emplace_back(diagnostic.rule->name);
  }
  return names;
}

}  // namespace yubifu::support
