// A flute: its table of fingerings and the pitch of 一. Everything that depends on the instrument
// in the player's hand is asked here.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "flute/entry.h"
#include "model/fingering.h"
#include "model/flute_name.h"
#include "model/pitch.h"
#include "model/tuning.h"

namespace yubifu::flute {

/// What a flute is made from. Nothing here supposes seven holes, the standard signs or a second
/// register that is an exact octave.
struct FluteTable {
  std::string title;  ///< how people call it: "6"
  model::FluteName name = model::kDefaultFluteSize;
  model::Pitch ichi;  ///< the sounding pitch of 一, from which the entries count
  double tuning_hz = model::kConcertPitchHz;  ///< A4, to which `ichi` refers
  std::size_t hole_count = 0;
  BendLimits bend_limits;
  std::vector<Entry> entries;  ///< in the order in which charts and messages list them
};

/// An entry that reaches a pitch, and the bend it needs.
struct Reach {
  std::size_t entry = 0;  ///< index into Flute::entries()
  int bend_cents = 0;

  friend bool operator==(const Reach&, const Reach&) = default;
};

/// A table that is sound: at least one entry, no sign with the same half hole twice, and every
/// pattern with one hole for each of the flute's.
class Flute {
 public:
  /// Throws std::invalid_argument for a table that is not sound.
  explicit Flute(FluteTable table);

  // As in FluteTable.
  const std::string& title() const { return table_.title; }
  const model::FluteName& name() const { return table_.name; }
  const model::Pitch& ichi() const { return table_.ichi; }
  double tuning_hz() const { return table_.tuning_hz; }
  std::size_t hole_count() const { return table_.hole_count; }
  const BendLimits& bend_limits() const { return table_.bend_limits; }
  const std::vector<Entry>& entries() const { return table_.entries; }

  /// The entry that sounds and fingers a sign with a half hole; the bend is not looked at.
  /// カ without an entry of its own is the メ entry of its register that lies nearest to a
  /// semitone above the plain sign, less than a quarter tone from it (一カ is 二メ). Nothing for a
  /// gap and for what the table does not hold.
  std::optional<std::size_t> find(const model::Fingering& fingering) const;

  /// What a fingering sounds, bend included, in cents from MIDI key 0 at this flute's tuning.
  /// Nothing for a gap and for what the table does not hold. Bend limits are not looked at.
  std::optional<double> total_cents(const model::Fingering& fingering) const;

  /// The same as a pitch.
  std::optional<model::Pitch> sound(const model::Fingering& fingering) const;

  /// What an entry sounds without a bend, in cents from MIDI key 0.
  double total_cents(std::size_t entry) const;

  /// How far an entry bends.
  BendLimit bend_limit(std::size_t entry) const;

  /// The entries that reach a pitch (cents from MIDI key 0) within their bend limits, in the
  /// order of the table. Bends are rounded to whole cents. カ without an entry of its own is
  /// never among them.
  std::vector<Reach> reaches(double total_cents) const;

 private:
  using Key = std::pair<model::Sign, model::HalfHole>;

  FluteTable table_;
  std::map<Key, std::size_t> by_sign_;
  std::vector<std::size_t> by_pitch_;  ///< entry indexes, lowest first
};

}  // namespace yubifu::flute
