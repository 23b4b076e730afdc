// Jobs, also many on all cores: what they found, in order, and what it means for the exit status.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "check/report.h"
#include "cli/options/options.h"
#include "cli/report/messages.h"
#include "fingering/resolve.h"
#include "midi/write/writer.h"

namespace yubifu::cli {

struct FoundFile;

/// What one job has to say when it is done.
struct JobResult {
  ExitStatus status = ExitStatus::done;
  std::string messages;                    ///< for standard error, complete lines
  std::string output;                      ///< for standard output
  std::vector<check::FileReport> reports;  ///< where findings are not told in the messages
};

/// Gathers what a job has to say.
class Log {
 public:
  /// For reports to machines the job's messages stay empty: all is in its file reports.
  explicit Log(Strictness strictness, check::ReportKind kind = check::ReportKind::text)
      : strictness_(strictness), kind_(kind) {}

  /// Names the file that is being worked on, so that the report has it even without a finding.
  void open(const std::string& name) { report_of(name); }

  /// Errors make the job unusable; with Strictness::strict, warnings are findings.
  void add(const base::Diagnostics& diagnostics, const base::SourceText& source);

  /// The same about a file as a whole.
  void add(const base::Diagnostics& diagnostics, const std::string& name) {
    add(diagnostics, base::SourceText(name, {}));
  }
  void add(const base::Rule& rule, const std::string& name, std::string message,
           std::string hint = {}) {
    add({base::report(rule, std::nullopt, std::move(message), std::move(hint))}, name);
  }

  /// Adds what an outcome says about a text or the file of a name; its value, if it has no error.
  template <typename Value, typename Source>
  std::optional<Value> taken(base::Outcome<Value> outcome, const Source& source) {
    add(outcome.diagnostics, source);
    if (!outcome.ok()) return std::nullopt;
    return std::move(outcome.value);
  }

  /// Why a file cannot be read: more than a note makes the job unusable. False without a problem.
  bool add_problem(const FoundFile& file);

  /// A line that is no finding, about the file opened first; control characters are replaced.
  void add_line(const std::string& line);

  /// Writes a file ("-": to standard output) or tells why not; false when the job is unusable.
  bool write(const std::string& path, std::string_view bytes);

  /// Makes the exit status at least as grave.
  void raise(ExitStatus status) { result_.status = worse(result_.status, status); }

  /// Whether the job is unusable.
  bool failed() const { return result_.status == ExitStatus::unusable; }

  /// Everything so far.
  JobResult take() { return std::move(result_); }

  /// Prints the messages and gives the exit status: the end of a verb of one job.
  ExitStatus finish() const;

 private:
  check::FileReport& report_of(const std::string& name);

  Strictness strictness_;
  check::ReportKind kind_;
  JobResult result_;
};

/// What came out of what, for which flute, in figures: "a.musicxml → a.yubifu: flute 7, one octave
/// up, 24 notes (2 half-holed, 1 gap)", without a line end, followed by the hearing caution where
/// it is due; of the bars that are practised "a.yubifu → a.mid: bars 5-8, flute 7, 12 notes".
std::string summary_line(const std::string& input, const std::string& output,
                         const fingering::Resolved& resolved,
                         const std::optional<midi::BarRange>& bars = std::nullopt);

/// Runs on any thread, beside others.
using Job = std::function<JobResult()>;

/// Runs the jobs on `workers` threads (0: as many as there are cores; 1: one after another) and
/// prints each one's messages and output in the order of the list, as soon as all before it are
/// done. On a terminal many jobs show how far they are. Gives the worst status and all reports.
JobResult run_jobs(const std::vector<Job>& jobs, int workers);

}  // namespace yubifu::cli
