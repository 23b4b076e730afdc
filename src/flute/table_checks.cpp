#include "flute/table_checks.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <optional>
#include <set>
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

// Signs in the order of their numbers; says which entries it found.
std::set<std::size_t> check_order(const std::vector<Entry>& entries,
                                  const std::vector<base::SourceRange>& places,
                                  base::Diagnostics& diagnostics) {
  std::set<std::size_t> found;
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
      found.insert(i);
      diagnostics.push_back(
          base::report(rule::flute_order, places[i],
                       base::message("{} does not sound higher than {}", printed(entries[i]),
                                     printed(entries[before->second])),
                       base::message("check the readings of both")));
    }
    before = {place.first, i};
  }
  return found;
}

// How many holes are open where those are the ones nearest to the foot.
std::optional<std::size_t> open_from_foot(const model::HolePattern& pattern) {
  const auto is_closed = [](model::Hole hole) { return hole == model::Hole::closed; };
  const auto is_open = [](model::Hole hole) {
    return hole == model::Hole::open || hole == model::Hole::steadying;
  };
  const auto first = std::find_if_not(pattern.holes.begin(), pattern.holes.end(), is_closed);
  if (!std::all_of(first, pattern.holes.end(), is_open)) return std::nullopt;
  return static_cast<std::size_t>(pattern.holes.end() - first);
}

// Each hole that is opened from the foot on raises the pitch: so the readings of signs without a
// number are checked too. Third registers have no such order.
void check_open_holes(const std::vector<Entry>& entries,
                      const std::vector<base::SourceRange>& places,
                      const std::set<std::size_t>& known, base::Diagnostics& diagnostics) {
  std::map<std::pair<model::Register, std::size_t>, std::size_t> opened;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const bool is_plain =
        entries[i].half == model::HalfHole::none && entries[i].kind == EntryKind::plain;
    if (!is_plain || entries[i].in == model::Register::third) continue;
    const auto in = entries[i].in == model::Register::tube ? model::Register::low : entries[i].in;
    for (const model::HolePattern& pattern : entries[i].patterns) {
      if (const auto open = open_from_foot(pattern)) opened[{in, *open}] = i;
    }
  }
  for (auto at = opened.begin(); at != opened.end() && std::next(at) != opened.end(); ++at) {
    const auto& [place, less] = *at;
    const auto& [next_place, more] = *std::next(at);
    const bool rises = entries[more].cents > entries[less].cents;
    if (place.first != next_place.first || rises || known.contains(more)) continue;
    diagnostics.push_back(
        base::report(rule::flute_order, places[more],
                     base::message("{} opens more holes than {} and does not sound higher",
                                   printed(entries[more]), printed(entries[less])),
                     base::message("check the readings of both")));
  }
}

}  // namespace

base::Diagnostics doubts_about(const std::vector<Entry>& entries,
                               const std::vector<base::SourceRange>& places) {
  base::Diagnostics diagnostics;
  check_alike(entries, places, diagnostics);
  const std::set<std::size_t> known = check_order(entries, places, diagnostics);
  check_open_holes(entries, places, known, diagnostics);
  return diagnostics;
}

}  // namespace yubifu::flute
