#include "musicxml/value_cuts.h"

#include <algorithm>
#include <optional>
#include <tuple>

namespace yubifu::musicxml {
namespace {

using model::Rational;

// Twice dotted breve: nothing longer has one value.
constexpr Rational kLongestSingle(14);

// Steps finer than this are not tried: rhythms as fine are refused before.
constexpr std::int64_t kFinestStep = 1 << 20;

// The multiples of `step` strictly inside (begin, end), in order, through `visit`.
template <typename Visit>
void for_places_inside(Rational begin, Rational end, Rational step, const Visit& visit) {
  for (Rational place = step * ((begin / step).floor() + 1); place < end; place += step) {
    visit(place);
  }
}

// Where a note is cut among the multiples of `step`; nothing when no first part has one value.
std::optional<Rational> note_cut_on(Rational begin, Rational end, Rational step,
                                    const MetricGrid& grid) {
  using Weight = std::tuple<int, int, int>;  // level, whether the rest is several, dots
  std::optional<Rational> best;
  Weight least;
  for_places_inside(begin, end, step, [&](Rational place) {
    const auto first = single_value(place - begin);
    if (!first) return;
    const auto rest = single_value(end - place);
    const Weight weight{grid.level(place), rest ? 0 : 1,
                        first->dots + (rest ? rest->dots : kMostDots)};
    if (!best || weight < least) {
      best = place;
      least = weight;
    }
  });
  return best;
}

// Looks at whole units first, then inside the unit where the note begins.
std::optional<Rational> note_cut(Rational begin, Rational end, const MetricGrid& grid) {
  const Rational unit = grid.unit();
  const Rational horizon = begin + kLongestSingle + unit;
  if (const auto place = note_cut_on(begin, std::min(end, horizon), unit, grid)) return place;
  const Rational next_unit = unit * ((begin / unit).floor() + 1);
  for (Rational step = unit / 2;; step = step / 2) {
    if (const auto place = note_cut_on(begin, std::min(end, next_unit), step, grid)) return place;
    if (step.denominator() > kFinestStep) return std::nullopt;
  }
}

// The strongest place inside a rest; of equals the last whose first part is one rest, else the
// first.
std::optional<Rational> rest_cut(Rational begin, Rational end, const MetricGrid& grid) {
  const Rational horizon = std::min(end, begin + kLongestSingle + grid.unit());
  for (Rational step = grid.unit(); step.denominator() <= kFinestStep; step = step / 2) {
    std::optional<Rational> best;
    int least = 0;
    for_places_inside(begin, horizon, step, [&](Rational place) {
      const int level = grid.level(place);
      const bool better =
          !best || level < least || (level == least && grid.takes_one_rest(begin, place));
      if (!better) return;
      best = place;
      least = level;
    });
    if (best) return best;
  }
  return std::nullopt;
}

// Cuts a stretch that begins off every place of the grid as if it began the bar.
template <typename Cut>
std::vector<ValuePiece> cut_from_zero(Rational begin, Rational end, const MetricGrid& grid,
                                      const Cut& cut) {
  std::vector<ValuePiece> pieces = cut(Rational(0), end - begin, grid);
  for (ValuePiece& piece : pieces) {
    piece.begin += begin;
    piece.end += begin;
  }
  return pieces;
}

}  // namespace

std::vector<ValuePiece> cut_note(Rational begin, Rational end, const MetricGrid& grid) {
  if (!is_dyadic(end - begin)) return {{begin, end, std::nullopt}};
  if (!is_dyadic(begin / grid.unit())) return cut_from_zero(begin, end, grid, cut_note);
  std::vector<ValuePiece> pieces;
  while (begin < end) {
    const auto value = single_value(end - begin);
    const auto place = value ? std::nullopt : note_cut(begin, end, grid);
    const Rational until = place.value_or(end);
    pieces.push_back({begin, until, single_value(until - begin)});
    begin = until;
  }
  return pieces;
}

std::vector<ValuePiece> cut_rest(Rational begin, Rational end, const MetricGrid& grid) {
  if (!is_dyadic(end - begin)) return {{begin, end, std::nullopt}};
  if (!is_dyadic(begin / grid.unit())) return cut_from_zero(begin, end, grid, cut_rest);
  std::vector<ValuePiece> pieces;
  std::vector<Rational> ends{end};
  while (!ends.empty()) {
    const Rational until = ends.back();
    const auto place =
        grid.takes_one_rest(begin, until) ? std::nullopt : rest_cut(begin, until, grid);
    if (place) {
      ends.push_back(*place);
      continue;
    }
    pieces.push_back({begin, until, single_value(until - begin)});
    begin = until;
    ends.pop_back();
  }
  return pieces;
}

}  // namespace yubifu::musicxml
