// A rule is one kind of thing the program can report; every folder lists its own.
#pragma once

#include <string_view>

#include "base/word_table.h"

namespace yubifu::base {

/// error: the input or result is wrong. warning: something is lost or doubtful.
/// note: worth knowing, nothing to mend.
enum class Severity { error, warning, note };

/// Their words, the gravest first.
inline constexpr auto kSeverities = word_table<Severity>(
    {{Severity::error, "error"}, {Severity::warning, "warning"}, {Severity::note, "note"}});

/// "error", "warning" or "note".
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

}  // namespace yubifu::base
