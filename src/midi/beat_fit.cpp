#include "midi/beat_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace yubifu::midi {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

// A slip costs no more than its distance: one wrong note must not bend the rest.
constexpr double kSlip = 3;  // standard deviations

// Beyond this, parts are so fine that their strength means nothing.
constexpr int kFinestStructured = 32;

double error_cost(const PlayedOnset& note, double at) {
  const double error = std::abs(note.at - at) / note.spread;
  return error < kSlip ? error * error / 2 : kSlip * (error - kSlip / 2);
}

// cost[n][k]: the least cost of the notes up to n with note n on part k; from[n][k]: the part of
// note n - 1 then.
struct Table {
  std::vector<std::vector<double>> cost;
  std::vector<std::vector<int>> from;
};

void fill_structured(const std::vector<PlayedOnset>& notes, int parts, std::size_t n,
                     Table& table) {
  for (int to = static_cast<int>(n); to < parts; ++to) {
    const auto k = static_cast<std::size_t>(to);
    for (int before = static_cast<int>(n) - 1; before < to; ++before) {
      const double cost =
          table.cost[n - 1][static_cast<std::size_t>(before)] + step_cost(parts, before, to);
      if (cost >= table.cost[n][k]) continue;
      table.cost[n][k] = cost;
      table.from[n][k] = before;
    }
    table.cost[n][k] += error_cost(notes[n], static_cast<double>(to) / parts);
  }
}

void fill_crowded(const std::vector<PlayedOnset>& notes, int parts, std::size_t n, Table& table) {
  double best = kNever;
  int best_part = 0;
  for (int to = static_cast<int>(n); to < parts; ++to) {
    const auto k = static_cast<std::size_t>(to);
    if (table.cost[n - 1][k - 1] < best) {
      best = table.cost[n - 1][k - 1];
      best_part = to - 1;
    }
    table.cost[n][k] = best + error_cost(notes[n], static_cast<double>(to) / parts);
    table.from[n][k] = best_part;
  }
}

}  // namespace

BeatFit fit_beat(const std::vector<PlayedOnset>& notes, int parts) {
  if (notes.empty()) return {};
  const bool structured = parts <= kFinestStructured;
  const auto width = static_cast<std::size_t>(parts);
  Table table;
  table.cost.assign(notes.size(), std::vector<double>(width, kNever));
  table.from.assign(notes.size(), std::vector<int>(width, 0));
  for (std::size_t k = 0; k < width; ++k) {
    const int part = static_cast<int>(k);
    table.cost[0][k] = (structured ? step_cost(parts, -1, part) : 0) +
                       error_cost(notes[0], static_cast<double>(part) / parts);
  }
  for (std::size_t n = 1; n < notes.size(); ++n) {
    if (structured) {
      fill_structured(notes, parts, n, table);
    } else {
      fill_crowded(notes, parts, n, table);
    }
  }
  BeatFit fit{kNever, std::vector<int>(notes.size())};
  for (std::size_t k = 0; k < width; ++k) {
    const double last = structured ? step_cost(parts, static_cast<int>(k), parts) : 0;
    if (table.cost.back()[k] + last >= fit.cost) continue;
    fit.cost = table.cost.back()[k] + last;
    fit.parts.back() = static_cast<int>(k);
  }
  for (std::size_t n = notes.size(); n-- > 1;) {
    fit.parts[n - 1] = table.from[n][static_cast<std::size_t>(fit.parts[n])];
  }
  return fit;
}

}  // namespace yubifu::midi
