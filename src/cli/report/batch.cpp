#include "cli/report/batch.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <iterator>
#include <mutex>
#include <optional>
#include <system_error>
#include <thread>

#include <unistd.h>

#include "base/message.h"
#include "cli/report/messages.h"

namespace yubifu::cli {
namespace {

// Fewer jobs than this are over before anybody could read a progress line.
constexpr std::size_t kProgressFrom = 50;
constexpr std::size_t kProgressStep = 25;

std::size_t worker_count(int wanted, std::size_t jobs) {
  const std::size_t cores = std::max(1u, std::thread::hardware_concurrency());
  return std::min(wanted > 0 ? static_cast<std::size_t>(wanted) : cores, jobs);
}

// The results as they come in, handed out in order.
class Results {
 public:
  explicit Results(std::size_t count) : results_(count) {}

  void put(std::size_t index, JobResult result) {
    const std::lock_guard lock(mutex_);
    results_[index] = std::move(result);
    arrived_.notify_one();
  }

  JobResult take(std::size_t index) {
    std::unique_lock lock(mutex_);
    arrived_.wait(lock, [&] { return results_[index].has_value(); });
    return std::move(*results_[index]);
  }

 private:
  std::mutex mutex_;
  std::condition_variable arrived_;
  std::vector<std::optional<JobResult>> results_;
};

// None for one job at a time; as many as the system gives, which in WebAssembly are none.
template <typename Work>
std::vector<std::thread> started(std::size_t count, const Work& work) {
  std::vector<std::thread> threads;
  try {
    while (count > 1 && threads.size() < count) threads.emplace_back(work);
  } catch (const std::system_error&) {
    // Those that run, or the caller, do the work.
  }
  return threads;
}

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

JobsDone run_jobs(const std::vector<Job>& jobs, int workers) {
  Progress progress(jobs.size());
  Results results(jobs.size());
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < jobs.size(); i = next++) results.put(i, jobs[i]());
  };
  auto threads = started(worker_count(workers, jobs.size()), work);

  JobsDone all;
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    JobResult result = threads.empty() ? jobs[i]() : results.take(i);
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
