#include "cli/report/log.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <iterator>
#include <mutex>
#include <system_error>
#include <thread>

#include <fmt/format.h>
#include <unistd.h>

#include "base/file.h"
#include "base/message.h"
#include "cli/loading.h"
#include "fingering/wording.h"

namespace yubifu::cli {

void Log::add(const base::Diagnostics& diagnostics, const base::SourceText& source) {
  if (kind_ == check::ReportKind::text) {
    result_.messages += printed(diagnostics, source);
  } else if (!diagnostics.empty()) {
    check::add_located(report_of(source.name()), diagnostics, source);
  }
  const bool lost = std::any_of(diagnostics.begin(), diagnostics.end(), [](const auto& found) {
    return found.severity == base::Severity::warning;
  });
  if (lost && strictness_ == Strictness::strict) raise(ExitStatus::findings);
  if (base::has_errors(diagnostics)) raise(ExitStatus::unusable);
}

bool Log::add_problem(const FoundFile& file) {
  if (!file.problem) return false;
  add({*file.problem}, file.path);
  if (file.problem->severity != base::Severity::note) raise(ExitStatus::unusable);
  return true;
}

void Log::add_line(const std::string& line) {
  const std::string clean = without_control_characters(line);
  if (kind_ == check::ReportKind::text || result_.reports.empty()) {
    result_.messages += clean + '\n';
  } else {
    result_.reports.front().remarks.push_back(clean);
  }
}

bool Log::write(const std::string& path, std::string_view bytes) {
  add(base::write_file(path, bytes), output_name(path));
  return !failed();
}

ExitStatus Log::finish() const {
  print_message(result_.messages);
  return result_.status;
}

check::FileReport& Log::report_of(const std::string& name) {
  const auto known = std::find_if(result_.reports.begin(), result_.reports.end(),
                                  [&](const auto& report) { return report.name == name; });
  if (known != result_.reports.end()) return *known;
  return result_.reports.emplace_back(check::FileReport{name, {}, {}});
}

std::string summary_line(const std::string& input, const std::string& output,
                         const fingering::Resolved& resolved,
                         const std::optional<midi::BarRange>& bars) {
  using base::message;
  const auto figures = fingering::summarize(resolved, [&](const model::Measure& measure) {
    if (!bars) return true;
    const int number = midi::bar_number(measure);
    return number >= bars->first && number <= bars->last;
  });
  std::string line = fmt::format("{} → {}: ", input, output);
  if (bars) {
    line += bars->first == bars->last ? message("bar {}, ", bars->first)
                                      : message("bars {}-{}, ", bars->first, bars->last);
  }
  const int shift = figures.octave_shift;
  const std::string moved = model::octaves_text(shift);
  const std::string octaves = shift == 0  ? ""
                              : shift > 0 ? message(", {} up", moved)
                                          : message(", {} down", moved);
  line += figures.notes == 1
              ? message("flute {}{}, 1 note", figures.flute_title, octaves)
              : message("flute {}{}, {} notes", figures.flute_title, octaves, figures.notes);
  // What there is none of has no place in the list.
  std::string special;
  const auto add_count = [&](std::size_t count, std::string_view what) {
    if (count > 0) special += fmt::format("{}{} {}", special.empty() ? "" : ", ", count, what);
  };
  add_count(figures.half_holed, message("half-holed"));
  add_count(figures.bent, message("bent"));
  add_count(figures.third_register, message("third-register"));
  add_count(figures.gaps, figures.gaps == 1 ? message("gap") : message("gaps"));
  if (!special.empty()) line += fmt::format(" ({})", special);
  if (figures.loud > 0) line += '\n' + flute::hearing_caution();
  return line;
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

  // Fewer jobs than this are over before anybody could read a progress line.
  constexpr std::size_t kProgressFrom = 50;
  constexpr std::size_t kProgressStep = 25;
  const bool shown = jobs.size() >= kProgressFrom && ::isatty(STDERR_FILENO) == 1;
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
    if (!result.messages.empty()) print_message((shown ? "\r" : "") + result.messages);
    if (!result.output.empty()) all.status = worse(all.status, print_result(result.output));
    const std::size_t done = i + 1;
    if (!shown || (done % kProgressStep != 0 && done != jobs.size())) continue;
    print_message('\r' + base::message("{} of {} done", done, jobs.size()));
    if (done == jobs.size()) print_message("\n");
  }
  for (std::thread& thread : threads) thread.join();
  return all;
}

}  // namespace yubifu::cli
