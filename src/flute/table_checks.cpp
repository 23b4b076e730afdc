#include "flute/table_checks.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

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

// Nobody can tell two such entries apart; カ beside メ is one sound spelled twice.
bool sound_alike(const Entry& a, const Entry& b) {
  if (a.half == model::HalfHole::over || b.half == model::HalfHole::over) return false;
  return std::abs(a.cents - b.cents) <= kOverblownCents;
}

base::Diagnostic same_fingers(const Entry& entry, const Entry& other,
                              const model::HolePattern& pattern, const base::SourceRange& place) {
  return base::report(rule::flute_alike, place,
                      base::message("{} has the same fingers as {}: {}", printed(entry),
                                    printed(other), printed(pattern)),
                      base::message("give each sign a pattern of its own"));
}

base::Diagnostic pattern_twice(const Entry& entry, const model::HolePattern& pattern,
                               const base::SourceRange& place) {
  return base::report(
      rule::flute_alike, place,
      base::message("{} has the fingers {} twice", printed(entry), printed(pattern)),
      base::message("leave one of them out"));
}

void check_alike(const std::vector<Entry>& entries, const std::vector<base::SourceRange>& places,
                 base::Diagnostics& diagnostics) {
  std::map<std::string, std::vector<std::size_t>> known;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    for (const model::HolePattern& pattern : entries[i].patterns) {
      std::vector<std::size_t>& same = known[sounding_holes(pattern)];
      const auto other = std::find_if(same.begin(), same.end(), [&](std::size_t j) {
        return j == i || sound_alike(entries[i], entries[j]);
      });
      if (other != same.end()) {
        diagnostics.push_back(*other == i
                                  ? pattern_twice(entries[i], pattern, places[i])
                                  : same_fingers(entries[i], entries[*other], pattern, places[i]));
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
    const bool is_plain =
        entries[i].half == model::HalfHole::none && entries[i].kind == EntryKind::plain;
    if (place && is_plain) plain[{place->in, place->number}] = i;
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
