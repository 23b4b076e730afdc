#include "bench/bench_score.h"

#include <array>
#include <utility>
#include <vector>

#include "fingering/resolve.h"

namespace yubifu::bench {
namespace {

using model::Rational;

struct Value {
  Rational onset;
  Rational duration;
};

// The third of the four bars holds its last note into the fourth.
const std::array<std::vector<Value>, 4>& bar_rhythms() {
  static const std::array<std::vector<Value>, 4> rhythms{{
      {{0, 1}, {1, 1}, {2, 1}, {3, 1}},
      {{0, {1, 2}}, {{1, 2}, {1, 2}}, {1, {3, 2}}, {{5, 2}, {1, 2}}, {3, 1}},
      {{0, {1, 3}}, {{1, 3}, {1, 3}}, {{2, 3}, {1, 3}}, {1, 1}, {2, {1, 4}}, {{9, 4}, {3, 4}}},
      {{{1, 2}, {1, 2}}, {1, 1}, {2, {1, 2}}, {{5, 2}, {1, 2}}, {3, 1}},
  }};
  return rhythms;
}

model::Fingering fingering_of(std::size_t note) {
  constexpr std::array<int, 9> kNumbers{3, 3, 5, 6, 7, 6, 5, 2, 4};
  constexpr std::size_t kSecondRegisterEvery = 5;
  constexpr std::size_t kHalfHoleEvery = 23;
  constexpr std::size_t kBendEvery = 50;
  const bool half = note % kHalfHoleEvery == 0;
  const auto in = note % kSecondRegisterEvery == 0 ? model::Register::second : model::Register::low;
  model::Fingering fingering;
  fingering.sign = model::Sign::standard(in, half ? 3 : kNumbers[note % kNumbers.size()]);
  if (half) fingering.half = model::HalfHole::under;
  if (note % kBendEvery == 0) fingering.bend_cents = -20;
  return fingering;
}

model::Note note_of(std::size_t number, std::size_t measure, const Value& value) {
  constexpr std::size_t kAccentEvery = 17;
  constexpr std::size_t kSlurEvery = 11;
  model::Note note;
  note.measure = measure;
  note.onset = value.onset;
  note.duration = value.duration;
  note.tone.fingering = fingering_of(number);
  if (number % kAccentEvery == 0) note.marks.push_back(model::Mark::accent);
  note.slur_to_next = number % kSlurEvery == 0;
  return note;
}

}  // namespace

model::Score bench_score(std::size_t notes) {
  model::Score score;
  score.header.title = "Measured Tune";
  score.header.flute = model::FluteSize{6, 0};
  score.header.meter = {4, 4};
  while (score.notes.size() < notes) {
    const std::size_t bar = score.measures.size();
    model::Measure measure;
    measure.meter = score.header.meter;
    measure.length = 4;
    for (const Value& value : bar_rhythms()[bar % bar_rhythms().size()]) {
      score.notes.push_back(note_of(score.notes.size(), bar, value));
    }
    score.measures.push_back(std::move(measure));
    const bool held_over = bar % bar_rhythms().size() == 2 && score.notes.size() < notes;
    if (held_over) score.notes.back().duration += Rational(1, 2);
  }
  score.notes.back().slur_to_next = false;
  model::number_measures(score);
  return std::move(fingering::resolve(std::move(score), {}).value->score);
}

}  // namespace yubifu::bench
