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

BendLimit of_register(const BendLimits& limits, model::Register in) {
  switch (in) {
    case model::Register::tube:
    case model::Register::low:
      return limits.low;
    case model::Register::second:
      return limits.second;
    case model::Register::third:
      return limits.third;
  }
  return limits.low;
}

// A メ entry further than this from a semitone above the plain sign is another note.
constexpr double kFurthestFromSemitone = 50;

void require(bool condition, const char* what) {
  if (!condition) throw std::invalid_argument(what);
}

BendLimit limit_of(const BendLimits& limits, const Entry& entry) {
  const BendLimit limit = of_register(limits, entry.in);
  if (entry.half == model::HalfHole::none) return limit;
  return {std::min(limit.down, limits.half_hole.down), std::min(limit.up, limits.half_hole.up)};
}

using model::HalfHole;
using model::Register;

constexpr std::size_t kHoles = 7;

// Holes are printed from the mouth end to the foot. The number counts the open ones from the foot;
// from 4 on the foot hole may stay closed to steady the flute. For 一 and 1 the top hole is
// better open (common practice).
struct PlainFingers {
  int number;
  double cents;  // from 一, in equal temperament
  std::string_view pattern;
  std::string_view other;
};
constexpr std::array<PlainFingers, 7> kPlain{{{1, 0, "○●●●●●○", "●●●●●●○"},
                                              {2, 200, "●●●●●○○", ""},
                                              {3, 400, "●●●●○○○", ""},
                                              {4, 500, "●●●○○○◎", ""},
                                              {5, 700, "●●○○○○◎", ""},
                                              {6, 900, "●○○○○○◎", ""},
                                              {7, 1100, "○○○○○○◎", ""}}};

// nメ half-closes hole n: 三メ and 七メ as on a teacher's lesson page; 二メ, 五メ and 六メ are
// inferred, without a source: the hole that the plain sign opens last, half closed alike. The foot
// hole steadies as with the plain sign. What is harder than another is our choice (EntryKind).
struct HalfFingers {
  int number;
  EntryKind kind;
  std::string_view pattern;
};
constexpr std::array<HalfFingers, 5> kHalf{{{2, EntryKind::half_hard, "●●●●●◐○"},
                                            {3, EntryKind::half_usual, "●●●●◐○○"},
                                            {5, EntryKind::half_harder, "●●◐○○○◎"},
                                            {6, EntryKind::half_harder, "●◐○○○○◎"},
                                            {7, EntryKind::half_usual, "◐○○○○○◎"}}};

constexpr std::string_view kTube = "●●●●●●●";
constexpr double kTubeCents = -300;

// 0 is a lowered 七; overblown, the same fingers give a lowered 7 (a flute maker's primer
// on number notation).
constexpr std::string_view kCross = "●○●●●●●";
constexpr double kCrossCents = 1000;

// Third register: a player's public notes, 2022. Fingers above 5̇ and half holes differ from flute
// to flute, so there are none here (our choice).
constexpr std::array<PlainFingers, 5> kThird{{{1, 2400, "○●●○○○●", ""},
                                              {2, 2600, "●●○●●○○", ""},
                                              {3, 2800, "●○●●○○○", ""},
                                              {4, 2900, "●○●●○●○", ""},
                                              {5, 3100, "○●○○●○○", ""}}};

std::vector<model::HolePattern> patterns(std::string_view first, std::string_view second) {
  std::vector<model::HolePattern> list{*model::parse_hole_pattern(first)};
  if (!second.empty()) list.push_back(*model::parse_hole_pattern(second));
  return list;
}

Entry plain_entry(Register in, const PlainFingers& fingers, double cents) {
  return {*model::Sign::standard(in, fingers.number), HalfHole::none, cents, in, EntryKind::plain,
          patterns(fingers.pattern, fingers.other)};
}

// 一 to 七 or 1 to 7 with their half holes, lowest first.
void add_register(std::vector<Entry>& entries, Register in, double octave) {
  for (const PlainFingers& plain : kPlain) {
    for (const HalfFingers& half : kHalf) {
      if (half.number != plain.number) continue;
      const bool overblows = in == Register::second && half.number == 7;
      entries.push_back({*model::Sign::standard(in, half.number), HalfHole::under,
                         plain.cents + octave - model::kSemitoneCents, in, half.kind,
                         patterns(half.pattern, overblows ? kCross : std::string_view())});
    }
    entries.push_back(plain_entry(in, plain, plain.cents + octave));
  }
}

