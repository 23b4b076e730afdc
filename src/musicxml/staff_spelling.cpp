#include "musicxml/staff_spelling.h"

namespace yubifu::musicxml {
namespace {

using model::Spelling;
using model::Step;

constexpr int kOctave = 12;
constexpr int kFSharp = 6;
constexpr std::array<int, 7> kScale{0, 2, 4, 5, 7, 9, 11};

int floor_div(int value, int by) {
  return value / by - (value % by < 0 ? 1 : 0);
}

int pitch_class(int key) {
  return key - kOctave * floor_div(key, kOctave);
}

Spelling in_octave_of(int staff_key, Step step, int alter) {
  const int natural = kScale[static_cast<std::size_t>(step)];
  return {step, alter, floor_div(staff_key - alter - natural, kOctave) - 1};
}

}  // namespace

StaffSpelling::StaffSpelling(model::StaffMode mode, const model::Key& key) : mode_(mode) {
  // In C every black key is a flat, as in any flat key; in sharp keys one of them is F sharp.
  constexpr model::Key kFlats{-1, model::Mode::major};
  for (int i = 0; i < kOctave; ++i) {
    const bool flat = mode == model::StaffMode::in_c && (i != kFSharp || key.fifths <= 0);
    const Spelling name = model::spell_in_key(5 * kOctave + i, flat ? kFlats : key);
    names_[static_cast<std::size_t>(i)] = {name.step, name.alter};
  }
}

Spelling StaffSpelling::spell(const model::Tone& tone, int staff_key) const {
  const Name& usual = names_[static_cast<std::size_t>(pitch_class(staff_key))];
  if (mode_ == model::StaffMode::sounding) {
    const bool fits = tone.spelling && model::midi_key(*tone.spelling) == staff_key;
    return fits ? *tone.spelling : in_octave_of(staff_key, usual.step, usual.alter);
  }
  if (tone.fingering && tone.fingering->half == model::HalfHole::over && usual.alter == -1) {
    const Name& below = names_[static_cast<std::size_t>(pitch_class(staff_key - 1))];
    return in_octave_of(staff_key, below.step, 1);
  }
  return in_octave_of(staff_key, usual.step, usual.alter);
}

}  // namespace yubifu::musicxml
