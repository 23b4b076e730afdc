#include "flute/file_entry.h"

#include <utility>

#include <fmt/format.h>

#include "base/json_fields.h"
#include "base/message.h"
#include "base/translation.h"
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

}  // namespace

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
  fields.report_unknown();
  const bool sound = !base::has_errors(found);
  base::append(diagnostics, std::move(found));
  return sound ? std::optional(std::move(entry)) : std::nullopt;
}

}  // namespace yubifu::flute
