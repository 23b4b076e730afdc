// Many independent jobs on all cores, with their messages in a stable order.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "cli/exit_status.h"

namespace yubifu::cli {

/// What one job has to say when it is done.
struct JobResult {
  ExitStatus status = ExitStatus::done;
  std::string messages;  ///< for standard error, complete lines
};

using Job = std::function<JobResult()>;

/// Runs the jobs on `workers` threads (0: as many as there are cores) and prints each one's
/// messages in the order of the list, as soon as all before it are done. A progress line is shown
/// on a terminal when there are many jobs. Returns the worst status.
ExitStatus run_jobs(const std::vector<Job>& jobs, int workers);

}  // namespace yubifu::cli
