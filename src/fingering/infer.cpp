#include "fingering/infer.h"

#include <algorithm>
#include <limits>

namespace yubifu::fingering {
namespace {

bool is_plain(const flute::Entry& entry, int bend_cents) {
  return entry.half == model::HalfHole::none && bend_cents == 0;
}

// Numbers of all candidates of all tasks in one row, so that a long score needs one allocation.
class Row {
 public:
  explicit Row(std::span<const Task> tasks) {
    first_.reserve(tasks.size());
    std::size_t count = 0;
    for (const Task& task : tasks) {
      first_.push_back(count);
      count += task.candidates.size();
    }
    values_.resize(count);
  }

  std::int64_t& at(std::size_t task, std::size_t candidate) {
    return values_[first_[task] + candidate];
  }
  std::int64_t at(std::size_t task, std::size_t candidate) const {
    return values_[first_[task] + candidate];
  }

 private:
  std::vector<std::size_t> first_;
  std::vector<std::int64_t> values_;
};

std::int64_t change_between(const Fingerwork& work, const Task& before, std::size_t from,
                            const Task& after, std::size_t to) {
  return work.change(before.candidates[from], after.candidates[to], after.haste_into);
}

// The least of change + value over the candidates of the next task; 0 before a gap or the end.
std::int64_t least_onward(const Fingerwork& work, std::span<const Task> tasks, const Row& onward,
                          std::size_t task, std::size_t candidate) {
  if (task + 1 == tasks.size() || tasks[task + 1].candidates.empty()) return 0;
  std::int64_t least = std::numeric_limits<std::int64_t>::max();
  for (std::size_t next = 0; next < tasks[task + 1].candidates.size(); ++next) {
    least = std::min(least, change_between(work, tasks[task], candidate, tasks[task + 1], next) +
                                onward.at(task + 1, next));
  }
  return least;
}

// From each candidate to the end of its run of fingered notes: its own effort and all after it.
Row efforts_onward(const Fingerwork& work, std::span<const Task> tasks) {
  Row onward(tasks);
  for (std::size_t task = tasks.size(); task-- > 0;) {
    for (std::size_t i = 0; i < tasks[task].candidates.size(); ++i) {
      onward.at(task, i) =
          work.note(tasks[task].candidates[i]).total() + least_onward(work, tasks, onward, task, i);
    }
  }
  return onward;
}

// The effort of reaching a candidate of `task` from the chosen candidate of the task before.
std::int64_t change_into(const Fingerwork& work, std::span<const Task> tasks,
                         std::optional<std::size_t> before, std::size_t task,
                         std::size_t candidate) {
  if (!before) return 0;
  return change_between(work, tasks[task - 1], *before, tasks[task], candidate);
}

}  // namespace

std::vector<Candidate> candidates_for(const flute::Flute& flute, double total_cents,
                                      Allowed allowed) {
  std::vector<Candidate> found;
  for (const flute::Reach& reach : flute.reaches(total_cents)) {
    const flute::Entry& entry = flute.entries()[reach.entry];
    if (allowed == Allowed::plain && !is_plain(entry, reach.bend_cents)) continue;
    found.push_back({reach.entry, 0, reach.bend_cents});
  }
  return found;
}

Fingerwork::Fingerwork(const flute::Flute& flute, const EffortTable& table)
    : flute_(&flute), table_(table) {
  std::vector<Candidate> states;
  for (std::size_t entry = 0; entry < flute.entries().size(); ++entry) {
    first_state_.push_back(states.size());
    for (std::size_t i = 0; i < flute.entries()[entry].patterns.size(); ++i) {
      states.push_back({entry, i, 0});
    }
  }
  state_count_ = states.size();
  changes_.reserve(state_count_ * state_count_);
  for (const Candidate& from : states) {
    for (const Candidate& to : states) {
      const ChangeEffort effort = change_effort(table_, flute.entries()[from.entry], from.pattern,
                                                flute.entries()[to.entry], to.pattern, 1);
      changes_.push_back(static_cast<std::int32_t>(effort.total()));
    }
  }
}

std::size_t Fingerwork::state(const Candidate& candidate) const {
  return first_state_[candidate.entry] + candidate.pattern;
}

NoteEffort Fingerwork::note(const Candidate& candidate) const {
  return note_effort(table_, flute_->entries()[candidate.entry], candidate.pattern,
                     candidate.bend_cents);
}

std::int64_t Fingerwork::change(const Candidate& from, const Candidate& to, int haste) const {
  return std::int64_t{changes_[state(from) * state_count_ + state(to)]} * haste;
}

Path cheapest_path(const Fingerwork& work, std::span<const Task> tasks) {
  const Row onward = efforts_onward(work, tasks);
  Path path;
  std::optional<std::size_t> before;
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    // Working backwards left the effort from each candidate to the end, so the first candidate
    // that keeps to the least of it is the rule for equals.
    std::optional<std::size_t> best;
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    for (std::size_t i = 0; i < tasks[task].candidates.size(); ++i) {
      const std::int64_t effort = change_into(work, tasks, before, task, i) + onward.at(task, i);
      if (effort < least) {
        least = effort;
        best = i;
      }
    }
    const std::int64_t effort = best ? change_into(work, tasks, before, task, *best) +
                                           work.note(tasks[task].candidates[*best]).total()
                                     : 0;
    path.chosen.push_back(best);
    path.effort.push_back(effort);
    path.total += effort;
    before = best;
  }
  return path;
}

std::vector<std::vector<std::int64_t>> detours(const Fingerwork& work,
                                               std::span<const Task> tasks) {
  Row through = efforts_onward(work, tasks);
  std::vector<std::vector<std::int64_t>> result(tasks.size());
  // The least effort of coming to each candidate of the task before, its own included.
  std::vector<std::int64_t> until;
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    const std::size_t count = tasks[task].candidates.size();
    std::vector<std::int64_t> into(count, 0);
    for (std::size_t i = 0; i < count && !until.empty(); ++i) {
      into[i] = std::numeric_limits<std::int64_t>::max();
      for (std::size_t from = 0; from < until.size(); ++from) {
        into[i] = std::min(
            into[i], until[from] + change_between(work, tasks[task - 1], from, tasks[task], i));
      }
    }
    until.assign(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
      result[task].push_back(into[i] + through.at(task, i));
      until[i] = into[i] + work.note(tasks[task].candidates[i]).total();
    }
    if (count == 0) continue;
    const std::int64_t best = *std::min_element(result[task].begin(), result[task].end());
    for (std::int64_t& effort : result[task]) effort -= best;
  }
  return result;
}

}  // namespace yubifu::fingering
