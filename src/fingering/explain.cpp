#include "fingering/explain.h"

#include <fmt/format.h>

#include "base/message.h"

namespace yubifu::fingering {
namespace {

ExplainedCandidate explained(const Fingerwork& work, const Candidate& candidate,
                             const MelodyTone& tone, const Candidate* before, std::int64_t detour) {
  const flute::Entry& entry = work.flute().entries()[candidate.entry];
  ExplainedCandidate result;
  result.fingering = fingering_of(entry);
  result.fingering.bend_cents = candidate.bend_cents;
  result.holes = entry.patterns[candidate.pattern];
  result.note = work.note(candidate);
  if (before) {
    result.change = change_effort(work.table(), work.flute().entries()[before->entry],
                                  before->pattern, entry, candidate.pattern, tone.haste_into);
  }
  result.detour = detour;
  return result;
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

}  // namespace

std::vector<ExplainedTone> explain(const std::vector<TimedTone>& places,
                                   const std::vector<MelodyTone>& tones,
                                   const std::vector<Fingerwork>& flutes,
                                   const FingeredMelody& melody) {
  const auto extra = detours(tones, flutes, melody);
  std::vector<ExplainedTone> result;
  result.reserve(tones.size());
  for (std::size_t i = 0; i < tones.size(); ++i) {
    const bool follows = i > 0 && tones[i - 1].flute == tones[i].flute && melody.path.chosen[i - 1];
    const Candidate* before =
        follows ? &melody.tasks[i - 1].candidates[*melody.path.chosen[i - 1]] : nullptr;
    ExplainedTone tone{places[i].place, {}, melody.path.chosen[i], {}};
    for (std::size_t c = 0; c < melody.tasks[i].candidates.size(); ++c) {
      tone.candidates.push_back(explained(flutes[tones[i].flute], melody.tasks[i].candidates[c],
                                          tones[i], before, extra[i][c]));
    }
    tone.reason = reason_for(tone, tones[i].fixed.has_value());
    result.push_back(std::move(tone));
  }
  return result;
}

}  // namespace yubifu::fingering
