#include "fingering/wording.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/message.h"
#include "base/word_table.h"
#include "fingering/flute_line.h"
#include "fingering/rank.h"
#include "fingering/rules.h"
#include "flute/flute.h"
#include "model/pitch.h"

namespace yubifu::fingering {
namespace {

// A bend as players use it, for an example.
constexpr int kTurnedCents = 30;

std::string note_name(int midi_key) {
  return to_text(model::spell_in_key(midi_key, {}));
}

std::string gap_name(const model::Tone& tone) {
  const std::string note = to_text(*tone.spelling);
  const int bend = tone.fingering->bend_cents;
  return bend == 0 ? note : note + base::message(" {:+} cents", bend);
}

// The least bent way to reach a pitch.
std::optional<model::Fingering> nearest(const flute::Flute& flute, double total_cents) {
  const std::vector<Candidate> reaching = candidates_for(flute, total_cents);
  const auto best = std::min_element(reaching.begin(), reaching.end(),
                                     [](const Candidate& a, const Candidate& b) {
                                       return std::abs(a.bend_cents) < std::abs(b.bend_cents);
                                     });
  return best == reaching.end() ? std::nullopt : std::optional(fingering_of(flute, *best));
}

std::string octaves(int shift) {
  if (shift == 0) return base::message("as written");
  if (shift == 1) return base::message("one octave up");
  if (shift == -1) return base::message("one octave down");
  return shift > 0 ? base::message("{} octaves up", shift)
                   : base::message("{} octaves down", -shift);
}

std::string figures(const Lie& lie) {
  std::string text = lie.gaps == 0   ? base::message("no gaps")
                     : lie.gaps == 1 ? base::message("1 gap")
                                     : base::message("{} gaps", lie.gaps);
  if (lie.third_register == 1) text += base::message(", 1 third-register note");
  if (lie.third_register > 1) {
    text += base::message(", {} third-register notes", lie.third_register);
  }
  return text;
}

// Numerals that other texts use for the signs of the notation: 8 in the style of the low
// register, and the formal numerals of documents.
constexpr auto kOtherNumerals = base::word_table<std::string_view>({{"8", "八"},
                                                                    {"一", "壱"},
                                                                    {"二", "弐"},
                                                                    {"三", "参"},
                                                                    {"五", "伍"},
                                                                    {"六", "陸"},
                                                                    {"七", "漆"}});

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
  GapReport(const FingeredScore& fingered, base::Findings& findings)
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
      if (kinds[i] == GapKind::out_of_reach && !help) {
        help = way_out();
        if (!help->empty()) help = "; " + *help;
      }
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
    const model::Note& note = fingered_.score.notes[fingered_.places[i].place.note];
    auto [message, hint] = wording(i, kind, told, help);
    base::Diagnostic gap =
        base::report(kind == GapKind::needless ? rule::needless_gap : rule::out_of_reach,
                     note.source, std::move(message), std::move(hint));
    if (kind == GapKind::beyond_scores) gap.severity = base::Severity::error;
    findings_.add(std::move(gap), note.measure);
  }

  // Gaps that only half holes and bends reach, and those that nothing does, are told all together;
  // `help` says what would reach more, where that was looked for.
  Wording wording(std::size_t i, GapKind kind, const GapsTold& told,
                  const std::string& help) const {
    const std::string name = called(flute_of(i));
    const std::string gap = gap_name(tone_of(i));
    const auto fingers = [&] {
      return printed(*nearest(flute_of(i), tone_of(i).pitch->total_cents()));
    };
    if (kind == GapKind::beyond_scores) {
      return {base::message("{} is beyond the pitches that a score holds", gap),
              base::message("move the music less far")};
    }
    if (kind == GapKind::needless) {
      return {base::message("{} is a gap in the score, but {} has fingers for it: {}", gap, name,
                            fingers()),
              base::message("write {}, or take --refinger", fingers())};
    }
    const bool plain_only = kind == GapKind::not_plain;
    if (told.notes == 1) {
      if (!plain_only) {
        return {base::message("{} is out of reach of {}", gap, name),
                base::message("it stays in the score as a gap") + help};
      }
      return {base::message("{} has no plain fingering on {}", gap, name),
              base::message("{} would sound it; it stays in the score as a gap", fingers())};
    }
    const std::string from = gap_name(*told.lowest);
    const std::string to = gap_name(*told.highest);
    const std::string pitches = from == to ? from : base::message("{} to {}", from, to);
    if (!plain_only) {
      return {base::message("{} notes ({}) are out of reach of {}", told.notes, pitches, name),
              base::message("they stay in the score as gaps") + help};
    }
    return {base::message("{} notes ({}) have no plain fingering on {}", told.notes, pitches, name),
            base::message("half holes and bends would sound them; they stay in the score as gaps")};
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
    const double moved = model::kSemitoneCents * options_.move_semitones;
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
      const double shift =
          model::kSemitoneCents * options_.move_semitones + model::kOctaveCents * octave;
      if (gaps_at(tones, works, shift) < gaps) return true;
    }
    return false;
  }

  const FingeredScore& fingered_;
  const ResolveOptions& options_;
  base::Findings& findings_;
};

}  // namespace

