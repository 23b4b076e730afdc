#include "flute/table_checks.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "base/message.h"
#include "flute/rules.h"

namespace yubifu::flute {
namespace {

// Entries with the same fingers that lie further apart than this are told apart by the breath.
constexpr double kOverblownCents = 600;

// The fingers as far as they sound: a steadying hole may as well be open.
std::string sounding_holes(const model::HolePattern& pattern) {
  model::HolePattern plain = pattern;
  std::replace(plain.holes.begin(), plain.holes.end(), model::Hole::steadying, model::Hole::open);
  return printed(plain);
}

void check_alike(const std::vector<Entry>& entries, const std::vector<base::SourceRange>& places,
                 base::Diagnostics& diagnostics) {
  std::map<std::pair<model::Register, std::string>, std::vector<std::size_t>> known;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    for (const model::HolePattern& pattern : entries[i].patterns) {
      std::vector<std::size_t>& same = known[{entries[i].in, sounding_holes(pattern)}];
      for (const std::size_t other : same) {
        const bool spelled_twice = entries[i].half == model::HalfHole::over ||
                                   entries[other].half == model::HalfHole::over;
        const double apart = std::abs(entries[i].cents - entries[other].cents);
        if (other == i || spelled_twice || apart > kOverblownCents) continue;
        diagnostics.push_back(
            base::report(rule::flute_alike, places[i],
                         base::message("{} has the same fingers as {}: {}", printed(entries[i]),
                                       printed(entries[other]), printed(pattern)),
                         base::message("give each sign a pattern of its own")));
        break;
      }
      same.push_back(i);
    }
  }
}

void check_order(const std::vector<Entry>& entries, const std::vector<base::SourceRange>& places,
                 base::Diagnostics& diagnostics) {
  // Register and number of the plain standard signs, with the entry.
  std::map<std::pair<model::Register, int>, std::size_t> plain;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const auto place = model::standard_place(entries[i].sign);
    if (place && entries[i].half == model::HalfHole::none) plain[{place->in, place->number}] = i;
  }
  std::optional<std::pair<model::Register, std::size_t>> before;
  for (const auto& [place, i] : plain) {
    if (before && before->first == place.first &&
        entries[i].cents <= entries[before->second].cents) {
      diagnostics.push_back(
          base::report(rule::flute_order, places[i],
                       base::message("{} does not sound higher than {}", printed(entries[i]),
                                     printed(entries[before->second])),
                       base::message("check the readings of both")));
    }
    before = {place.first, i};
  }
}

}  // namespace

base::Diagnostics doubts_about(const std::vector<Entry>& entries,
                               const std::vector<base::SourceRange>& places) {
  base::Diagnostics diagnostics;
  check_alike(entries, places, diagnostics);
  check_order(entries, places, diagnostics);
  return diagnostics;
}

}  // namespace yubifu::flute
