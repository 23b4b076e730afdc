// What the program reports: one type for readers, writers and checks.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/rule.h"
#include "base/source_text.h"

namespace yubifu::base {

/// One finding.
struct Diagnostic {
  const Rule* rule = nullptr;  ///< never null in a reported diagnostic
  Severity severity = Severity::error;
  std::optional<SourceRange> where;   ///< bytes of the source text; none for a whole file
  std::string message;                ///< one sentence without a full stop
  std::string hint;                   ///< what to do about it; may be empty
  std::vector<std::string> measures;  ///< printed numbers of the measures concerned
};

/// In the order in which they were found.
using Diagnostics = std::vector<Diagnostic>;

/// A diagnostic with the rule's own severity.
Diagnostic report(const Rule& rule, std::optional<SourceRange> where, std::string message,
                  std::string hint = {});

/// True when one of them has the severity error.
bool has_errors(const Diagnostics& diagnostics);

/// Adds the second list to the end of the first.
void append(Diagnostics& to, Diagnostics from);

/// `file:line:column: severity: message (hint) [rule]`, without a line end. `source` gives name
/// and positions; a diagnostic without a place prints the name alone.
std::string one_line(const Diagnostic& diagnostic, const SourceText& source);

}  // namespace yubifu::base
