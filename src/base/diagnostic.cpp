#include "base/diagnostic.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include <fmt/format.h>

namespace yubifu::base {
Diagnostic report(const Rule& rule, std::optional<SourceRange> where, std::string message,
                  std::string hint, std::vector<std::string> measures) {
  return {&rule, rule.severity, where, std::move(message), std::move(hint), std::move(measures)};
}

bool has_errors(const Diagnostics& diagnostics) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [](const Diagnostic& d) { return d.severity == Severity::error; });
}

void append(Diagnostics& to, Diagnostics from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

std::string one_line(const Diagnostic& diagnostic, const SourceText& source) {
  std::string line = source.name();
  if (diagnostic.where) {
    const Position at = source.position(diagnostic.where->begin);
    line += fmt::format(":{}:{}", at.line, at.column);
  }
  line += fmt::format(": {}: {}", name(diagnostic.severity), diagnostic.message);
  if (!diagnostic.hint.empty()) line += fmt::format(" ({})", diagnostic.hint);
  return line + fmt::format(" [{}]", diagnostic.rule->name);
}

}  // namespace yubifu::base