std::vector<Entry> table() {
  std::vector<Entry> entries;
  entries.push_back({*model::Sign::standard(Register::tube, 0), HalfHole::none, kTubeCents,
                     Register::tube, EntryKind::plain, patterns(kTube, "")});
  add_register(entries, Register::low, 0);
  entries.push_back({*model::Sign::standard(Register::second, 0), HalfHole::none, kCrossCents,
                     Register::second, EntryKind::cross, patterns(kCross, "")});
  add_register(entries, Register::second, model::kOctaveCents);
  for (const PlainFingers& fingers : kThird) {
    entries.push_back(plain_entry(Register::third, fingers, fingers.cents));
  }
  return entries;
}

}  // namespace

model::Fingering fingering_of(const Entry& entry) {
  return {entry.sign, entry.half, 0};
}

std::string printed(const Entry& entry) {
  return model::printed(fingering_of(entry));
}

Flute::Flute(FluteTable table) : table_(std::move(table)) {
  require(!table_.entries.empty(), "a flute without entries");
  for (std::size_t i = 0; i < table_.entries.size(); ++i) {
    const Entry& entry = table_.entries[i];
    require(by_sign_.try_emplace({entry.sign, entry.half}, i).second, "an entry given twice");
    require(!entry.patterns.empty(), "an entry without a hole pattern");
    for (const model::HolePattern& pattern : entry.patterns) {
      require(pattern.holes.size() == table_.hole_count, "a pattern for another number of holes");
    }
    by_pitch_.push_back(i);
  }
  std::stable_sort(by_pitch_.begin(), by_pitch_.end(), [&](std::size_t a, std::size_t b) {
    return table_.entries[a].cents < table_.entries[b].cents;
  });
}

std::optional<std::size_t> Flute::find(const model::Fingering& fingering) const {
  if (!fingering.sign) return std::nullopt;
  if (const auto own = by_sign_.find({*fingering.sign, fingering.half}); own != by_sign_.end()) {
    return own->second;
  }
  const auto plain = by_sign_.find({*fingering.sign, model::HalfHole::none});
  if (fingering.half != model::HalfHole::over || plain == by_sign_.end()) return std::nullopt;
  const Entry& sign = table_.entries[plain->second];
  std::optional<std::size_t> nearest;
  double least = kFurthestFromSemitone;
  for (std::size_t i = 0; i < table_.entries.size(); ++i) {
    const Entry& entry = table_.entries[i];
    if (entry.half != model::HalfHole::under || entry.in != sign.in) continue;
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
  if (!entry) return std::nullopt;
  return total_cents(*entry) + fingering.bend_cents;
}

std::optional<model::Pitch> Flute::sound(const model::Fingering& fingering) const {
  const auto cents = total_cents(fingering);
  if (!cents) return std::nullopt;
  return model::pitch_at(*cents);
}

BendLimit Flute::bend_limit(std::size_t entry) const {
  return limit_of(table_.bend_limits, table_.entries[entry]);
}

std::vector<Reach> Flute::reaches(double total_cents) const {
  const double cents = total_cents - table_.ichi.total_cents();
  // No bend is larger than kMostBendCents, so only a stretch of the sorted entries can reach.
  const auto first = std::lower_bound(
      by_pitch_.begin(), by_pitch_.end(), cents - model::kMostBendCents - 1,
      [&](std::size_t entry, double value) { return table_.entries[entry].cents < value; });
  std::vector<Reach> found;
  for (auto at = first; at != by_pitch_.end(); ++at) {
    const double distance = cents - table_.entries[*at].cents;
    if (distance < -model::kMostBendCents - 1) break;
    const int bend = static_cast<int>(std::lround(distance));
    if (std::abs(bend) <= model::kMostBendCents && bend_limit(*at).allows(bend)) {
      found.push_back({*at, bend});
    }
  }
  std::sort(found.begin(), found.end(),
            [](const Reach& a, const Reach& b) { return a.entry < b.entry; });
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
  FluteTable made;
  made.title = to_text(model::FluteName(size));
  made.name = size;
  made.ichi = model::pitch_at(
      model::kSemitoneCents * (model::kKeyUnderSizeOne + size.size.as_double()) + size.cents);
  made.tuning_hz = a4_hz;
  made.hole_count = kHoles;
  made.entries = table();
  return Flute(std::move(made));
}

}  // namespace yubifu::flute
