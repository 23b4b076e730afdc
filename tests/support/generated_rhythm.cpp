#include "support/generated_rhythm.h"

#include <algorithm>
#include <array>
#include <numeric>

namespace yubifu::support {

using model::Rational;
using model::Score;

namespace {

// The finest division of a beat, alone and together with all others of its bar.
constexpr std::int64_t kFinestAlone = 64 * 7;
constexpr std::int64_t kFinestTogether = 64 * 3 * 5 * 7;
// The same for simple rhythms and tuplets, in quarters.
constexpr std::int64_t kFinestPlain = 16;
constexpr int kDeepest = 4;

// Words of equal length, one after another.
struct Row {
  Rational begin;
  Rational word;
  std::int64_t count;
  Rational beat;
};

void add_rows(std::vector<Row>& rows, Rational begin, Rational end, Rational beat) {
  const std::int64_t count = ((end - begin) / beat).floor();
  const Rational rest = begin + beat * count;
  if (count > 0) rows.push_back({begin, beat, count, beat});
  if (rest < end) rows.push_back({rest, end - rest, 1, beat});
}

std::vector<Row> rows_of(const Score& score, std::size_t measure) {
  const model::Measure& here = score.measures[measure];
  std::vector<Row> rows;
  Rational beat = here.beat;
  Rational now;
  if (model::fraction_comes_first(score, measure)) {
    const Rational words = here.length / beat;
    const Rational part = (words - words.floor()) * beat;
    if (part > Rational(0)) rows.push_back({0, part, 1, beat});
    now = part;
  }
  for (const model::Direction& direction : score.directions) {
    const auto* change = std::get_if<model::BeatChange>(&direction.value);
    if (change == nullptr || direction.measure != measure) continue;
    // A new beat counts from the end of the word in which it stands.
    const Rational from = now + beat * ((direction.onset - now) / beat).ceil();
    add_rows(rows, now, from, beat);
    now = from;
    beat = change->beat;
  }
  add_rows(rows, now, here.length, beat);
  return rows;
}

bool is_power_of_two(std::int64_t value) {
  return (value & (value - 1)) == 0;
}

class Divider {
 public:
  Divider(Dice& dice, RhythmKind kind) : dice_(dice), kind_(kind) {}

  void fill(const Row& row) {
    beat_ = row.beat;
    note_grid(row.begin);
    note_grid(row.word);
    for (std::int64_t i = 0; i < row.count;) {
      const std::int64_t left = row.count - i;
      std::int64_t run = 1;
      if (left > 1 && dice_.percent(10))
        run = dice_.between(
            2, static_cast<int>(std::min<std::int64_t>(left, dice_.percent(5) ? 16 : 4)));
      split(row.begin + row.word * i, row.word * run, 0, false);
      i += run;
    }
  }

  std::vector<Rational> take() { return std::move(onsets_); }

 private:
  void note_grid(Rational time) { grid_ = std::lcm(grid_, (time / beat_).denominator()); }

  // Adds the onsets inside one word: itself, or the parts of a group.
  void split(Rational begin, Rational span, int depth, bool in_tuplet) {
    static constexpr std::array<int, kDeepest> kChance{33, 25, 20, 12};
    const int chance = depth < kDeepest ? kChance[static_cast<std::size_t>(depth)] : 0;
    const int parts = dice_.percent(chance) ? random_parts() : 1;
    const Rational unit = span * Rational(1, parts);
    const bool tuplet = !is_power_of_two(unit.denominator());
    if (parts == 1 || !allowed(begin, unit, span, tuplet && in_tuplet)) {
      onsets_.push_back(begin);
      return;
    }
    note_grid(begin);
    note_grid(unit);
    for (int i = 0; i < parts;) {
      const int run = parts - i > 2 && dice_.percent(10) ? 2 : 1;
      split(begin + unit * i, unit * run, depth + 1, tuplet);
      i += run;
    }
  }

  int random_parts() {
    static const std::vector<int> kParts{2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 5, 6, 7, 8, 9, 11};
    return dice_.pick(kParts);
  }

  bool allowed(Rational begin, Rational unit, Rational span, bool nested) const {
    if (kind_ == RhythmKind::any) {
      const std::int64_t alone =
          std::lcm((begin / beat_).denominator(), (unit / beat_).denominator());
      return alone <= kFinestAlone && std::lcm(grid_, alone) <= kFinestTogether;
    }
    const bool plain = is_power_of_two(unit.denominator());
    if (plain) return unit.denominator() <= kFinestPlain;
    if (kind_ == RhythmKind::simple) return false;
    // Inside a tuplet its parts may be halved, but not divided by another odd number.
    const bool halved = is_power_of_two((span / unit).numerator());
    return (!nested || halved) && unit.denominator() <= 3 * kFinestPlain;
  }

  Dice& dice_;
  RhythmKind kind_;
  Rational beat_ = 1;
  std::int64_t grid_ = 1;
  std::vector<Rational> onsets_;
};

}  // namespace

std::vector<Rational> random_onsets(const Score& score, std::size_t measure, Dice& dice,
                                    const GeneratorOptions& options) {
  Divider divider(dice, options.rhythm);
  for (const Row& row : rows_of(score, measure)) divider.fill(row);
  return divider.take();
}

}  // namespace yubifu::support
