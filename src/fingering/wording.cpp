#include "fingering/wording.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string_view>
#include <utility>

#include "base/diagnostic.h"
#include "base/message.h"
#include "fingering/flute_line.h"

namespace yubifu::fingering {
namespace {

constexpr double kSemitone = 100;
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
  std::optional<flute::Reach> best;
  for (const flute::Reach& reach : flute.reaches(total_cents)) {
    if (!best || std::abs(reach.bend_cents) < std::abs(best->bend_cents)) best = reach;
  }
  if (!best) return std::nullopt;
  model::Fingering fingering = fingering_of(flute.entries()[best->entry]);
  fingering.bend_cents = best->bend_cents;
  return fingering;
}

// The pitches that gaps lie between, or the one that all have.
std::string pitches(const model::Tone& lowest, const model::Tone& highest) {
  const std::string from = gap_name(lowest);
  const std::string to = gap_name(highest);
  return from == to ? from : base::message("{} to {}", from, to);
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
constexpr std::array<std::pair<std::string_view, std::string_view>, 7> kOtherNumerals{{
    {"八", "8"},
    {"壱", "一"},
    {"弐", "二"},
    {"参", "三"},
    {"伍", "五"},
    {"陸", "六"},
    {"漆", "七"},
}};

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
  const auto meant = std::find_if(kOtherNumerals.begin(), kOtherNumerals.end(),
                                  [&](const auto& pair) { return pair.first == sign; });
  wording.hint = meant != kOtherNumerals.end()
                     ? base::message("did you mean {}?", meant->second)
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
  const double pitch = *plain + (under ? -kSemitone : kSemitone);
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

Wording out_of_reach(const flute::Flute& flute, const model::Tone& lowest,
                     const model::Tone& highest, std::size_t notes, const std::string& help) {
  const std::string name = called(flute);
  Wording wording{notes == 1 ? base::message("{} is out of reach of {}", gap_name(lowest), name)
                             : base::message("{} notes ({}) are out of reach of {}", notes,
                                             pitches(lowest, highest), name),
                  notes == 1 ? base::message("it stays in the score as a gap")
                             : base::message("they stay in the score as gaps")};
  if (!help.empty()) wording.hint += "; " + help;
  return wording;
}

Wording not_plain(const flute::Flute& flute, const model::Tone& lowest, const model::Tone& highest,
                  std::size_t notes) {
  const std::string name = called(flute);
  if (notes == 1) {
    return {base::message("{} has no plain fingering on {}", gap_name(lowest), name),
            base::message("{} would sound it; it stays in the score as a gap",
                          printed(*nearest(flute, lowest.pitch->total_cents())))};
  }
  return {base::message("{} notes ({}) have no plain fingering on {}", notes,
                        pitches(lowest, highest), name),
          base::message("half holes and bends would sound them; they stay in the score as gaps")};
}

Wording needless_gap(const flute::Flute& flute, const model::Tone& tone) {
  const std::string fingers = printed(*nearest(flute, tone.pitch->total_cents()));
  return {base::message("{} is a gap in the score, but {} has fingers for it: {}", gap_name(tone),
                        called(flute), fingers),
          base::message("write {}, or take --refinger", fingers)};
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

Wording out_of_all_reach(const model::Tone& tone) {
  return {base::message("{} is beyond the pitches that a score holds", gap_name(tone)),
          base::message("move the music less far")};
}

Wording disagreement(const flute::Flute& flute, const model::Tone& tone, int sounding_key) {
  const std::string written = tone.spelling && midi_key(*tone.spelling) == tone.pitch->key
                                  ? to_text(*tone.spelling)
                                  : note_name(tone.pitch->key);
  return {base::message("{} sounds {} on {}, but {} is written", printed(*tone.fingering),
                        note_name(sounding_key), called(flute), written),
          base::message("the fingering counts, unless new fingers are asked for")};
}

void Findings::add(const base::Rule& rule, base::Severity severity, std::size_t note,
                   std::string message, std::string hint) {
  const model::Note& where = score_.notes[note];
  const auto [at, is_new] =
      known_.try_emplace({std::string(rule.name), message}, diagnostics_.size(), where.measure);
  if (is_new) {
    diagnostics_.push_back(base::report(rule, where.source, std::move(message), std::move(hint)));
    diagnostics_.back().severity = severity;
  }
  auto& [index, last_measure] = at->second;
  if (is_new || last_measure != where.measure) {
    diagnostics_[index].measures.push_back(score_.measures[where.measure].number);
    last_measure = where.measure;
  }
}

base::Diagnostics Findings::take() {
  for (base::Diagnostic& diagnostic : diagnostics_) {
    if (diagnostic.where && diagnostic.measures.size() == 1) continue;
    diagnostic.message += ": " + base::bar_list(diagnostic.measures);
  }
  return std::move(diagnostics_);
}

}  // namespace yubifu::fingering
