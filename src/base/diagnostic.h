// What the program reports: rules, findings of them, and what readers and writers give back.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "base/word_table.h"

namespace yubifu::base {

/// error: the input or result is wrong. warning: something is lost or doubtful.
/// note: worth knowing, nothing to mend.
enum class Severity { error, warning, note };

/// Their words, the gravest first.
inline constexpr auto kSeverities = word_table<Severity>(
    {{Severity::error, "error"}, {Severity::warning, "warning"}, {Severity::note, "note"}});
constexpr std::string_view name(Severity severity) {
  return kSeverities.word_of(severity);
}

/// Whether a rule is reported when the user says nothing about it.
enum class Standing { on, off };

/// Rules are constants with static storage; diagnostics point to them.
struct Rule {
  std::string_view name;      ///< stable, lower case with hyphens: "bar-length"
  Severity severity;          ///< what it is unless the user says otherwise
  std::string_view sentence;  ///< what the rule says, one sentence
  std::string_view wrong;     ///< a minimal input that breaks exactly this rule
  std::string_view right;     ///< the same input mended
  Standing standing = Standing::on;
};

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
                  std::string hint = {}, std::vector<std::string> measures = {});

/// True when one of them has the severity error.
bool has_errors(const Diagnostics& diagnostics);
/// Adds the second list to the end of the first.
void append(Diagnostics& to, Diagnostics from);

/// `file:line:column: severity: message (hint) [rule]`, without a line end. `source` gives name
/// and positions; a diagnostic without a place prints the name alone.
std::string one_line(const Diagnostic& diagnostic, const SourceText& source);

/// `value` is missing only when nothing usable came out. A value beside errors is the best
/// effort, good for checking further but not for converting: ask `ok()` first.
template <typename T>
struct Outcome {
  std::optional<T> value;
  Diagnostics diagnostics;

  /// A value, and no error beside it.
  bool ok() const { return value.has_value() && !has_errors(diagnostics); }
};

}  // namespace yubifu::base
