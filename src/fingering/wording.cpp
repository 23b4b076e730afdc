#include "fingering/wording.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string_view>
#include <utility>

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

Wording gap(const flute::Flute& flute, const model::Tone& tone, Allowed allowed) {
  const std::string note = gap_name(tone);
  if (allowed == Allowed::plain && tone.pitch) {
    if (const auto other = nearest(flute, tone.pitch->total_cents())) {
      return {base::message("{} has no plain fingering on {}", note, called(flute)),
              base::message("{} would sound it; it stays in the score as a gap", printed(*other))};
    }
  }
  return {base::message("{} is out of reach of {}", note, called(flute)),
          base::message("it stays in the score as a gap; another octave or flute may reach it")};
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

}  // namespace yubifu::fingering
