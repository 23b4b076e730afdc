#include "fingering/summary.h"

#include <fmt/ranges.h>

#include "base/message.h"
#include "base/utf8.h"
#include "fingering/tones.h"
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

std::string candidate_line(const ExplainedCandidate& candidate, bool chosen) {
  constexpr int kSignWidth = 9;
  std::string line = base::message("  {} {} {}  note {}", chosen ? '*' : ' ',
                                   base::padded(printed(candidate.fingering), kSignWidth),
                                   printed(candidate.holes), text_of(candidate.note));
  if (candidate.change) line += base::message(", change {}", text_of(*candidate.change));
  return line + base::message(", detour {}", candidate.detour);
}

std::string headline(const Resolved& resolved, const ExplainedTone& explained) {
  const model::Score& score = resolved.score;
  const model::Tone& tone = tone_at(score, explained.place);
  const std::string& measure = score.measures[score.notes[explained.place.note].measure].number;
  const std::string pitch = tone.spelling ? to_text(*tone.spelling) : base::message("no pitch");
  const std::string fingers =
      tone.fingering && !tone.fingering->is_gap() ? printed(*tone.fingering) : base::message("gap");
  return base::message("bar {}: {}{} {}: {}", measure,
                       explained.place.role == ToneRole::main ? "" : base::message("grace note "),
                       pitch, fingers, explained.reason);
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

std::vector<std::string> explanation(const Resolved& resolved) {
  std::vector<std::string> lines;
  for (const ExplainedTone& tone : resolved.explained) {
    lines.push_back(headline(resolved, tone));
    for (std::size_t i = 0; i < tone.candidates.size(); ++i) {
      lines.push_back(candidate_line(tone.candidates[i], tone.chosen == i));
    }
  }
  return lines;
}

}  // namespace yubifu::fingering
