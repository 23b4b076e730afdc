// Findings printed for people, for programs, and for the services that run tests.
#pragma once

#include <string>
#include <vector>

#include "base/json_writer.h"
#include "base/word_table.h"
#include "check/findings.h"

namespace yubifu::check {

/// How findings are told.
enum class ReportKind {
  text,   ///< `file:line:column: severity: message (hint) [rule]`, below it the line and a mark
  json,   ///< schemas/report.schema.json
  sarif,  ///< SARIF 2.1.0 (OASIS)
  junit,  ///< the XML that test runners read: one test case a file
};

/// Their words.
inline constexpr auto kReportKinds = base::word_table<ReportKind>({{ReportKind::text, "text"},
                                                                   {ReportKind::json, "json"},
                                                                   {ReportKind::sarif, "sarif"},
                                                                   {ReportKind::junit, "junit"}});

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

/// Writes all files of a run into one document.
using ReportWriter = std::string (*)(const std::vector<FileReport>& files, const RunFacts& facts);

/// Of a report for machines; null for text, which is told file by file.
ReportWriter report_writer(ReportKind kind);

/// Into a JSON object: the key `files` of schemas/report.schema.json, for other reports.
void write_files(base::JsonWriter& json, const std::vector<FileReport>& files);

}  // namespace yubifu::check
