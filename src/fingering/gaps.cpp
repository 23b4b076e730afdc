#include "fingering/gaps.h"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "fingering/rank.h"
#include "fingering/rules.h"
#include "fingering/wording.h"
#include "flute/built_in.h"
#include "model/pitch.h"

namespace yubifu::fingering {
namespace {

constexpr double kSemitone = 100;
constexpr double kOctave = 1200;

enum class GapKind {
  none,
  beyond_scores,  // no score holds its pitch
  needless,       // the score has a gap where the flute has fingers
  not_plain,      // only half holes and bends reach it
  out_of_reach,
};

// Whether a score can hold a gap, by its name and by its sound.
bool is_held(const model::Tone& gap) {
  return model::is_key(midi_key(*gap.spelling)) && (!gap.pitch || model::is_key(gap.pitch->key));
}

// The gaps of one kind on one flute.
struct GapsTold {
  std::size_t notes = 0;
  const model::Tone* lowest = nullptr;
  const model::Tone* highest = nullptr;

  void take(const model::Tone& tone) {
    const auto cents = [](const model::Tone* one) { return one->pitch->total_cents(); };
    ++notes;
    if (!lowest || cents(&tone) < cents(lowest)) lowest = &tone;
    if (!highest || cents(&tone) > cents(highest)) highest = &tone;
  }
};

// What an option makes of `before` gaps.
std::string offer(const std::string& option, std::size_t before, std::size_t after) {
  if (after == 0 && before == 1) return base::message("{} would reach it", option);
  if (after == 0) return base::message("{} would reach them all", option);
  return after == 1 ? base::message("{} would leave 1 gap", option)
                    : base::message("{} would leave {} gaps", option, after);
}

class GapReport {
 public:
  GapReport(const FingeredScore& fingered, Findings& findings)
      : fingered_(fingered), options_(fingered.options), findings_(findings) {}

  void run() {
    std::vector<GapKind> kinds;
    std::map<std::pair<GapKind, std::size_t>, GapsTold> told;
    for (std::size_t i = 0; i < fingered_.places.size(); ++i) {
      kinds.push_back(kind_of(i));
      if (kinds[i] != GapKind::none) told[{kinds[i], fingered_.tones[i].flute}].take(tone_of(i));
    }
    std::optional<std::string> help;
    for (std::size_t i = 0; i < kinds.size(); ++i) {
      if (kinds[i] == GapKind::none) continue;
      if (kinds[i] == GapKind::out_of_reach && !help) help = way_out();
      report(i, kinds[i], told[{kinds[i], fingered_.tones[i].flute}], help.value_or(""));
    }
  }

 private:
  const model::Tone& tone_of(std::size_t i) const {
    return tone_at(fingered_.score, fingered_.places[i].place);
  }

  const flute::Flute& flute_of(std::size_t i) const {
    return fingered_.works[fingered_.tones[i].flute].flute();
  }

  GapKind kind_of(std::size_t i) const {
    const model::Tone& tone = tone_of(i);
    if (!tone.fingering || !tone.fingering->is_gap() || !tone.spelling || !tone.pitch) {
      return GapKind::none;
    }
    if (!is_held(tone)) return GapKind::beyond_scores;
    const double cents = tone.pitch->total_cents();
    if (!candidates_for(flute_of(i), cents, options_.allowed).empty()) return GapKind::needless;
    return flute_of(i).reaches(cents).empty() ? GapKind::out_of_reach : GapKind::not_plain;
  }

  void report(std::size_t i, GapKind kind, const GapsTold& told, const std::string& help) {
    const auto add = [&](const base::Rule& rule, base::Severity severity, Wording wording) {
      findings_.add(rule, severity, fingered_.places[i].place.note, std::move(wording.message),
                    std::move(wording.hint));
    };
    const base::Severity usual = rule::out_of_reach.severity;
    switch (kind) {
      case GapKind::none:
        return;
      case GapKind::beyond_scores:
        return add(rule::out_of_reach, base::Severity::error, out_of_all_reach(tone_of(i)));
      case GapKind::needless:
        return add(rule::needless_gap, rule::needless_gap.severity,
                   needless_gap(flute_of(i), tone_of(i)));
      case GapKind::not_plain:
        return add(rule::out_of_reach, usual,
                   not_plain(flute_of(i), *told.lowest, *told.highest, told.notes));
      case GapKind::out_of_reach:
        return add(rule::out_of_reach, usual,
                   out_of_reach(flute_of(i), *told.lowest, *told.highest, told.notes, help));
    }
  }

