// What <attributes> say for one staff, as it comes: meters, keys, transpositions. Shows pugixml.
#pragma once

#include <string_view>
#include <vector>

#include "model/meter.h"
#include "model/pitch.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/remarks.h"
#include "musicxml/transposition.h"

namespace yubifu::musicxml {

/// A value from a place on.
template <typename Value>
struct From {
  Moment at;
  Value value;
};

/// A `<transpose>`. Without `<diatonic>` the steps are those that give the key few signs.
struct StaffTransposition {
  Transposition steps;
  double cents = 0;  ///< what is left of a chromatic value that is no whole number

  friend bool operator==(const StaffTransposition&, const StaffTransposition&) = default;
};

/// The sounding pitch of a written one.
struct SoundingPitch {
  model::Pitch pitch;
  model::Spelling spelling;
};

struct StaffAttributes {
  std::vector<From<model::Meter>> meters;  ///< each from the start of a measure on
  std::vector<From<model::Key>> keys;      ///< sounding, only where they change
  std::vector<From<StaffTransposition>> transpositions;
  Remarks remarks;

  /// How a note sounds that is written at a place, by the transposition and the key there.
  SoundingPitch sounding(const WrittenPitch& written, const Moment& at) const;
};

/// What holds for a staff (from 1): elements without a number or with that one.
StaffAttributes read_attributes(const PartEvents& part, int staff, std::string_view text);

}  // namespace yubifu::musicxml
