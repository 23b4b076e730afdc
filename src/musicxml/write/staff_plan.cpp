#include "musicxml/write/staff_plan.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <tuple>

#include "base/findings.h"
#include "base/message.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml {
namespace {

// The place of each letter on the circle of fifths, C being 0.
constexpr std::array<int, 7> kFifths{0, 2, 4, -1, 1, 3, 5};

using model::Key;
using model::pitch_class;
using model::Spelling;
using model::StaffMode;

constexpr int kFSharp = 6;

}  // namespace

void PitchCount::add_spelled(const Spelling& spelling) {
  const int alter = std::clamp(spelling.alter, -kMostAlter, kMostAlter);
  const int fifth = kFifths[static_cast<std::size_t>(spelling.step)] + 7 * alter;
  ++spelled_[static_cast<std::size_t>(fifth - kLowestFifth)];
  last_ = pitch_class(model::midi_key(spelling));
}

void PitchCount::add_key(int staff_key) {
  last_ = pitch_class(staff_key);
  ++keys_[static_cast<std::size_t>(*last_)];
}

std::size_t PitchCount::accidentals(int fifths) const {
  // Seven neighbours on the circle of fifths are a scale: F to B in C major.
  const int first = fifths - 1;
  const int last = fifths + 5;
  std::size_t count = 0;
  for (std::size_t i = 0; i < spelled_.size(); ++i) {
    const int fifth = static_cast<int>(i) + kLowestFifth;
    if (fifth < first || fifth > last) count += spelled_[i];
  }
  // The other five are all keys that the scale lacks.
  for (int fifth = last + 1; fifth < first + kOctaveKeys; ++fifth) {
    count += keys_[static_cast<std::size_t>(pitch_class(7 * fifth))];
  }
  return count;
}

int PitchCount::best_key() const {
  using Weight = std::tuple<std::size_t, int, int, int>;
  int best = 0;
  std::optional<Weight> least;
  for (int fifths = -kMostSigns; fifths <= kMostSigns; ++fifths) {
    // La is three fifths above do.
    const bool ends_home =
        last_ == pitch_class(7 * fifths) || last_ == pitch_class(7 * (fifths + 3));
    const Weight weight{accidentals(fifths), ends_home ? 0 : 1, std::abs(fifths),
                        fifths < 0 ? 1 : 0};
    if (least && *least <= weight) continue;
    least = weight;
    best = fifths;
  }
  return best;
}

namespace {

// The name of each pitch class on a staff in this key. In C every black key is a flat, as in any
// flat key; in sharp keys one of them is F sharp.
std::array<Spelling, 12> names_in(StaffMode mode, const Key& key) {
  constexpr Key kFlats{-1, model::Mode::major};
  std::array<Spelling, 12> names;
  for (int i = 0; i < kOctaveKeys; ++i) {
    const bool flat = mode == StaffMode::in_c && (i != kFSharp || key.fifths <= 0);
    names[static_cast<std::size_t>(i)] =
        model::spell_in_key(5 * kOctaveKeys + i, flat ? kFlats : key);
  }
  return names;
}

// A tone that stands at a MIDI key of the staff. In C a half-holed note is its sign's letter
// flattened, whatever the key, but for F sharp in sharp keys; a sign with カ is its letter raised.
// Sounding, a tone's own spelling counts, otherwise the key.
Spelling spelled(StaffMode mode, const std::array<Spelling, 12>& names, const model::Tone& tone,
                 int staff_key) {
  const auto name_of = [&](int key) { return names[static_cast<std::size_t>(pitch_class(key))]; };
  Spelling name = name_of(staff_key);
  if (mode == StaffMode::sounding) {
    if (tone.spelling && model::midi_key(*tone.spelling) == staff_key) return *tone.spelling;
  } else if (tone.fingering && tone.fingering->half == model::HalfHole::over && name.alter == -1) {
    name = {name_of(staff_key - 1).step, 1, 0};
  }
  const int above = staff_key - model::midi_key({name.step, name.alter, 0});
  return {name.step, name.alter, above / kOctaveKeys};
}

constexpr double kRounding = 0.001;  // cents

// A tone further than this from the tempered scale that begins with 一 is not what the staff
// shows, in cents. Flutes tuned by pure fifths stay within it.
constexpr double kMostFromTempered = 25;

// Places on the staff count letters from C0. The lines of the treble clef go from E4 to F5.
constexpr int kLowestLine = 7 * 4 + 2;
constexpr int kHighestLine = 7 * 5 + 3;

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
  if (std::abs(cents - model::kSemitoneCents * sounding) < model::kSemitoneCents / 2.0 + kRounding)
    return sounding;
  return model::pitch_at(cents).key;
}

