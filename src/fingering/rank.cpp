#include "fingering/rank.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <tuple>
#include <utility>
#include <variant>

#include "base/message.h"
#include "base/numbers.h"
#include "fingering/melody.h"
#include "fingering/tones.h"
#include "flute/flute.h"
#include "model/pitch.h"

namespace yubifu::fingering {
namespace {

constexpr double kSanCents = 400;
constexpr int kLowestSize = 1;
constexpr int kHighestSize = 13;
// Every key once, the nearest ones first.
constexpr std::array<int, 12> kMoves{0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6};

// Where the song lies: 三 of a flute, or a major third above 一 where there is no such sign.
int san_key(const flute::Flute& flute) {
  const auto san = model::Sign::standard(model::Register::low, 3);
  const auto cents = flute.total_cents(model::Fingering{san, model::HalfHole::none, 0});
  return model::pitch_at(cents.value_or(flute.ichi().total_cents() + kSanCents)).key;
}

std::optional<MeasureEffort> hardest_measure(const model::Score& score,
                                             const std::vector<TimedTone>& places,
                                             const Path& path) {
  std::vector<std::int64_t> efforts(score.measures.size());
  for (std::size_t i = 0; i < places.size(); ++i) {
    efforts[score.notes[places[i].place.note].measure] += path.effort[i];
  }
  const auto most = std::max_element(efforts.begin(), efforts.end());
  if (most == efforts.end() || *most == 0) return std::nullopt;
  const auto index = static_cast<std::size_t>(most - efforts.begin());
  return MeasureEffort{score.measures[index].number, *most};
}

std::string remark_on(const model::FluteName& name) {
  const Stretch stretch = stretch_of(name);
  if (stretch == Stretch::none) return {};
  return stretch == Stretch::long_flute
             ? base::message("long: the holes lie far apart for the hand")
             : base::message("short: the holes lie close together for the fingers");
}

// Its place in the row of sizes that players own: 7, 6, 8, then the nearer to 6 and 7. Our choice.
std::tuple<int, model::Rational, model::Rational> usualness(const model::FluteName& name) {
  const auto* size = std::get_if<model::FluteSize>(&name);
  if (!size) return {4, 0, 0};
  if (size->size == model::Rational(7)) return {0, 0, 0};
  if (size->size == model::Rational(6)) return {1, 0, 0};
  if (size->size == model::Rational(8)) return {2, 0, 0};
  const model::Rational offset = size->size - model::Rational(13, 2);
  return {3, offset < model::Rational(0) ? -offset : offset, size->size};
}

// The sounding melody of a score, to be tried on one flute after another.
class Melody {
 public:
  Melody(const Resolved& resolved, const RankOptions& options)
      : score_(resolved.score), options_(options) {
    for (const TimedTone& place : places_) {
      MelodyTone& tone = tones_.emplace_back();
      if (const auto& pitch = tone_at(score_, place.place).pitch)
        tone.wanted = pitch->total_cents();
      tone.haste_into = haste(place.seconds_into);
    }
    if (!options.pitch_number || resolved.flutes.empty()) return;
    moved_ += *options.pitch_number - pitch_number(san_key(*resolved.flutes.front()));
  }

  Fit on(const flute::Flute& flute) const {
    const std::vector<Fingerwork> works{Fingerwork(flute, options_.effort)};
    Fit fit;
    fit.flute = flute.name();
    fit.title = flute.title();
    const int ichi = flute.ichi().key;
    fit.ichi = model::spell_in_key(ichi, model::moved_key({}, ichi % 12));
    fit.pitch_number = pitch_number(san_key(flute));
    fit.remark = remark_on(flute.name());
    const auto [semitones, shifted] = in_best_key(tones_for(flute), works);
    fit.octave = shifted.lie.octave;
    fit.semitones = semitones;
    fit.moved = moved_ + semitones;
    count(fit, flute, shifted);
    return fit;
  }

 private:
  std::vector<MelodyTone> tones_for(const flute::Flute& flute) const {
    std::vector<MelodyTone> tones = tones_;
    const bool has_offset = std::holds_alternative<model::FluteSize>(flute.name());
    if (options_.pitches == Pitches::sounding || !has_offset) return tones;
    for (std::size_t i = 0; i < tones.size(); ++i) {
      const auto& pitch = tone_at(score_, places_[i].place).pitch;
      if (pitch && pitch->cents == 0) *tones[i].wanted += flute.ichi().cents;
    }
    return tones;
  }

