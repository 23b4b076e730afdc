// A flute: its table of fingerings and the pitch of 一. Everything that depends on the instrument
// in the player's hand is asked here.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "model/fingering.h"
#include "model/flute_name.h"
#include "model/pitch.h"

namespace yubifu::flute {

/// What an entry asks of the fingers. The grades of half holes are our choice.
enum class EntryKind {
  plain,        ///< holes open or closed in order
  cross,        ///< closed holes under an open one: 0
  half_usual,   ///< a half hole that every player uses: 三メ 七メ 3メ 7メ
  half_harder,  ///< a half hole that wants practice: 五メ 六メ 5メ 6メ
  half_hard,    ///< a half hole that seldom speaks at once: 二メ 2メ
};

/// One sign of a flute, with or without a half hole: what it sounds and which holes it closes.
struct Entry {
  model::Sign sign;
  model::HalfHole half = model::HalfHole::none;
  double cents = 0;                           ///< from 一
  model::Register in = model::Register::low;  ///< decides bend limits and register breaks
  EntryKind kind = EntryKind::plain;
  std::vector<model::HolePattern> patterns;  ///< in order of preference, at least one
};

/// Sign and half hole, without a bend: 三 or 三メ.
model::Fingering fingering_of(const Entry& entry);
std::string printed(const Entry& entry);
/// The entry of a sign with a half hole itself; the bend is not looked at. Nothing for a gap.
std::optional<std::size_t> find_entry(const std::vector<Entry>& entries,
                                      const model::Fingering& fingering);

/// How far a note bends by turning the flute, in cents; both are distances, not signed.
struct BendLimit {
  int down = 0;
  int up = 0;

  /// True for a bend (lowered is negative) within the limit.
  bool allows(int bend_cents) const { return -down <= bend_cents && bend_cents <= up; }
  friend bool operator==(const BendLimit&, const BendLimit&) = default;
};

/// The limits of a flute by register; entries with a half hole have their own, in the third
/// register the narrower of the two. The defaults are our choice, not a measurement.
struct BendLimits {
  BendLimit low{50, 30};  ///< the tube tone too
  BendLimit second{50, 30};
  BendLimit third{30, 20};
  BendLimit half_hole{30, 20};
  friend bool operator==(const BendLimits&, const BendLimits&) = default;
};

/// What a flute is made from. Nothing here supposes seven holes, the standard signs or a second
/// register that is an exact octave.
struct FluteTable {
  std::string title;  ///< how people call it: "6"
  model::FluteName name = model::kDefaultFluteSize;
  model::Pitch ichi;  ///< the sounding pitch of 一, from which the entries count
  double tuning_hz = model::kConcertPitchHz;  ///< A4, to which `ichi` refers
  std::size_t hole_count = 0;
  std::optional<double> concert_celsius;  ///< measured pitches were brought to it; none: as read
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
  std::optional<double> concert_celsius() const { return table_.concert_celsius; }
  const BendLimits& bend_limits() const { return table_.bend_limits; }
  const std::vector<Entry>& entries() const { return table_.entries; }

  /// The entry by which a fingering is played, whatever its bend; nothing for a gap and for what
  /// the table does not hold. カ without an entry of its own is the メ entry of its register that
  /// is nearest to a semitone above the plain sign, by less than a quarter tone (一カ is 二メ).
  std::optional<std::size_t> find(const model::Fingering& fingering) const;

  /// What a fingering sounds, bend included, in cents from MIDI key 0 at this flute's tuning.
  /// Nothing for a gap and for what the table does not hold. Bend limits are not looked at.
  std::optional<double> total_cents(const model::Fingering& fingering) const;
  std::optional<model::Pitch> sound(const model::Fingering& fingering) const;
  /// What an entry sounds without a bend.
  double total_cents(std::size_t entry) const;

  /// How far an entry bends.
  BendLimit bend_limit(std::size_t entry) const;

  /// The entries that reach a pitch (cents from MIDI key 0) within their bend limits, in the order
  /// of the table, with bends in whole cents. カ without an entry of its own is never among them.
  std::vector<Reach> reaches(double total_cents) const;

 private:
  FluteTable table_;
};

/// True for a note whose practice calls for the caution: of the third register, or at 2,000 Hz and
/// more (our choice), bend included. Never for a gap or what the table does not hold.
bool is_loud(const Flute& flute, const model::Fingering& fingering);
/// The one short caution given wherever a result holds loud notes.
std::string hearing_caution();

/// True for the sizes 1, 1.5, 2 … 13 with an offset of less than a semitone.
bool is_built_in(const model::FluteSize& size);

/// The flute of a size at a tuning of A4. Sizes are a semitone apart; 一 is F4 on size 1, C5 on
/// size 8 (Japanese Wikipedia, 篠笛); half sizes between them and size 13 an octave over size 1
/// are our choice. Throws std::invalid_argument for a size that is not built in.
Flute built_in_flute(const model::FluteSize& size, double a4_hz);

}  // namespace yubifu::flute
