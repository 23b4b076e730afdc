#include "support/small_score.h"

namespace yubifu::support {

model::Tone low_tone(int number) {
  model::Tone tone;
  tone.fingering = model::Fingering{};
  tone.fingering->sign = model::Sign::standard(model::Register::low, number);
  return tone;
}

model::Score small_score(std::size_t measures) {
  model::Score score;
  for (std::size_t i = 0; i < measures; ++i) {
    model::Measure measure;
    measure.length = 4;
    score.measures.push_back(measure);
    for (int beat = 0; beat < 4; ++beat) {
      model::Note note;
      note.measure = i;
      note.onset = beat;
      note.duration = 1;
      note.tone = low_tone(3);
      score.notes.push_back(note);
    }
  }
  model::number_measures(score);
  return score;
}

}  // namespace yubifu::support