  // In the key that suits it best, so many semitones from the given one.
  std::pair<int, ShiftedMelody> in_best_key(const std::vector<MelodyTone>& tones,
                                            const std::vector<Fingerwork>& works) const {
    const auto rank = [](int semitones, const Lie& lie) {
      const int moved = 12 * lie.octave + semitones;
      return std::tuple(lie.weight, std::abs(moved), -moved);
    };
    std::optional<std::pair<int, ShiftedMelody>> best;
    for (const int semitones : kMoves) {
      ShiftedMelody shifted = in_best_octave(
          tones, works, model::kSemitoneCents * (moved_ + semitones), options_.allowed);
      if (!best || rank(semitones, shifted.lie) < rank(best->first, best->second.lie)) {
        best.emplace(semitones, std::move(shifted));
      }
      if (options_.keys == Keys::as_given) break;
    }
    return *std::move(best);
  }

  void count(Fit& fit, const flute::Flute& flute, const ShiftedMelody& shifted) const {
    const FingeredMelody& melody = shifted.melody;
    fit.notes = tones_.size();
    for (std::size_t i = 0; i < tones_.size(); ++i) {
      const auto& chosen = melody.path.chosen[i];
      if (!chosen) {
        ++fit.out_of_reach;
        continue;
      }
      const Candidate& candidate = melody.tasks[i].candidates[*chosen];
      const flute::Entry& entry = flute.entries()[candidate.entry];
      const bool half = entry.half != model::HalfHole::none;
      const bool usual = entry.kind == flute::EntryKind::half_usual;
      if (half) ++(usual ? fit.half_usual : fit.half_hard);
      if (candidate.bend_cents != 0) ++fit.bent;
      if (flute::is_loud(flute, fingering_of(flute, candidate))) ++fit.loud;
      if (!half && candidate.bend_cents == 0) ++fit.plain;
    }
    fit.effort = shifted.lie.weight;
    if (fit.notes > 0) {
      const double average = static_cast<double>(fit.effort) / static_cast<double>(fit.notes);
      fit.effort_a_note = base::rounded(average, 10);
    }
    fit.hardest = hardest_measure(score_, places_, melody.path);
  }

  const model::Score& score_;
  const RankOptions& options_;
  std::vector<TimedTone> places_ = timed_tones(score_);
  std::vector<MelodyTone> tones_;
  int moved_ = options_.move_semitones;  ///< semitones that the options ask for
};

}  // namespace

int pitch_number(int midi_key) {
  constexpr int kA = 9;
  return model::pitch_class(midi_key - kA) + 1;
}

std::vector<int> usual_sizes() {
  std::vector<int> sizes;
  for (int size = kLowestSize; size <= kHighestSize; ++size) sizes.push_back(size);
  std::sort(sizes.begin(), sizes.end(), [](int a, int b) {
    return usualness(model::FluteSize{a, 0}) < usualness(model::FluteSize{b, 0});
  });
  return sizes;
}

std::vector<flute::Flute> whole_sizes(double tuning_hz) {
  std::vector<flute::Flute> flutes;
  for (int size = kLowestSize; size <= kHighestSize; ++size) {
    flutes.push_back(flute::built_in_flute({size, 0}, tuning_hz));
  }
  return flutes;
}

std::vector<Fit> rank_flutes(const Resolved& resolved, const RankOptions& options) {
  const auto flutes = options.flutes.empty() ? whole_sizes(options.tuning_hz) : options.flutes;
  const Melody melody(resolved, options);
  std::vector<Fit> fits;
  for (const flute::Flute& flute : flutes) fits.push_back(melody.on(flute));
  const auto rank = [&](const Fit& fit) {
    const auto& owned = options.preferred;
    const bool is_owned = std::find(owned.begin(), owned.end(), fit.flute) != owned.end();
    return std::tuple(!is_owned, fit.effort_a_note, usualness(fit.flute));
  };
  std::stable_sort(fits.begin(), fits.end(),
                   [&](const Fit& a, const Fit& b) { return rank(a) < rank(b); });
  return fits;
}

}  // namespace yubifu::fingering