int ledger_lines(int place) {
  return std::max({kLowestLine - place, place - kHighestLine, 0}) / 2;
}

// The key that suits the notes before the first one that is named in the music.
Key find_key(const model::Score& score, StaffMode mode) {
  PitchCount count;
  const auto in_c = names_in(StaffMode::in_c, {});
  const auto named = std::find_if(
      score.directions.begin(), score.directions.end(), [](const model::Direction& direction) {
        return std::holds_alternative<model::KeyChange>(direction.value);
      });
  for (const model::Note& note : score.notes) {
    const bool in_named_key =
        named != score.directions.end() &&
        std::tie(note.measure, note.onset) >= std::tie(named->measure, named->onset);
    if (in_named_key) break;
    const model::Tone& tone = note.tone;
    const model::FluteInUse& flute = flute_at(score, note.measure);
    int key = key_without_offset(tone, flute, mode);
    if (mode == StaffMode::sounding) {
      const bool is_spelled = tone.spelling && model::midi_key(*tone.spelling) == key;
      is_spelled ? count.add_spelled(*tone.spelling) : count.add_key(key);
      continue;
    }
    key -= flute.ichi.key - kWrittenC;
    const bool by_key = pitch_class(key) == kFSharp;
    by_key ? count.add_key(key) : count.add_spelled(spelled(StaffMode::in_c, in_c, tone, key));
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
    const int place = kOctaveSteps * spelling.octave + static_cast<int>(spelling.step);
    plain += ledger_lines(place);
    octave += ledger_lines(place - kOctaveSteps);
  }
  return octave < plain ? Clef::treble8 : Clef::treble;
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
  if (plan.mode == StaffMode::sounding) plan.clef = options.clef.value_or(choose_clef(score));
  if (!score.header.key) plan.found_key = find_key(score, plan.mode);
  return plan;
}

StaffState::StaffState(const model::Score& score, const StaffPlan& plan)
    : score_(score),
      plan_(plan),
      flute_(&flute_at(score, 0)),
      named_(score.header.key),
      key_(plan.found_key) {
  settle();
}

void StaffState::change_flute(std::size_t measure) {
  flute_ = &flute_at(score_, measure);
  settle();
}

void StaffState::change_key(const Key& sounding) {
  named_ = sounding;
  key_ = written_key(sounding, transposition_);
  names_ = names_in(plan_.mode, key_);
}

void StaffState::settle() {
  if (plan_.mode == StaffMode::in_c) {
    const int ichi = flute_->ichi.key;
    transposition_ =
        named_ ? transposition_to(ichi, static_cast<Leaning>(std::clamp(named_->fifths, -1, 1)))
               : for_written_key(ichi, key_);
  }
  if (named_) key_ = written_key(*named_, transposition_);
  names_ = names_in(plan_.mode, key_);
}

StaffPitch StaffState::pitch(const model::Tone& tone) const {
  const double offset = plan_.mode == StaffMode::in_c ? flute_->ichi.cents : 0;
  const double shown = tone.pitch->total_cents() - offset;
  const int key = key_without_offset(tone, *flute_, plan_.mode);
  return {spelled(plan_.mode, names_, tone, key - transposition_.semitones()),
          shown - model::kSemitoneCents * key};
}

int StaffState::key_of(const model::Tone& tone) const {
  return key_without_offset(tone, *flute_, plan_.mode) - transposition_.semitones();
}

base::Diagnostics tell_tempered(const model::Score& score) {
  base::Finding between;
  for (const model::Note& note : score.notes) {
    const model::FluteInUse& flute = flute_at(score, note.measure);
    const auto is_between = [&](const model::Tone& tone) {
      if (!tone.pitch || !tone.fingering || tone.fingering->is_gap()) return false;
      const double from_ichi =
          tone.pitch->total_cents() - tone.fingering->bend_cents - flute.ichi.total_cents();
      return std::abs(std::remainder(from_ichi, model::kSemitoneCents)) > kMostFromTempered;
    };
    if (!any_tone(note, is_between)) continue;
    if (between.count == 0) {
      between.told = base::report(
          rule::nearest_tempered, std::nullopt,
          base::message("the flute {} plays notes between those of a staff, which shows the "
                        "nearest tempered ones; its fingering is what counts",
                        flute.title),
          base::message("--alter exact writes the decimals; MIDI has the true pitches"));
    }
    between.add(note.measure);
  }
  base::Diagnostics found;
  base::tell(found, std::move(between), model::BarNumbers{score});
  return found;
}

}  // namespace yubifu::musicxml
