#include "flute/built_in.h"

#include <array>
#include <cstdlib>
#include <stdexcept>
#include <string_view>

namespace yubifu::flute {
namespace {

using model::HalfHole;
using model::Register;

constexpr std::size_t kHoles = 7;
constexpr double kOctave = 1200;
constexpr double kSemitone = 100;

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
                         plain.cents + octave - kSemitone, in, half.kind,
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
  add_register(entries, Register::second, kOctave);
  for (const PlainFingers& fingers : kThird) {
    entries.push_back(plain_entry(Register::third, fingers, fingers.cents));
  }
  return entries;
}

}  // namespace

bool is_built_in(const model::FluteSize& size) {
  return size.size >= model::Rational(1) && size.size <= model::Rational(13) &&
         (size.size * 2).is_whole() && std::abs(size.cents) < 100;
}

Flute built_in_flute(const model::FluteSize& size, double a4_hz) {
  if (!is_built_in(size)) throw std::invalid_argument("no built-in flute of this size");
  FluteTable made;
  made.title = to_text(model::FluteName(size));
  made.name = size;
  made.ichi =
      model::pitch_at(kSemitone * (model::kKeyUnderSizeOne + size.size.as_double()) + size.cents);
  made.tuning_hz = a4_hz;
  made.hole_count = kHoles;
  made.entries = table();
  return Flute(std::move(made));
}

}  // namespace yubifu::flute
