#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "flute/flute_file.h"
#include "flute/rules.h"

namespace yubifu::flute {
namespace {

using base::JsonFields;
using base::message;
using base::Presence;
using model::HalfHole;

// Far outside what any flute sounds.
constexpr double kMostCents = 6000;
constexpr double kMostSpread = 1200;

// The value of a member that is one of a few words.
template <typename Value, std::size_t size>
std::optional<Value> word(JsonFields& fields, std::string_view key,
                          const base::WordTable<Value, size>& table) {
  const std::string* text = fields.text(key);
  if (text == nullptr) return std::nullopt;
  if (const auto value = table.value_of(*text)) return value;
  fields.report_value(key, message("{}: \"{}\" is no {}", fields.what(), *text, key),
                      message("one of {}", fmt::join(table.words(), ", ")));
  return std::nullopt;
}

std::optional<double> number_within(JsonFields& fields, std::string_view key, double low,
                                    double high) {
  const auto number = fields.number(key);
  if (!number || (*number >= low && *number <= high)) return number;
  fields.report_value(key, message("{}: \"{}\" must be from {} to {}, not {}", fields.what(), key,
                                   low, high, *number));
  return std::nullopt;
}

void read_patterns(FileEntry& entry, JsonFields& fields, base::Diagnostics& diagnostics) {
  const base::JsonValue* one = fields.find("pattern");
  const base::JsonArray* several = fields.array("patterns");
  const auto read = [&](const base::JsonValue& value, std::string_view key) {
    const std::string what = fmt::format("{}, \"{}\"", fields.what(), key);
    const auto* text = value.as<std::string>();
    if (text == nullptr) {
      base::report_json_kind(diagnostics, value, what, base::catalogued("a string"));
    } else if (auto pattern = model::parse_hole_pattern(*text)) {
      entry.patterns.push_back(*std::move(pattern));
      entry.pattern_places.push_back(value.where);
    } else {
      diagnostics.push_back(base::report(
          rule::flute_pattern, value.where, message("{}: \"{}\" is no hole pattern", what, *text),
          message("● closed, ○ open, ◐ half, ◎ closed to steady; in ASCII x o h s")));
    }
  };
  if (one != nullptr) read(*one, "pattern");
  if (several == nullptr) return;
  for (const base::JsonValue& value : *several) read(value, "patterns");
}

// Entries with the same fingers that lie further apart than this are told apart by the breath.
constexpr double kOverblownCents = 600;

// The fingers as far as they sound: a steadying hole may as well be open.
std::string sounding_holes(const model::HolePattern& pattern) {
  model::HolePattern plain = pattern;
  std::replace(plain.holes.begin(), plain.holes.end(), model::Hole::steadying, model::Hole::open);
  return printed(plain);
}

// Signs with the same fingers; カ beside メ is one sound spelled twice.
void check_alike(const std::vector<Entry>& entries, const std::vector<base::SourceRange>& places,
                 base::Diagnostics& diagnostics) {
  std::map<std::string, std::vector<std::size_t>> known;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    for (const model::HolePattern& pattern : entries[i].patterns) {
      std::vector<std::size_t>& same = known[sounding_holes(pattern)];
      const auto other = std::find_if(same.begin(), same.end(), [&](std::size_t j) {
        const Entry& a = entries[i];
        const Entry& b = entries[j];
        return j == i || (a.half != HalfHole::over && b.half != HalfHole::over &&
                          std::abs(a.cents - b.cents) <= kOverblownCents);
      });
      if (other != same.end()) {
        const bool is_own = *other == i;
        diagnostics.push_back(base::report(
            rule::flute_alike, places[i],
            is_own ? message("{} has the fingers {} twice", printed(entries[i]), printed(pattern))
                   : message("{} has the same fingers as {}: {}", printed(entries[i]),
                             printed(entries[*other]), printed(pattern)),
            is_own ? message("leave one of them out")
                   : message("give each sign a pattern of its own")));
      }
      same.push_back(i);
    }
  }
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

// The plain standard signs, and the holes that are opened one after another from the foot on, for
// signs without a number. Third registers have no such order of holes.
void check_order(const std::vector<Entry>& entries, const std::vector<base::SourceRange>& places,
                 base::Diagnostics& diagnostics) {
  // By register and by what raises the pitch in it: the number of a sign, or the open holes.
  using Rising = std::map<std::pair<model::Register, std::size_t>, std::size_t>;
  Rising numbered;
  Rising opened;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Entry& entry = entries[i];
    if (entry.half != HalfHole::none || entry.kind != EntryKind::plain) continue;
    if (const auto place = model::standard_place(entry.sign)) {
      numbered[{place->in, static_cast<std::size_t>(place->number)}] = i;
    }
    if (entry.in == model::Register::third) continue;
    const auto in = entry.in == model::Register::tube ? model::Register::low : entry.in;
    for (const model::HolePattern& pattern : entry.patterns) {
      if (const auto open = open_from_foot(pattern)) opened[{in, *open}] = i;
    }
  }
  std::set<std::size_t> told;
  const auto tell_falls = [&](const Rising& rising, const auto& sentence) {
    std::set<std::size_t> found;
    for (auto at = rising.begin(); at != rising.end() && std::next(at) != rising.end(); ++at) {
      const auto& [place, lower] = *at;
      const auto& [next_place, higher] = *std::next(at);
      const bool rises = entries[higher].cents > entries[lower].cents;
      if (place.first != next_place.first || rises || told.contains(higher)) continue;
      found.insert(higher);
      diagnostics.push_back(
          base::report(rule::flute_order, places[higher],
                       sentence(printed(entries[higher]), printed(entries[lower])),
                       message("check the readings of both")));
    }
    told.merge(found);
  };
  tell_falls(numbered, [](const std::string& higher, const std::string& lower) {
    return message("{} does not sound higher than {}", higher, lower);
  });
  tell_falls(opened, [](const std::string& higher, const std::string& lower) {
    return message("{} opens more holes than {} and does not sound higher", higher, lower);
  });
}

}  // namespace

