#include "fingering/infer.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace yubifu::fingering {
namespace {

constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max();

// From each candidate to the end of its run of fingered notes: its own effort and all after it.
std::vector<std::vector<std::int64_t>> efforts_onward(const Fingerwork& work,
                                                      std::span<const Task> tasks) {
  std::vector<std::vector<std::int64_t>> onward(tasks.size());
  for (std::size_t task = tasks.size(); task-- > 0;) {
    const bool run_ends = task + 1 == tasks.size() || onward[task + 1].empty();
    for (const Candidate& candidate : tasks[task].candidates) {
      std::int64_t least = run_ends ? 0 : kNever;
      for (std::size_t next = 0; !run_ends && next < onward[task + 1].size(); ++next) {
        const Task& after = tasks[task + 1];
        least = std::min(least, work.change(candidate, after.candidates[next], after.haste_into) +
                                    onward[task + 1][next]);
      }
      onward[task].push_back(work.note(candidate).total() + least);
    }
  }
  return onward;
}

}  // namespace

std::vector<Candidate> candidates_for(const flute::Flute& flute, double total_cents,
                                      Allowed allowed) {
  std::vector<Candidate> found;
  for (const flute::Reach& reach : flute.reaches(total_cents)) {
    const flute::Entry& entry = flute.entries()[reach.entry];
    const bool plain = entry.half == model::HalfHole::none && reach.bend_cents == 0;
    if (allowed == Allowed::plain && !plain) continue;
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

NoteEffort Fingerwork::note(const Candidate& candidate) const {
  return note_effort(table_, flute_->entries()[candidate.entry], candidate.pattern,
                     candidate.bend_cents);
}

std::int64_t Fingerwork::change(const Candidate& from, const Candidate& to, int haste) const {
  const auto state = [&](const Candidate& c) { return first_state_[c.entry] + c.pattern; };
  return std::int64_t{changes_[state(from) * state_count_ + state(to)]} * haste;
}

Path cheapest_path(const Fingerwork& work, std::span<const Task> tasks) {
  const auto onward = efforts_onward(work, tasks);
  Path path;
  const Candidate* before = nullptr;
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    const Task& here = tasks[task];
    const auto change_into = [&](const Candidate& to) {
      return before == nullptr ? 0 : work.change(*before, to, here.haste_into);
    };
    // Working backwards left the effort from each candidate to the end, so the first candidate
    // that keeps to the least of it is the rule for equals.
    std::optional<std::size_t> best;
    std::int64_t least = kNever;
    for (std::size_t i = 0; i < here.candidates.size(); ++i) {
      const std::int64_t effort = change_into(here.candidates[i]) + onward[task][i];
      if (effort < least) {
        least = effort;
        best = i;
      }
    }
    const Candidate* chosen = best ? &here.candidates[*best] : nullptr;
    path.chosen.push_back(best);
    path.effort.push_back(chosen ? change_into(*chosen) + work.note(*chosen).total() : 0);
    path.total += path.effort.back();
    before = chosen;
  }
  return path;
}

std::vector<std::vector<std::int64_t>> detours(const Fingerwork& work,
                                               std::span<const Task> tasks) {
  std::vector<std::vector<std::int64_t>> through = efforts_onward(work, tasks);
  // The least effort of coming to each candidate of the task before, its own included.
  std::vector<std::int64_t> until;
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    std::vector<std::int64_t> until_here;
    for (std::size_t i = 0; i < through[task].size(); ++i) {
      const Candidate& to = tasks[task].candidates[i];
      std::int64_t into = until.empty() ? 0 : kNever;
      for (std::size_t from = 0; from < until.size(); ++from) {
        into = std::min(into, until[from] + work.change(tasks[task - 1].candidates[from], to,
                                                        tasks[task].haste_into));
      }
      through[task][i] += into;
      until_here.push_back(into + work.note(to).total());
    }
    until = std::move(until_here);
    if (until.empty()) continue;
    const std::int64_t best = *std::min_element(through[task].begin(), through[task].end());
    for (std::int64_t& effort : through[task]) effort -= best;
  }
  return through;
}

}  // namespace yubifu::fingering
