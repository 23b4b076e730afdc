#include "cli/report/batch.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <iterator>
#include <mutex>
#include <optional>
#include <system_error>
#include <thread>
#include <utility>

#include <unistd.h>

#include "base/message.h"

namespace yubifu::cli {
namespace {

// Fewer jobs than this are over before anybody could read a progress line.
constexpr std::size_t kProgressFrom = 50;
constexpr std::size_t kProgressStep = 25;

}  // namespace

Progress::Progress(std::size_t all)
    : all_(all), shown_(all >= kProgressFrom && ::isatty(STDERR_FILENO) == 1) {}

void Progress::print(const std::string& messages) const {
  if (!messages.empty()) print_message((shown_ ? "\r" : "") + messages);
}

void Progress::step() {
  ++done_;
  if (!shown_ || (done_ % kProgressStep != 0 && done_ != all_)) return;
  print_message('\r' + base::message("{} of {} done", done_, all_));
  if (done_ == all_) print_message("\n");
}

JobResult run_jobs(const std::vector<Job>& jobs, int workers) {
  const std::size_t cores = std::max(1u, std::thread::hardware_concurrency());
  const std::size_t wanted = workers > 0 ? static_cast<std::size_t>(workers) : cores;
  std::mutex mutex;
  std::condition_variable arrived;
  std::vector<std::optional<JobResult>> results(jobs.size());
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < jobs.size(); i = next++) {
      JobResult result = jobs[i]();
      const std::lock_guard lock(mutex);
      results[i] = std::move(result);
      arrived.notify_one();
    }
  };
  const std::size_t count = std::min(wanted, jobs.size());
  std::vector<std::thread> threads;
  try {
    while (count > 1 && threads.size() < count) threads.emplace_back(work);
  } catch (const std::system_error&) {
    // Those that the system gave, or here (in WebAssembly there are none), do the work.
  }

  Progress progress(jobs.size());
  JobResult all;
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    if (threads.empty()) {
      results[i] = jobs[i]();
    } else {
      std::unique_lock lock(mutex);
      arrived.wait(lock, [&] { return results[i].has_value(); });
    }
    JobResult result = *std::exchange(results[i], std::nullopt);
    all.status = worse(all.status, result.status);
    std::move(result.reports.begin(), result.reports.end(), std::back_inserter(all.reports));
    progress.print(result.messages);
    if (!result.output.empty() && !print_result(result.output)) {
      all.status = ExitStatus::unusable;
    }
    progress.step();
  }
  for (std::thread& thread : threads) thread.join();
  return all;
}

}  // namespace yubifu::cli
