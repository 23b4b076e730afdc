#include "flute/flute.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <stdexcept>
#include <string_view>

#include "base/message.h"

namespace yubifu::flute {
namespace {

// From here on every note counts as loud, in Hz; C7 is 2,093 Hz. Our choice.
constexpr double kLoudHz = 2000;

// A メ entry further than this from a semitone above the plain sign is another note.
constexpr double kFurthestFromSemitone = 50;

void require(bool condition, const char* what) {
  if (!condition) throw std::invalid_argument(what);
}

using model::HalfHole;
using model::Register;

constexpr std::size_t kHoles = 7;

struct Fingers {
  int number;
  HalfHole half;
  double cents;  // from 一, in equal temperament
  EntryKind kind;
  std::string_view pattern;
  std::string_view other = {};
};

// 一 to 七 and, an octave higher, 1 to 7. Holes are printed from the mouth end to the foot. The
// number counts the open ones from the foot; from 4 on the foot hole may stay closed to steady the
// flute. For 一 and 1 the top hole is better open (common practice).
// nメ half-closes hole n: 三メ and 七メ as on a teacher's lesson page; 二メ, 五メ and 六メ are
// inferred, without a source: the hole that the plain sign opens last, half closed alike. The foot
// hole steadies as with the plain sign. What is harder than another is our choice (EntryKind).
constexpr std::array kTwoRegisters = std::to_array<Fingers>({
    {1, HalfHole::none, 0, EntryKind::plain, "○●●●●●○", "●●●●●●○"},
    {2, HalfHole::under, 100, EntryKind::half_hard, "●●●●●◐○"},
    {2, HalfHole::none, 200, EntryKind::plain, "●●●●●○○"},
    {3, HalfHole::under, 300, EntryKind::half_usual, "●●●●◐○○"},
    {3, HalfHole::none, 400, EntryKind::plain, "●●●●○○○"},
    {4, HalfHole::none, 500, EntryKind::plain, "●●●○○○◎"},
    {5, HalfHole::under, 600, EntryKind::half_harder, "●●◐○○○◎"},
    {5, HalfHole::none, 700, EntryKind::plain, "●●○○○○◎"},
    {6, HalfHole::under, 800, EntryKind::half_harder, "●◐○○○○◎"},
    {6, HalfHole::none, 900, EntryKind::plain, "●○○○○○◎"},
    {7, HalfHole::under, 1000, EntryKind::half_usual, "◐○○○○○◎"},
    {7, HalfHole::none, 1100, EntryKind::plain, "○○○○○○◎"},
});

constexpr Fingers kTube{0, HalfHole::none, -300, EntryKind::plain, "●●●●●●●"};

// 0 is a lowered 七; overblown, the same fingers give a lowered 7 (a flute maker's primer
// on number notation).
constexpr Fingers kCross{0, HalfHole::none, 1000, EntryKind::cross, "●○●●●●●"};

// Third register: a player's public notes, 2022. Fingers above 5̇ and half holes differ from flute
// to flute, so there are none here (our choice).
constexpr std::array kThird = std::to_array<Fingers>({
    {1, HalfHole::none, 2400, EntryKind::plain, "○●●○○○●"},
    {2, HalfHole::none, 2600, EntryKind::plain, "●●○●●○○"},
    {3, HalfHole::none, 2800, EntryKind::plain, "●○●●○○○"},
    {4, HalfHole::none, 2900, EntryKind::plain, "●○●●○●○"},
    {5, HalfHole::none, 3100, EntryKind::plain, "○●○○●○○"},
});

std::vector<Entry> table() {
  std::vector<Entry> entries;
  const auto add = [&](Register in, const Fingers& row, double octave = 0) {
    entries.push_back({*model::Sign::standard(in, row.number),
                       row.half,
                       row.cents + octave,
                       in,
                       row.kind,
                       {*model::parse_hole_pattern(row.pattern)}});
    if (const auto other = model::parse_hole_pattern(row.other)) {
      entries.back().patterns.push_back(*other);
    }
  };
  add(Register::tube, kTube);
  for (const Fingers& row : kTwoRegisters) add(Register::low, row);
  add(Register::second, kCross);
  for (Fingers row : kTwoRegisters) {
    if (row.number == 7 && row.half == HalfHole::under) row.other = kCross.pattern;
    add(Register::second, row, model::kOctaveCents);
  }
  for (const Fingers& row : kThird) add(Register::third, row);
  return entries;
}

}  // namespace

model::Fingering fingering_of(const Entry& entry) {
  return {entry.sign, entry.half, 0};
}

std::string printed(const Entry& entry) {
  return model::printed(fingering_of(entry));
}

std::optional<std::size_t> find_entry(const std::vector<Entry>& entries,
                                      const model::Fingering& fingering) {
  const auto at = std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) {
    return entry.half == fingering.half && entry.sign == fingering.sign;
  });
  if (at == entries.end()) return std::nullopt;
  return static_cast<std::size_t>(at - entries.begin());
}

