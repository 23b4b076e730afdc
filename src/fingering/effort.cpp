#include "fingering/effort.h"

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <variant>

namespace yubifu::fingering {
namespace {

using model::Hole;

// How far a finger is down.
int depth(Hole hole) {
  return hole == Hole::closed ? 2 : hole == Hole::half ? 1 : 0;
}

// The tube tone is breathed like the low register.
int breath(model::Register in) {
  return in == model::Register::third ? 2 : in == model::Register::second ? 1 : 0;
}

}  // namespace

int haste(double seconds) {
  // Times are differences of sums, so a beat at 80 may come out a trifle under 0.75.
  constexpr double kSlack = 1e-6;
  if (seconds <= 0.08 + kSlack) return 5;  // ornaments
  if (seconds <= 0.15 + kSlack) return 4;  // sixteenths at 100
  if (seconds <= 0.30 + kSlack) return 3;  // eighths at 100
  return seconds < 0.75 - kSlack ? 2 : 1;  // a beat at 80 is unhurried
}

Stretch stretch_of(const model::FluteName& flute) {
  const auto* size = std::get_if<model::FluteSize>(&flute);
  if (size && size->size < model::Rational(3)) return Stretch::long_flute;
  if (size && size->size > model::Rational(10)) return Stretch::short_flute;
  return Stretch::none;
}

NoteEffort note_effort(const EffortTable& table, const flute::Entry& entry, std::size_t pattern,
                       int bend_cents) {
  NoteEffort effort;
  const std::vector<Hole>& holes = entry.patterns[pattern].holes;
  const bool half = std::find(holes.begin(), holes.end(), Hole::half) != holes.end();
  const bool third = entry.in == model::Register::third;
  if (half) {
    effort.half_hole = entry.kind == flute::EntryKind::half_usual    ? table.half_hole_usual
                       : entry.kind == flute::EntryKind::half_harder ? table.half_hole_harder
                       : entry.kind == flute::EntryKind::half_hard   ? table.half_hole_hard
                                                                     : 0;
  } else if (entry.kind == flute::EntryKind::cross || entry.half != model::HalfHole::none) {
    effort.cross_fingering = table.cross_fingering;
  }
  effort.bend = table.bend_per_five_cents * ((std::abs(bend_cents) + 4) / 5);
  if (third) effort.third_register = table.third_register;
  if (table.avoid_half_holes && half) effort.avoided += table.avoided;
  if (table.avoid_bends && bend_cents != 0) effort.avoided += table.avoided;
  if (table.avoid_third_register && third) effort.avoided += table.avoided;
  if (table.avoid_cross_fingering && entry.kind == flute::EntryKind::cross) {
    effort.avoided += table.avoided;
  }
  return effort;
}

ChangeEffort change_effort(const EffortTable& table, const flute::Entry& from,
                           std::size_t from_pattern, const flute::Entry& to, std::size_t to_pattern,
                           int haste) {
  const auto& before = from.patterns[from_pattern].holes;
  const auto& after = to.patterns[to_pattern].holes;
  int lifting = 0;
  int closing = 0;
  for (std::size_t i = 0; i < before.size(); ++i) {
    // A finger that steadies may be down or up already.
    if (before[i] == Hole::steadying || after[i] == Hole::steadying) continue;
    if (depth(after[i]) < depth(before[i])) ++lifting;
    if (depth(after[i]) > depth(before[i])) ++closing;
  }
  ChangeEffort effort;
  effort.haste = haste;
  effort.fingers = table.moved_finger * (lifting + closing);
  effort.crossing = table.crossing_pair * std::min(lifting, closing);
  effort.register_break = table.register_break * std::abs(breath(to.in) - breath(from.in));
  return effort;
}

}  // namespace yubifu::fingering