std::string plain_signs(const flute::Flute& flute) {
  std::string list;
  for (const flute::Entry& entry : flute.entries()) {
    if (entry.half != model::HalfHole::none) continue;
    if (!list.empty()) list += ' ';
    list += entry.sign.printed();
  }
  return list;
}

Wording missing_sign(const flute::Flute& flute, const model::Fingering& fingering) {
  const std::string sign = fingering.sign->printed();
  Wording wording{base::message("{} has no {} in its table", called(flute), sign), {}};
  const auto meant = kOtherNumerals.value_of(sign);
  wording.hint = meant ? base::message("did you mean {}?", *meant)
                       : base::message("it has {}; a flute file can add signs", plain_signs(flute));
  return wording;
}

Wording missing_half_hole(const flute::Flute& flute, const model::Fingering& fingering) {
  const bool under = fingering.half == model::HalfHole::under;
  model::Fingering without_bend = fingering;
  without_bend.bend_cents = 0;
  Wording wording{base::message("{} has no {} in its table", called(flute), printed(without_bend)),
                  {}};
  const auto plain = flute.total_cents(model::Fingering{fingering.sign, model::HalfHole::none, 0});
  if (!plain) return wording;
  const double pitch = *plain + (under ? -model::kSemitoneCents : model::kSemitoneCents);
  const auto other = nearest(flute, pitch);
  if (under) {
    // The two things a player can mean: the sign below, or the flute turned inwards.
    model::Fingering turned{fingering.sign, model::HalfHole::none, -kTurnedCents};
    wording.hint =
        other && other->bend_cents == 0
            ? base::message(
                  "{} sounds a semitone under {}; turning the flute is written "
                  "`{}`, in cents",
                  printed(*other), fingering.sign->printed(), printed(turned))
            : base::message("turning the flute is written `{}`, in cents", printed(turned));
  } else if (other) {
    wording.hint =
        base::message("{} sounds a semitone over {}", printed(*other), fingering.sign->printed());
  } else {
    wording.hint =
        base::message("?{} keeps the pitch without fingers", note_name(model::pitch_at(pitch).key));
  }
  return wording;
}

Wording far_bend(const flute::Flute& flute, const model::Fingering& fingering, std::size_t entry) {
  const flute::BendLimit limit = flute.bend_limit(entry);
  const bool down = fingering.bend_cents < 0;
  const std::string bent = printed(fingering);
  const std::string name = called(flute);
  Wording wording{
      down ? base::message("{} is bent further than the {} cents down that {} allows there", bent,
                           limit.down, name)
           : base::message("{} is bent further than the {} cents up that {} allows there", bent,
                           limit.up, name),
      {}};
  if (const auto other = nearest(flute, *flute.total_cents(fingering))) {
    wording.hint = base::message("{} sounds the same", printed(*other));
  }
  return wording;
}

Wording shift(const flute::Flute& flute, const Lie& chosen, const std::vector<Lie>& others) {
  std::string told =
      base::message("{} to lie on {}: {}", octaves(chosen.octave), called(flute), figures(chosen));
  const auto add = [&](const Lie& other) {
    told += base::message("; {}: {}", octaves(other.octave), figures(other));
    if (other.gaps != chosen.gaps || other.third_register != chosen.third_register) return;
    told += weigh_alike(other.weight, chosen.weight)
                ? base::message(", as easy but further from the written pitch")
                : base::message(", harder for the fingers");
  };
  const auto written =
      std::find_if(others.begin(), others.end(), [](const Lie& lie) { return lie.octave == 0; });
  add(others.front());
  if (written != others.begin() && written != others.end()) add(*written);
  return {told, base::message("--octave 0 keeps the written pitch, another number another octave")};
}

Wording disagreement(const flute::Flute& flute, const model::Tone& tone, int sounding_key) {
  const std::string written = tone.spelling && midi_key(*tone.spelling) == tone.pitch->key
                                  ? to_text(*tone.spelling)
                                  : note_name(tone.pitch->key);
  return {base::message("{} sounds {} on {}, but {} is written", printed(*tone.fingering),
                        note_name(sounding_key), called(flute), written),
          base::message("the fingering counts, unless new fingers are asked for")};
}

void report_gaps(const FingeredScore& fingered, base::Findings& findings) {
  GapReport(fingered, findings).run();
}

}  // namespace yubifu::fingering
