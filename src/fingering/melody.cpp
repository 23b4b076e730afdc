#include "fingering/melody.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <span>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"

namespace yubifu::fingering {
namespace {

// Calls `use` with the borders of each stretch that one flute plays.
template <typename Use>
void for_each_part(const std::vector<MelodyTone>& tones, Use use) {
  std::size_t begin = 0;
  for (std::size_t end = 1; end <= tones.size(); ++end) {
    if (end < tones.size() && tones[end].flute == tones[begin].flute) continue;
    use(begin, end);
    begin = end;
  }
}

std::span<const Task> part(const FingeredMelody& melody, std::size_t begin, std::size_t end) {
  return std::span(melody.tasks).subspan(begin, end - begin);
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

std::string name_of(const ExplainedCandidate& candidate) {
  return fmt::format("{} {}", printed(candidate.fingering), printed(candidate.holes));
}

std::string reason_for(const ExplainedTone& tone, bool fixed) {
  if (!tone.chosen) return base::message("no fingering of this flute reaches it");
  if (fixed) return base::message("the score has these fingers");
  if (tone.candidates.size() == 1) return base::message("the only way to play it");
  std::optional<std::size_t> second;
  for (std::size_t i = 0; i < tone.candidates.size(); ++i) {
    if (i == *tone.chosen) continue;
    if (!second || tone.candidates[i].detour < tone.candidates[*second].detour) second = i;
  }
  const ExplainedCandidate& other = tone.candidates[*second];
  if (other.detour == 0) {
    return *second > *tone.chosen
               ? base::message("as easy as {}, which comes later in the table", name_of(other))
               : base::message("as easy as {}; an earlier note decides", name_of(other));
  }
  return base::message("{} would cost {} more", name_of(other), other.detour);
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

bool weigh_alike(std::int64_t weight, std::int64_t least) {
  return 20 * weight <= 21 * least;
}

FingeredMelody finger(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& flutes,
                      double shift_cents, Allowed allowed) {
  FingeredMelody melody;
  melody.tasks.reserve(tones.size());
  for (const MelodyTone& tone : tones) {
    Task& task = melody.tasks.emplace_back(Task{{}, tone.haste_into});
    if (tone.fixed) {
      task.candidates = {*tone.fixed};
    } else if (tone.wanted) {
      task.candidates =
          candidates_for(flutes[tone.flute].flute(), *tone.wanted + shift_cents, allowed);
    }
  }
  for_each_part(tones, [&](std::size_t begin, std::size_t end) {
    const Path more = cheapest_path(flutes[tones[begin].flute], part(melody, begin, end));
    Path& path = melody.path;
    path.chosen.insert(path.chosen.end(), more.chosen.begin(), more.chosen.end());
    path.effort.insert(path.effort.end(), more.effort.begin(), more.effort.end());
    path.total += more.total;
  });
  return melody;
}

ShiftedMelody in_best_octave(const std::vector<MelodyTone>& tones,
                             const std::vector<Fingerwork>& flutes, double shift_cents,
                             Allowed allowed) {
  const auto [first, last] = possible_octaves(tones, flutes, shift_cents);
  const auto at = [&](int octave) {
    return finger(tones, flutes, shift_cents + model::kOctaveCents * octave, allowed);
  };
  std::vector<Lie> lies;
  for (int octave = first; octave <= last; ++octave) {
    lies.push_back(lie_of(tones, flutes, at(octave), octave));
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
  ShiftedMelody best{*chosen, at(chosen->octave), {}};
  lies.erase(chosen);
  best.others = std::move(lies);
  return best;
}

std::vector<ExplainedTone> explain(const std::vector<TimedTone>& places,
                                   const std::vector<MelodyTone>& tones,
                                   const std::vector<Fingerwork>& flutes,
                                   const FingeredMelody& melody) {
  // By how much the best path through each candidate exceeds the best path.
  std::vector<std::vector<std::int64_t>> extra;
  for_each_part(tones, [&](std::size_t begin, std::size_t end) {
    auto more = detours(flutes[tones[begin].flute], part(melody, begin, end));
    std::move(more.begin(), more.end(), std::back_inserter(extra));
  });
  std::vector<ExplainedTone> result;
  result.reserve(tones.size());
  for (std::size_t i = 0; i < tones.size(); ++i) {
    const bool follows = i > 0 && tones[i - 1].flute == tones[i].flute && melody.path.chosen[i - 1];
    const Candidate* before =
        follows ? &melody.tasks[i - 1].candidates[*melody.path.chosen[i - 1]] : nullptr;
    ExplainedTone tone{places[i].place, {}, melody.path.chosen[i], {}};
    const Fingerwork& work = flutes[tones[i].flute];
    const std::vector<flute::Entry>& entries = work.flute().entries();
    for (std::size_t c = 0; c < melody.tasks[i].candidates.size(); ++c) {
      const Candidate& candidate = melody.tasks[i].candidates[c];
      const flute::Entry& entry = entries[candidate.entry];
      ExplainedCandidate told{fingering_of(entry), entry.patterns[candidate.pattern],
                              work.note(candidate), std::nullopt, extra[i][c]};
      told.fingering.bend_cents = candidate.bend_cents;
      if (before) {
        told.change = change_effort(work.table(), entries[before->entry], before->pattern, entry,
                                    candidate.pattern, tones[i].haste_into);
      }
      tone.candidates.push_back(std::move(told));
    }
    tone.reason = reason_for(tone, tones[i].fixed.has_value());
    result.push_back(std::move(tone));
  }
  return result;
}

}  // namespace yubifu::fingering
