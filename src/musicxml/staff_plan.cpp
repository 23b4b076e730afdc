#include "musicxml/staff_plan.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "musicxml/key_choice.h"

namespace yubifu::musicxml {
namespace {

using model::Key;
using model::StaffMode;

constexpr int kWrittenC = 60;
constexpr int kFSharpClass = 6;
constexpr double kSemitone = 100;
constexpr double kRounding = 0.001;  // cents

// Places on the staff count letters from C0. The lines of the treble clef go from E4 to F5.
constexpr int kLowestLine = 7 * 4 + 2;
constexpr int kHighestLine = 7 * 5 + 3;
constexpr int kStepsOfOctave = 7;

const model::FluteInUse& flute_at(const model::Score& score, std::size_t measure) {
  return score.flutes[model::flute_index(score, measure)];
}

// The key of the pitch that the flute would have if it lay on a size; of two equally near, as a gap
// has them on a half size, the one that sounds. A flute file has no sizes; sounding, it is written
// as it sounds.
int key_without_offset(const model::Tone& tone, const model::FluteInUse& flute, StaffMode mode) {
  const bool has_size = std::holds_alternative<model::FluteSize>(flute.name);
  const int sounding = tone.pitch->key;
  if (flute.ichi.cents == 0 || (mode == StaffMode::sounding && !has_size)) return sounding;
  const double cents = tone.pitch->total_cents() - flute.ichi.cents;
  if (std::abs(cents - kSemitone * sounding) < kSemitone / 2 + kRounding) return sounding;
  return model::pitch_at(cents).key;
}

int ledger_lines(int place) {
  if (place < kLowestLine) return (kLowestLine - place) / 2;
  if (place > kHighestLine) return (place - kHighestLine) / 2;
  return 0;
}

// The notes before the first key that is named in the music.
std::size_t notes_before_named_key(const model::Score& score) {
  const auto named = std::find_if(
      score.directions.begin(), score.directions.end(), [](const model::Direction& direction) {
        return std::holds_alternative<model::KeyChange>(direction.value);
      });
  if (named == score.directions.end()) return score.notes.size();
  const auto after =
      std::partition_point(score.notes.begin(), score.notes.end(), [&](const model::Note& note) {
        return note.measure < named->measure ||
               (note.measure == named->measure && note.onset < named->onset);
      });
  return static_cast<std::size_t>(after - score.notes.begin());
}

Key find_key(const model::Score& score, StaffMode mode) {
  PitchCount count;
  const StaffSpelling in_c(StaffMode::in_c, {});
  const std::size_t notes = notes_before_named_key(score);
  for (std::size_t i = 0; i < notes; ++i) {
    const model::Note& note = score.notes[i];
    const model::Tone& tone = note.tone;
    const model::FluteInUse& flute = flute_at(score, note.measure);
    int key = key_without_offset(tone, flute, mode);
    if (mode == StaffMode::sounding) {
      const bool spelled = tone.spelling && model::midi_key(*tone.spelling) == key;
      spelled ? count.add_spelled(*tone.spelling) : count.add_key(key);
      continue;
    }
    key -= flute.ichi.key - kWrittenC;
    const bool by_key = model::pitch_class(key) == kFSharpClass;
    by_key ? count.add_key(key) : count.add_spelled(in_c.spell(tone, key));
  }
  return {count.best_key(), model::Mode::major};
}

Clef choose_clef(const model::Score& score) {
  std::int64_t plain = 0;
  std::int64_t octave = 0;
  for (const model::Note& note : score.notes) {
    const model::FluteInUse& flute = flute_at(score, note.measure);
    const int key = key_without_offset(note.tone, flute, StaffMode::sounding);
    const model::Spelling spelling = model::spell_in_key(key, {});
    const int place = kStepsOfOctave * spelling.octave + static_cast<int>(spelling.step);
    plain += ledger_lines(place);
    octave += ledger_lines(place - kStepsOfOctave);
  }
  return octave < plain ? Clef::treble8 : Clef::treble;
}

Leaning leaning_of(const Key& sounding) {
  if (sounding.fifths == 0) return Leaning::usual;
  return sounding.fifths > 0 ? Leaning::sharps : Leaning::flats;
}

// The transposition that gives a written key the sounding key with the fewest signs.
Transposition for_written_key(int ichi_key, const Key& written) {
  Transposition best = transposition_to(ichi_key, Leaning::usual);
  for (const Leaning leaning : {Leaning::sharps, Leaning::flats}) {
    const Transposition other = transposition_to(ichi_key, leaning);
    const bool fewer =
        std::abs(written.fifths + other.fifths()) < std::abs(written.fifths + best.fifths());
    if (fewer) best = other;
  }
  return best;
}

}  // namespace

StaffPlan plan_staff(const model::Score& score, const MusicXmlWriteOptions& options) {
  StaffPlan plan;
  plan.mode = options.staff.value_or(score.header.staff.value_or(StaffMode::in_c));
  if (plan.mode == StaffMode::sounding) {
    plan.clef = options.clef ? *options.clef : choose_clef(score);
  }
  if (!score.header.key) plan.found_key = find_key(score, plan.mode);
  return plan;
}

StaffState::StaffState(const model::Score& score, const StaffPlan& plan)
    : score_(score),
      plan_(plan),
      flute_(&flute_at(score, 0)),
      named_(score.header.key),
      key_(plan.found_key),
      spelling_(plan.mode, key_) {
  settle();
}

void StaffState::change_flute(std::size_t measure) {
  flute_ = &flute_at(score_, measure);
  settle();
}

void StaffState::change_key(const Key& sounding) {
  named_ = sounding;
  key_ = written_key(sounding, transposition_);
  spelling_ = StaffSpelling(plan_.mode, key_);
}

void StaffState::settle() {
  if (plan_.mode == StaffMode::in_c) {
    const int ichi = flute_->ichi.key;
    transposition_ =
        named_ ? transposition_to(ichi, leaning_of(*named_)) : for_written_key(ichi, key_);
  }
  if (named_) key_ = written_key(*named_, transposition_);
  spelling_ = StaffSpelling(plan_.mode, key_);
}

StaffPitch StaffState::pitch(const model::Tone& tone) const {
  const double offset = plan_.mode == StaffMode::in_c ? flute_->ichi.cents : 0;
  const double shown = tone.pitch->total_cents() - offset;
  const int key = key_without_offset(tone, *flute_, plan_.mode);
  return {spelling_.spell(tone, key - transposition_.semitones()), shown - kSemitone * key};
}

int StaffState::key_of(const model::Tone& tone) const {
  return key_without_offset(tone, *flute_, plan_.mode) - transposition_.semitones();
}

}  // namespace yubifu::musicxml
