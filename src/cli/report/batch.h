// Many independent jobs on all cores, with their messages in a stable order.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "check/findings.h"
#include "cli/report/messages.h"

namespace yubifu::cli {

/// What one job has to say when it is done.
struct JobResult {
  ExitStatus status = ExitStatus::done;
  std::string messages;                    ///< for standard error, complete lines
  std::string output;                      ///< for standard output
  std::vector<check::FileReport> reports;  ///< where findings are not told in the messages
};

/// Runs on any thread, beside others.
using Job = std::function<JobResult()>;

/// How far a long work is, shown on a terminal where there is much to do.
class Progress {
 public:
  explicit Progress(std::size_t all);

  /// Messages between the lines of progress.
  void print(const std::string& messages) const;

  /// One more is done.
  void step();

 private:
  std::size_t all_;
  std::size_t done_ = 0;
  bool shown_;
};

/// Runs the jobs on `workers` threads (0: as many as there are cores) and prints each one's
/// messages and output in the order of the list, as soon as all before it are done, with Progress.
/// Gives the worst status and all reports.
JobResult run_jobs(const std::vector<Job>& jobs, int workers);

}  // namespace yubifu::cli
