// Findings printed for people, for programs, and for the services that run tests.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "check/findings.h"

namespace yubifu::check {

enum class ReportKind {
  text,   ///< `file:line:column: severity: message (hint) [rule]`, below it the line and a mark
  json,   ///< schemas/report.schema.json
  sarif,  ///< SARIF 2.1.0 (OASIS)
  junit,  ///< the XML that test runners read: one test case a file
};

/// "text", "json", "sarif", "junit".
std::string_view name(ReportKind kind);
std::optional<ReportKind> report_kind_named(std::string_view name);

/// Whether severities are coloured, by the escape sequences of terminals (ECMA-48).
enum class Colours { none, terminal };

/// More findings of one file than this are only counted in a report for people.
inline constexpr std::size_t kMostShownFindings = 200;

/// The findings of one file, for people. Empty when there are none.
std::string text_report(const FileReport& file, Colours colours);

/// What a report for machines says about the run.
struct RunFacts {
  std::string version;  ///< of this program
  std::string verb;
  int status = 0;                        ///< the exit status
  std::vector<const base::Rule*> rules;  ///< all there are
};

/// All files of a run in one document. For `text` it is the text reports one after another.
std::string write_report(ReportKind kind, const std::vector<FileReport>& files,
                         const RunFacts& facts);

}  // namespace yubifu::check