EntryKind usual_kind(const model::Fingering& fingering) {
  const bool is_cross = fingering.sign == model::Sign::standard(model::Register::second, 0);
  if (fingering.half == HalfHole::none) return is_cross ? EntryKind::cross : EntryKind::plain;
  static const Flute built_in = built_in_flute(model::kDefaultFluteSize, model::kConcertPitchHz);
  const auto entry = built_in.find(fingering);
  return entry ? built_in.entries()[*entry].kind : EntryKind::half_harder;
}

std::optional<model::Fingering> parse_entry_sign(std::string_view text) {
  const auto fingering = model::parse_printed_of_any_flute(text);
  return fingering && fingering->bend_cents == 0 ? fingering : std::nullopt;
}

std::optional<FileEntry> read_file_entry(const base::JsonValue& value, std::size_t number,
                                         base::Diagnostics& diagnostics) {
  base::Diagnostics found;
  JsonFields fields(value, message("entry {}", number), found);
  const std::string* text = fields.text("sign", Presence::required);
  const auto sign = text == nullptr ? std::nullopt : parse_entry_sign(*text);
  if (text != nullptr && !sign) {
    found.push_back(base::report(
        rule::flute_sign, fields.find("sign")->where,
        message("entry {}: \"{}\" is no sign", number, *text),
        message("筒, 一 to 七, 0 to 7, 8, 2̇ to 7̇ or one letter that the notation does not use")));
  }
  FileEntry entry;
  entry.fingering = sign.value_or(model::Fingering{});
  entry.where = value.where;
  entry.in = word(fields, "register", kRegisterWords);
  entry.kind = word(fields, "effort", kEffortWords);
  read_patterns(entry, fields, found);
  entry.cents = number_within(fields, "cents", -kMostCents, kMostCents);
  entry.hz = number_within(fields, "hz", kLeastHz, kMostHz);
  if (entry.cents && entry.hz) {
    found.push_back(base::report(rule::flute_pitch, fields.find("hz")->where,
                                 message("entry {}: the pitch is given twice", number),
                                 message("leave out \"cents\" or \"hz\"")));
  }
  number_within(fields, "spread", 0, kMostSpread);
  fields.array("seconds");
  fields.report_unknown();
  const bool sound = !base::has_errors(found);
  base::append(diagnostics, std::move(found));
  return sound ? std::optional(std::move(entry)) : std::nullopt;
}

base::Diagnostics doubts_about(const std::vector<Entry>& entries,
                               const std::vector<base::SourceRange>& places) {
  base::Diagnostics diagnostics;
  check_alike(entries, places, diagnostics);
  check_order(entries, places, diagnostics);
  return diagnostics;
}

}  // namespace yubifu::flute