  // The melody as it sounds now, to be tried in another octave or on another flute.
  std::vector<MelodyTone> melody() const {
    std::vector<MelodyTone> melody = fingered_.tones;
    for (std::size_t i = 0; i < melody.size(); ++i) {
      melody[i].fixed.reset();
      melody[i].wanted.reset();
      if (const auto& pitch = tone_of(i).pitch) {
        melody[i].wanted = pitch->total_cents() - fingered_.shift_cents;
      }
    }
    return melody;
  }

  // The option that leaves fewer gaps. Nobody is sent to an octave that was weighed already.
  std::string way_out() const {
    std::vector<MelodyTone> tones = melody();
    const double moved = kSemitone * options_.move_semitones;
    const std::size_t gaps = gaps_at(tones, fingered_.works, fingered_.shift_cents);
    std::size_t fewest = gaps;
    const bool octave_is_open = fingered_.octave == FingeredScore::Octave::given;
    if (octave_is_open && reaches_more(tones, fingered_.works, fewest)) {
      const Lie lie = in_best_octave(tones, fingered_.works, moved, options_.allowed).lie;
      if (lie.gaps < gaps) return offer(fmt::format("--octave {}", lie.octave), gaps, lie.gaps);
    }
    if (fingered_.works.size() != 1) return {};
    std::string found = octave_is_open ? base::message("no octave and no other size reaches more")
                                       : base::message("no other size reaches more");
    for (const int size : usual_sizes()) {
      const flute::Flute flute =
          flute::built_in_flute({size, 0}, fingered_.works.front().flute().tuning_hz());
      const std::vector<Fingerwork> works{Fingerwork(flute, options_.effort)};
      if (!reaches_more(tones, works, fewest)) continue;
      const Lie lie = in_best_octave(tones, works, moved, options_.allowed).lie;
      if (lie.gaps >= fewest) continue;
      fewest = lie.gaps;
      found = offer(flute_option(size, octave_is_open ? lie.octave : 0), gaps, fewest);
      if (fewest == 0) break;
    }
    return found;
  }

  std::string flute_option(int size, int octave) const {
    std::string option = fmt::format("--flute {}", size);
    if (octave != 0) return option + fmt::format(" --octave {}", octave);
    const bool would_stay =
        fingered_.fingers == FingeredScore::Fingers::kept && options_.origin == Origin::fingers;
    return would_stay ? "--refinger " + option : option;
  }

  // Of each pitch once, which is quick in long scores.
  std::size_t gaps_at(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& works,
                      double shift_cents) const {
    std::map<std::pair<std::size_t, double>, bool> known;
    return static_cast<std::size_t>(
        std::count_if(tones.begin(), tones.end(), [&](const MelodyTone& tone) {
          if (!tone.wanted) return true;
          const auto [at, is_new] = known.try_emplace({tone.flute, *tone.wanted});
          if (is_new) {
            at->second = candidates_for(works[tone.flute].flute(), *tone.wanted + shift_cents,
                                        options_.allowed)
                             .empty();
          }
          return at->second;
        }));
  }

  bool reaches_more(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& works,
                    std::size_t gaps) const {
    for (int octave = -kMostOctaves; octave <= kMostOctaves; ++octave) {
      const double shift = kSemitone * options_.move_semitones + kOctave * octave;
      if (gaps_at(tones, works, shift) < gaps) return true;
    }
    return false;
  }

  const FingeredScore& fingered_;
  const ResolveOptions& options_;
  Findings& findings_;
};

}  // namespace

void report_gaps(const FingeredScore& fingered, Findings& findings) {
  GapReport(fingered, findings).run();
}

}  // namespace yubifu::fingering
