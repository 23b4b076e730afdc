#include <fmt/ranges.h>

#include "base/message.h"
#include "base/utf8.h"
#include "fingering/tones.h"
#include "fingering/wording.h"
#include "flute/flute.h"

namespace yubifu::fingering {
namespace {

void count(Summary& summary, const model::Tone& tone, const flute::Flute& flute) {
  ++summary.notes;
  if (!tone.fingering) return;
  if (tone.fingering->is_gap()) {
    ++summary.gaps;
    return;
  }
  if (tone.fingering->half != model::HalfHole::none) ++summary.half_holed;
  if (tone.fingering->bend_cents != 0) ++summary.bent;
  const auto entry = flute.find(*tone.fingering);
  if (entry && flute.entries()[*entry].in == model::Register::third) ++summary.third_register;
  if (flute::is_loud(flute, *tone.fingering)) ++summary.loud;
}

using Points = std::pair<std::string, int>;

// "12 (fingers 8, register break 4)"; the reasons that are 0 are left out.
std::string points_text(std::int64_t total, const std::vector<Points>& reasons, int haste = 1) {
  std::vector<std::string> told;
  for (const auto& [reason, points] : reasons) {
    if (points != 0) told.push_back(fmt::format("{} {}", reason, points));
  }
  if (told.empty()) return fmt::format("{}", total);
  const std::string times =
      haste > 1 ? base::message("; short, so {} times", haste) : std::string();
  return fmt::format("{} ({}{})", total, fmt::join(told, ", "), times);
}

std::string text_of(const NoteEffort& effort) {
  return points_text(effort.total(), {{base::message("half hole"), effort.half_hole},
                                      {base::message("bend"), effort.bend},
                                      {base::message("third register"), effort.third_register},
                                      {base::message("cross-fingering"), effort.cross_fingering},
                                      {base::message("avoided"), effort.avoided}});
}

std::string text_of(const ChangeEffort& effort) {
  return points_text(effort.total(),
                     {{base::message("fingers"), effort.fingers},
                      {base::message("crossing"), effort.crossing},
                      {base::message("register break"), effort.register_break}},
                     effort.haste);
}

const model::HolePattern& holes_of(const flute::Flute& flute, const Candidate& candidate) {
  return flute.entries()[candidate.entry].patterns[candidate.pattern];
}

// Why a candidate was chosen, without a full stop. `detours` are those of the task.
std::string reason_for(const Task& task, const std::optional<std::size_t>& chosen, bool fixed,
                       const std::vector<std::int64_t>& detours, const flute::Flute& flute) {
  if (!chosen) return base::message("no fingering of this flute reaches it");
  if (fixed) return base::message("the score has these fingers");
  if (task.candidates.size() == 1) return base::message("the only way to play it");
  std::optional<std::size_t> second;
  for (std::size_t i = 0; i < detours.size(); ++i) {
    if (i != *chosen && (!second || detours[i] < detours[*second])) second = i;
  }
  const Candidate& candidate = task.candidates[*second];
  const std::string other = fmt::format("{} {}", printed(fingering_of(flute, candidate)),
                                        printed(holes_of(flute, candidate)));
  if (detours[*second] > 0) return base::message("{} would cost {} more", other, detours[*second]);
  return *second > *chosen ? base::message("as easy as {}, which comes later in the table", other)
                           : base::message("as easy as {}; an earlier note decides", other);
}

std::string headline(const model::Score& score, const TonePlace& place, const std::string& reason) {
  const model::Tone& tone = tone_at(score, place);
  const std::string& measure = score.measures[score.notes[place.note].measure].number;
  const std::string pitch = tone.spelling ? to_text(*tone.spelling) : base::message("no pitch");
  const std::string fingers =
      tone.fingering && !tone.fingering->is_gap() ? printed(*tone.fingering) : base::message("gap");
  return base::message("bar {}: {}{} {}: {}", measure,
                       place.role == ToneRole::main ? "" : base::message("grace note "), pitch,
                       fingers, reason);
}

}  // namespace

Summary summarize(const Resolved& resolved,
                  const std::function<bool(const model::Measure&)>& is_wanted) {
  Summary summary;
  if (!resolved.flutes.empty()) summary.flute_title = resolved.flutes.front()->title();
  summary.octave_shift = resolved.octave_shift;
  for (const model::Note& note : resolved.score.notes) {
    if (!is_wanted(resolved.score.measures[note.measure])) continue;
    const flute::Flute& flute = *resolved.flutes[model::flute_index(resolved.score, note.measure)];
    if (summary.notes == 0) summary.flute_title = flute.title();
    for_each_tone(note, [&](const model::Tone& tone) { count(summary, tone, flute); });
  }
  return summary;
}

std::vector<std::string> explanation(const FingeredScore& fingered, const FingeredMelody& melody) {
  constexpr int kSignWidth = 9;
  const auto extra = detours(fingered.works, melody.tasks);
  std::vector<std::string> lines;
  const Candidate* before = nullptr;
  for (std::size_t i = 0; i < melody.tasks.size(); ++i) {
    const Task& task = melody.tasks[i];
    const auto& chosen = melody.path.chosen[i];
    const Fingerwork& work = fingered.works[task.flute];
    const std::vector<flute::Entry>& entries = work.flute().entries();
    const bool fixed = fingered.tones[i].fixed.has_value();
    lines.push_back(headline(fingered.score, fingered.places[i].place,
                             reason_for(task, chosen, fixed, extra[i], work.flute())));
    if (i > 0 && melody.tasks[i - 1].flute != task.flute) before = nullptr;
    for (std::size_t c = 0; c < task.candidates.size(); ++c) {
      const Candidate& candidate = task.candidates[c];
      std::string line =
          base::message("  {} {} {}  note {}", chosen == c ? '*' : ' ',
                        base::padded(printed(fingering_of(work.flute(), candidate)), kSignWidth),
                        printed(holes_of(work.flute(), candidate)), text_of(work.note(candidate)));
      if (before) {
        const ChangeEffort change =
            change_effort(work.table(), entries[before->entry], before->pattern,
                          entries[candidate.entry], candidate.pattern, task.haste_into);
        line += base::message(", change {}", text_of(change));
      }
      lines.push_back(line + base::message(", detour {}", extra[i][c]));
    }
    before = chosen ? &task.candidates[*chosen] : nullptr;
  }
  return lines;
}

}  // namespace yubifu::fingering
