#include "flute/file_entry.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "base/json.h"
#include "base/message.h"
#include "base/word_table.h"
#include "flute/rules.h"

namespace yubifu::flute {
namespace {

using base::JsonFields;
using base::message;
using base::Presence;
using model::HalfHole;

constexpr std::string_view kUnder = "メ";
constexpr std::string_view kOver = "カ";
// Far outside what any flute sounds.
constexpr double kMostCents = 6000;
constexpr double kMostSpread = 1200;

constexpr auto kRegisters = base::word_table<model::Register>({{model::Register::tube, "tube"},
                                                               {model::Register::low, "low"},
                                                               {model::Register::second, "second"},
                                                               {model::Register::third, "third"}});
constexpr auto kKinds = base::word_table<EntryKind>({{EntryKind::plain, "plain"},
                                                     {EntryKind::cross, "cross"},
                                                     {EntryKind::half_usual, "half-usual"},
                                                     {EntryKind::half_harder, "half-harder"},
                                                     {EntryKind::half_hard, "half-hard"}});

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
  if (number && *number >= low && *number <= high) return number;
  if (number) {
    fields.report_value(key, message("{}: \"{}\" must be from {} to {}, not {}", fields.what(), key,
                                     low, high, *number));
  }
  return std::nullopt;
}

// `what` names entry and member.
void read_pattern(FileEntry& entry, const base::JsonValue& value, const std::string& what,
                  base::Diagnostics& diagnostics) {
  const auto* text = value.as<std::string>();
  if (text == nullptr) {
    base::report_json_kind(diagnostics, value, what, base::catalogued("a string"));
    return;
  }
  if (auto pattern = model::parse_hole_pattern(*text)) {
    entry.patterns.push_back(*std::move(pattern));
    entry.pattern_places.push_back(value.where);
  } else {
    diagnostics.push_back(base::report(
        rule::flute_pattern, value.where, message("{}: \"{}\" is no hole pattern", what, *text),
        message("● closed, ○ open, ◐ half, ◎ closed to steady; in ASCII x o h s")));
  }
}

void read_patterns(FileEntry& entry, JsonFields& fields, base::Diagnostics& diagnostics) {
  const base::JsonValue* one = fields.find("pattern");
  const base::JsonArray* several = fields.array("patterns");
  const auto member = [&](std::string_view key) {
    return fmt::format("{}, \"{}\"", fields.what(), key);
  };
  if (one != nullptr) read_pattern(entry, *one, member("pattern"), diagnostics);
  if (several == nullptr) return;
  for (const base::JsonValue& value : *several) {
    read_pattern(entry, value, member("patterns"), diagnostics);
  }
}

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

std::string_view name_of(model::Register in) {
  return kRegisters.word_of(in);
}

std::string_view name_of(EntryKind kind) {
  return kKinds.word_of(kind);
}

EntryKind usual_kind(const model::Fingering& fingering) {
  const bool is_cross = fingering.sign == model::Sign::standard(model::Register::second, 0);
  if (fingering.half == HalfHole::none) return is_cross ? EntryKind::cross : EntryKind::plain;
  static const Flute built_in = built_in_flute(model::kDefaultFluteSize, model::kConcertPitchHz);
  const auto entry = built_in.find(fingering);
  return entry ? built_in.entries()[*entry].kind : EntryKind::half_harder;
}

std::optional<model::Fingering> parse_entry_sign(std::string_view text) {
  if (const auto standard = model::parse_printed(text)) {
    return standard->bend_cents == 0 ? standard : std::nullopt;
  }
  model::Fingering own;
  for (const auto& [ending, half] :
       {std::pair(kUnder, HalfHole::under), std::pair(kOver, HalfHole::over)}) {
    if (!text.ends_with(ending)) continue;
    own.half = half;
    text.remove_suffix(ending.size());
    break;
  }
  if (!model::is_own_sign(text)) return std::nullopt;
  own.sign = model::Sign(std::string(text));
  return own;
}

std::optional<FileEntry> read_file_entry(const base::JsonValue& value, std::size_t number,
                                         base::Diagnostics& diagnostics) {
  base::Diagnostics found;
  JsonFields fields(value, message("entry {}", number), found);
  const std::string* text = fields.text("sign", Presence::required);
  std::optional<model::Fingering> sign;
  if (text != nullptr) {
    sign = parse_entry_sign(*text);
    if (!sign) {
      found.push_back(base::report(
          rule::flute_sign, fields.find("sign")->where,
          message("entry {}: \"{}\" is no sign", number, *text),
          message("筒, 一 to 七, 0 to 7, 8, 2̇ to 7̇ or one letter that the notation does not use")));
    }
  }
  FileEntry entry;
  if (sign) entry.fingering = *sign;
  entry.where = value.where;
  entry.in = word(fields, "register", kRegisters);
  entry.kind = word(fields, "effort", kKinds);
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
  const std::set<std::size_t> known = check_order(entries, places, diagnostics);
  check_open_holes(entries, places, known, diagnostics);
  return diagnostics;
}

}  // namespace yubifu::flute
