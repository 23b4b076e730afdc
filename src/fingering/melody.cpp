#include "fingering/melody.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace yubifu::fingering {
namespace {

constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max();

// From each candidate to the end of its run on one flute: its own effort and all after it.
std::vector<std::vector<std::int64_t>> efforts_onward(const std::vector<Fingerwork>& flutes,
                                                      const std::vector<Task>& tasks) {
  std::vector<std::vector<std::int64_t>> onward(tasks.size());
  for (std::size_t task = tasks.size(); task-- > 0;) {
    const Fingerwork& work = flutes[tasks[task].flute];
    const bool run_ends = task + 1 == tasks.size() || onward[task + 1].empty() ||
                          tasks[task + 1].flute != tasks[task].flute;
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

// The shifts at which at least one wanted pitch can lie inside the range of a flute.
std::pair<int, int> possible_octaves(const std::vector<MelodyTone>& tones,
                                     const std::vector<Fingerwork>& flutes, double shift_cents) {
  std::vector<double> wanted;
  for (const MelodyTone& tone : tones) {
    if (!tone.fixed && tone.wanted) wanted.push_back(*tone.wanted + shift_cents);
  }
  std::vector<double> reached;
  for (const Fingerwork& work : flutes) {
    for (std::size_t i = 0; i < work.flute().entries().size(); ++i) {
      reached.push_back(work.flute().total_cents(i));
    }
  }
  if (wanted.empty() || reached.empty()) return {0, 0};
  const auto [low, high] = std::minmax_element(wanted.begin(), wanted.end());
  const auto [lowest, highest] = std::minmax_element(reached.begin(), reached.end());
  const double first = std::floor((*lowest - *high) / model::kOctaveCents);
  const double last = std::ceil((*highest - *low) / model::kOctaveCents);
  const auto inside = [](double value) {
    return static_cast<int>(std::clamp<double>(value, -kMostOctaves, kMostOctaves));
  };
  return {std::min(0, inside(first)), std::max(0, inside(last))};
}

// How a melody lies that finger() has fingered.
Lie lie_of(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& flutes,
           const FingeredMelody& melody, int octave) {
  Lie lie{octave, 0, 0, melody.path.total};
  std::int64_t stretched = 0;
  for (std::size_t i = 0; i < tones.size(); ++i) {
    const Fingerwork& work = flutes[tones[i].flute];
    const EffortTable& table = work.table();
    if (stretch_of(work.flute().name()) != Stretch::none) stretched += table.stretch_per_four_notes;
    if (const auto& chosen = melody.path.chosen[i]) {
      const NoteEffort note = work.note(melody.tasks[i].candidates[*chosen]);
      if (note.third_register == 0) continue;
      ++lie.third_register;
      lie.weight += melody.path.effort[i] - note.avoided;
    } else {
      ++lie.gaps;
      lie.weight += table.gap + (table.avoids() ? table.avoided : 0);
    }
  }
  lie.weight += stretched / 4;
  return lie;
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

model::Fingering fingering_of(const flute::Flute& flute, const Candidate& candidate) {
  model::Fingering fingering = fingering_of(flute.entries()[candidate.entry]);
  fingering.bend_cents = candidate.bend_cents;
  return fingering;
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

Path cheapest_path(const std::vector<Fingerwork>& flutes, const std::vector<Task>& tasks) {
  const auto onward = efforts_onward(flutes, tasks);
  Path path;
  const Candidate* before = nullptr;
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    const Task& here = tasks[task];
    const Fingerwork& work = flutes[here.flute];
    if (task > 0 && tasks[task - 1].flute != here.flute) before = nullptr;
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

std::vector<std::vector<std::int64_t>> detours(const std::vector<Fingerwork>& flutes,
                                               const std::vector<Task>& tasks) {
  std::vector<std::vector<std::int64_t>> through = efforts_onward(flutes, tasks);
  // The least effort of coming to each candidate of the task before, its own included.
  std::vector<std::int64_t> until;
  for (std::size_t task = 0; task < tasks.size(); ++task) {
    const Fingerwork& work = flutes[tasks[task].flute];
    if (task > 0 && tasks[task - 1].flute != tasks[task].flute) until.clear();
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

bool weigh_alike(std::int64_t weight, std::int64_t least) {
  return 20 * weight <= 21 * least;
}

FingeredMelody finger(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& flutes,
                      double shift_cents, Allowed allowed) {
  FingeredMelody melody;
  melody.tasks.reserve(tones.size());
  // A melody has few pitches.
  std::map<std::pair<std::size_t, double>, std::vector<Candidate>> known;
  for (const MelodyTone& tone : tones) {
    Task& task = melody.tasks.emplace_back(Task{{}, tone.haste_into, tone.flute});
    if (tone.fixed) {
      task.candidates = {*tone.fixed};
    } else if (tone.wanted) {
      const auto [at, is_new] = known.try_emplace({tone.flute, *tone.wanted});
      if (is_new) {
        at->second =
            candidates_for(flutes[tone.flute].flute(), *tone.wanted + shift_cents, allowed);
      }
      task.candidates = at->second;
    }
  }
  melody.path = cheapest_path(flutes, melody.tasks);
  return melody;
}

ShiftedMelody in_best_octave(const std::vector<MelodyTone>& tones,
                             const std::vector<Fingerwork>& flutes, double shift_cents,
                             Allowed allowed) {
  const auto [first, last] = possible_octaves(tones, flutes, shift_cents);
  std::vector<FingeredMelody> melodies;
  std::vector<Lie> lies;
  for (int octave = first; octave <= last; ++octave) {
    const double shift = shift_cents + model::kOctaveCents * octave;
    melodies.push_back(finger(tones, flutes, shift, allowed));
    lies.push_back(lie_of(tones, flutes, melodies.back(), octave));
  }
  const auto nearness = [](const Lie& lie) { return std::pair(std::abs(lie.octave), lie.octave); };
  std::sort(lies.begin(), lies.end(), [&](const Lie& a, const Lie& b) {
    return std::pair(a.weight, nearness(a)) < std::pair(b.weight, nearness(b));
  });
  const std::int64_t least = lies.front().weight;
  const auto heavier = std::find_if(
      lies.begin(), lies.end(), [&](const Lie& lie) { return !weigh_alike(lie.weight, least); });
  const auto chosen = std::min_element(
      lies.begin(), heavier, [&](const Lie& a, const Lie& b) { return nearness(a) < nearness(b); });
  ShiftedMelody best{
      *chosen, std::move(melodies[static_cast<std::size_t>(chosen->octave - first)]), {}};
  lies.erase(chosen);
  best.others = std::move(lies);
  return best;
}

}  // namespace yubifu::fingering