Flute::Flute(FluteTable table) : table_(std::move(table)) {
  require(!table_.entries.empty(), "a flute without entries");
  for (std::size_t i = 0; i < table_.entries.size(); ++i) {
    const Entry& entry = table_.entries[i];
    require(find_entry(table_.entries, fingering_of(entry)) == i, "an entry given twice");
    require(!entry.patterns.empty(), "an entry without a hole pattern");
    for (const model::HolePattern& pattern : entry.patterns) {
      require(pattern.holes.size() == table_.hole_count, "a pattern for another number of holes");
    }
  }
}

std::optional<std::size_t> Flute::find(const model::Fingering& fingering) const {
  const auto own = find_entry(table_.entries, fingering);
  if (own || fingering.half != HalfHole::over) return own;
  const auto plain = find_entry(table_.entries, {fingering.sign, HalfHole::none, 0});
  if (!plain) return std::nullopt;
  const Entry& sign = table_.entries[*plain];
  std::optional<std::size_t> nearest;
  double least = kFurthestFromSemitone;
  for (std::size_t i = 0; i < table_.entries.size(); ++i) {
    const Entry& entry = table_.entries[i];
    if (entry.half != HalfHole::under || entry.in != sign.in) continue;
    const double distance = std::abs(entry.cents - (sign.cents + model::kSemitoneCents));
    if (distance < least) {
      least = distance;
      nearest = i;
    }
  }
  return nearest;
}

double Flute::total_cents(std::size_t entry) const {
  return table_.ichi.total_cents() + table_.entries[entry].cents;
}

std::optional<double> Flute::total_cents(const model::Fingering& fingering) const {
  const auto entry = find(fingering);
  return entry ? std::optional(total_cents(*entry) + fingering.bend_cents) : std::nullopt;
}

std::optional<model::Pitch> Flute::sound(const model::Fingering& fingering) const {
  const auto cents = total_cents(fingering);
  return cents ? std::optional(model::pitch_at(*cents)) : std::nullopt;
}

BendLimit Flute::bend_limit(std::size_t entry) const {
  const auto& [low, second, third, half_hole] = table_.bend_limits;
  const Entry& bent = table_.entries[entry];
  const BendLimit& limit = bent.in == Register::third    ? third
                           : bent.in == Register::second ? second
                                                         : low;
  if (bent.half == HalfHole::none) return limit;
  return {std::min(limit.down, half_hole.down), std::min(limit.up, half_hole.up)};
}

std::vector<Reach> Flute::reaches(double total_cents) const {
  const double cents = total_cents - table_.ichi.total_cents();
  // Most entries are further away than any bends.
  const auto& [low, second, third, half_hole] = table_.bend_limits;
  const int most = std::max({low.down, low.up, second.down, second.up, third.down, third.up});
  const double furthest = std::min(most, model::kMostBendCents) + 0.5;
  std::vector<Reach> found;
  for (const Entry& entry : table_.entries) {
    const double distance = cents - entry.cents;
    if (std::abs(distance) >= furthest) continue;
    const auto index = static_cast<std::size_t>(&entry - table_.entries.data());
    const int bend = static_cast<int>(std::lround(distance));
    if (bend_limit(index).allows(bend)) found.push_back({index, bend});
  }
  return found;
}

bool is_loud(const Flute& flute, const model::Fingering& fingering) {
  const auto entry = flute.find(fingering);
  if (!entry) return false;
  if (flute.entries()[*entry].in == model::Register::third) return true;
  return model::frequency_hz(*flute.sound(fingering), flute.tuning_hz()) >= kLoudHz;
}

std::string hearing_caution() {
  return base::message(
      "high notes are loud next to the ear: for long practice use hearing protection "
      "and take breaks, follow local noise rules and a hearing professional's advice");
}

bool is_built_in(const model::FluteSize& size) {
  return size.size >= model::Rational(1) && size.size <= model::Rational(13) &&
         (size.size * 2).is_whole() && std::abs(size.cents) < 100;
}

Flute built_in_flute(const model::FluteSize& size, double a4_hz) {
  if (!is_built_in(size)) throw std::invalid_argument("no built-in flute of this size");
  const double ichi =
      model::kSemitoneCents * (model::kKeyUnderSizeOne + size.size.as_double()) + size.cents;
  return Flute({.title = to_text(model::FluteName(size)),
                .name = size,
                .ichi = model::pitch_at(ichi),
                .tuning_hz = a4_hz,
                .hole_count = kHoles,
                .concert_celsius = {},
                .bend_limits = {},
                .entries = table()});
}

}  // namespace yubifu::flute
