// How the staff shows the pitches: mode, clef, key, spelling and transposition, from place to
// place; and what it cannot show.
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "base/diagnostic.h"
#include "model/pitch.h"
#include "model/score.h"
#include "musicxml/transposition.h"
#include "musicxml/write/writer.h"

namespace yubifu::musicxml {

/// How often each pitch stands on the staff, by spelling where one is fixed, otherwise by pitch
/// class.
class PitchCount {
 public:
  /// A note whose spelling does not depend on the key.
  void add_spelled(const model::Spelling& spelling);

  /// A note that takes the name that the key gives it.
  void add_key(int staff_key);

  /// The notes that a key signature does not cover.
  std::size_t accidentals(int fifths) const;

  /// The key that needs the fewest accidentals; of equals the one whose do or la is the last
  /// note, then the one with fewer signs, then sharps. C without notes.
  int best_key() const;

 private:
  static constexpr int kMostAlter = 2;
  static constexpr int kLowestFifth = -15;  // F double flat, on the circle of fifths from C

  std::array<std::size_t, 35> spelled_{};  // from there to B double sharp
  std::array<std::size_t, 12> keys_{};
  std::optional<int> last_;  // pitch class of the last note
};

/// What holds for the whole score.
struct StaffPlan {
  model::StaffMode mode = model::StaffMode::in_c;
  Clef clef = Clef::treble;
  model::Key found_key;  ///< on the staff, for the music before the first key that is named
};

/// The score needs a flute at its start.
StaffPlan plan_staff(const model::Score& score, const MusicXmlWriteOptions& options);

/// A pitch as it stands on the staff.
struct StaffPitch {
  model::Spelling spelling;
  double cents = 0;  ///< over the spelled semitone, as exact alterations tell it
};

/// The staff at one place of the score; whoever walks the score tells it what comes.
class StaffState {
 public:
  StaffState(const model::Score& score, const StaffPlan& plan);

  const Transposition& transposition() const { return transposition_; }
  const model::Key& key() const { return key_; }

  /// True when the key was named and not found, so that its mode is known.
  bool key_is_named() const { return named_.has_value(); }

  const model::FluteInUse& flute() const { return *flute_; }

  /// The flute changes at the start of a measure.
  void change_flute(std::size_t measure);

  /// Another sounding key.
  void change_key(const model::Key& sounding);

  /// The tone must have a pitch. A flute that lies between the sizes is written as the nearest
  /// one, so that its plain notes and the bends from them stand on their own lines.
  StaffPitch pitch(const model::Tone& tone) const;

  /// The MIDI key that the staff shows, before transposition.
  int key_of(const model::Tone& tone) const;

 private:
  void settle();

  const model::Score& score_;
  StaffPlan plan_;
  const model::FluteInUse* flute_;
  std::optional<model::Key> named_;  // the sounding key in force
  model::Key key_;
  Transposition transposition_;
  std::array<model::Spelling, 12> names_;  // of each pitch class, in any octave
};

/// One warning, `nearest-tempered`, for a score whose flute plays notes between those of the staff;
/// it names the measures. Bends that the fingering tells do not count, nor does a flute that lies
/// higher or lower as a whole.
base::Diagnostics tell_tempered(const model::Score& score);

}  // namespace yubifu::musicxml
