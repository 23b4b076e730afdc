// How the staff shows the pitches: mode, clef, key and transposition, from place to place.
#pragma once

#include <optional>

#include "model/score.h"
#include "musicxml/staff_spelling.h"
#include "musicxml/transposition.h"
#include "musicxml/writer.h"

namespace yubifu::musicxml {

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
  StaffSpelling spelling_;
};

}  // namespace yubifu::musicxml
