#include "flute/flute_file.h"

#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/json.h"
#include "base/message.h"
#include "flute/rules.h"

namespace yubifu::flute {
namespace {

using base::JsonFields;
using base::message;
using base::Presence;
using model::HalfHole;

constexpr int kVersion = 1;
constexpr double kKelvin = 273.15;
constexpr int kMostHoles = 20;
// Larger tables are no flutes; the changes between all patterns are worked out in advance.
constexpr std::size_t kMostEntries = 200;
constexpr std::size_t kMostPatterns = 10;

bool is_tone(double hz) {
  return hz >= kLeastHz && hz <= kMostHz;
}

// "Bb4", "Bb4+12c" or "Bb4-8c" as distance from MIDI key 0.
std::optional<double> parse_note(std::string_view text) {
  const std::size_t sign = text.find_first_of("+-", 1);
  const auto spelling = model::parse_spelling(text.substr(0, sign));
  const auto cents = sign == std::string_view::npos ? 0 : model::parse_offset(text.substr(sign));
  if (!spelling || !cents) return std::nullopt;
  return 100.0 * midi_key(*spelling) + *cents;
}

// Puts a table together from a file; the members of the file in order of what depends on what.
class FileReader {
 public:
  FileReader(const base::JsonValue& root, double a4_hz, base::Diagnostics& diagnostics)
      : a4_hz_(a4_hz),
        where_(root.where),
        diagnostics_(diagnostics),
        fields_(root, message("the flute"), diagnostics) {}

  // Nothing when the table is not sound.
  std::optional<FluteTable> read() {
    if (!fields_.is_object()) return std::nullopt;
    const auto version = fields_.number("yubifu-flute", Presence::required);
    if (version && *version != kVersion) {
      fields_.report_value("yubifu-flute",
                           message("version {} of flute files is not known here", *version),
                           message("this program reads version {}", kVersion));
    }
    if (const std::string* title = fields_.text("title", Presence::required)) {
      table_.title = *title;
      if (title->empty()) fields_.report_value("title", message("the flute has an empty title"));
    }
    fields_.text("source");
    read_like();
    const auto holes =
        fields_.whole("holes", 1, kMostHoles, is_like_ ? Presence::optional : Presence::required);
    if (holes) table_.hole_count = static_cast<std::size_t>(*holes);
    read_temperature();
    read_bend_limits();
    take_out();
    const auto entries = read_entries();
    read_ichi(entries);
    fields_.report_unknown();
    if (base::has_errors(diagnostics_)) return std::nullopt;
    for (const FileEntry& entry : entries) place(entry);
    check_inherited_holes();
    if (table_.entries.empty() && !base::has_errors(diagnostics_)) {
      fields_.report_value("entries", message("the flute has no entries"));
    }
    if (base::has_errors(diagnostics_)) return std::nullopt;
    base::append(diagnostics_, doubts_about(table_.entries, places_));
    table_.ichi = model::pitch_at(*ichi_cents_);
    return std::move(table_);
  }

 private:
  void report(const base::Rule& rule, base::SourceRange where, std::string text,
              std::string hint = {}) {
    diagnostics_.push_back(base::report(rule, where, std::move(text), std::move(hint)));
  }

  void read_like() {
    const base::JsonValue* value = fields_.find("like");
    is_like_ = value != nullptr;
    if (!is_like_) return;
    // A size is a number where it has no offset.
    const auto* text = value->as<std::string>();
    const auto* number = value->as<base::JsonNumber>();
    if (text == nullptr && number == nullptr) {
      base::report_json_kind(diagnostics_, *value, "\"like\"",
                             message("a size such as 6 or \"6+15c\""));
      return;
    }
    const std::string like = text != nullptr ? *text : fmt::format("{}", number->value);
    const auto name = model::parse_flute_name(like);
    const auto* size = name ? std::get_if<model::FluteSize>(&*name) : nullptr;
    if (size == nullptr || !is_built_in(*size)) {
      fields_.report_value("like", message("there is no built-in flute \"{}\"", like),
                           message("a size from 1 to 13 such as \"6\" or \"7.5\""));
      return;
    }
    const Flute base_flute = built_in_flute(*size, a4_hz_);
    ichi_cents_ = base_flute.ichi().total_cents();
    table_.entries = base_flute.entries();
    table_.hole_count = base_flute.hole_count();
    table_.bend_limits = base_flute.bend_limits();
    places_.assign(table_.entries.size(), value->where);
  }

  void read_temperature() {
    reading_celsius_ = celsius("temperature");
    concert_celsius_ = celsius("concert-temperature").value_or(kConcertCelsius);
    if (reading_celsius_) table_.concert_celsius = concert_celsius_;
    const base::JsonValue* concert = fields_.find("concert-temperature");
    if (concert == nullptr || fields_.find("temperature") != nullptr) return;
    report(rule::flute_temperature, concert->where,
           message("\"concert-temperature\" changes nothing without \"temperature\""),
           message("add the degrees Celsius at which the readings were taken, or leave it out"));
  }

  std::optional<double> celsius(std::string_view key) {
    const auto degrees = fields_.number(key);
    if (!degrees || (*degrees >= kColdestCelsius && *degrees <= kHottestCelsius)) return degrees;
    fields_.report_value(key, message("\"{}\" must be from {} to {} degrees Celsius, not {}", key,
                                      kColdestCelsius, kHottestCelsius, *degrees));
    return std::nullopt;
  }

  void read_bend_limits() {
    const base::JsonValue* limits = fields_.find("bend-limits");
    if (limits == nullptr) return;
    JsonFields registers(*limits, message("\"bend-limits\""), diagnostics_);
    const auto read = [&](std::string_view key, BendLimit& limit) {
      const base::JsonValue* value = registers.find(key);
      if (value == nullptr) return;
      JsonFields ways(*value, message("\"bend-limits\", \"{}\"", key), diagnostics_);
      const auto down = ways.whole("down", 0, model::kMostBendCents);
      const auto up = ways.whole("up", 0, model::kMostBendCents);
      limit.down = static_cast<int>(down.value_or(limit.down));
      limit.up = static_cast<int>(up.value_or(limit.up));
      ways.report_unknown();
    };
    read("low", table_.bend_limits.low);
    read("second", table_.bend_limits.second);
    read("third", table_.bend_limits.third);
    read("half-hole", table_.bend_limits.half_hole);
    registers.report_unknown();
  }

  // "without": signs of the built-in flute that this one does not have.
  void take_out() {
    const base::JsonArray* without = fields_.array("without");
    const bool is_lost = is_like_ && table_.entries.empty();  // the fault of "like" is told
    if (without == nullptr || is_lost) return;
    for (const base::JsonValue& value : *without) {
      const auto* text = value.as<std::string>();
      const auto sign = text == nullptr ? std::nullopt : parse_entry_sign(*text);
      if (text == nullptr) {
        base::report_json_kind(diagnostics_, value, message("\"without\""),
                               base::catalogued("a string"));
      } else if (const auto at = sign ? find_entry(table_.entries, *sign) : std::nullopt) {
        table_.entries.erase(table_.entries.begin() + static_cast<std::ptrdiff_t>(*at));
        places_.erase(places_.begin() + static_cast<std::ptrdiff_t>(*at));
      } else {
        report(rule::flute_sign, value.where,
               message("\"without\": \"{}\" is no sign of the flute that this one is like", *text),
               message("\"without\" takes signs out that \"like\" brought in"));
      }
    }
  }

  std::vector<FileEntry> read_entries() {
    std::vector<FileEntry> entries;
    const base::JsonArray* list =
        fields_.array("entries", is_like_ ? Presence::optional : Presence::required);
    if (list == nullptr) return entries;
    if (list->size() > kMostEntries) {
      fields_.report_value("entries",
                           message("{} entries, more than {}", list->size(), kMostEntries));
      return entries;
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
      auto entry = read_file_entry((*list)[i], i + 1, diagnostics_);
      if (!entry) continue;
      check_patterns(*entry, i + 1);
      check_twice(*entry, entries, i + 1);
      entries.push_back(*std::move(entry));
    }
    return entries;
  }

  void check_patterns(const FileEntry& entry, std::size_t number) {
    if (entry.patterns.size() > kMostPatterns) {
      report(rule::flute_pattern, entry.where,
             message("entry {}: {} patterns, more than {}", number, entry.patterns.size(),
                     kMostPatterns));
    }
    for (std::size_t i = 0; i < entry.patterns.size(); ++i) {
      const std::size_t holes = entry.patterns[i].holes.size();
      if (holes == table_.hole_count || table_.hole_count == 0) continue;
      report(rule::flute_pattern, entry.pattern_places[i],
             message("entry {}: the pattern {} must have {} signs, not {}", number,
                     printed(entry.patterns[i]), table_.hole_count, holes),
             message("give one sign a hole, from the mouth end to the foot"));
    }
  }

  void check_twice(const FileEntry& entry, const std::vector<FileEntry>& others,
                   std::size_t number) {
    for (const FileEntry& other : others) {
      if (other.fingering != entry.fingering) continue;
      return report(rule::flute_entry_twice, entry.where,
                    message("entry {}: {} has an entry already", number, printed(entry.fingering)),
                    message("put further patterns into \"patterns\" of one entry"));
    }
  }

  // The member counts first, then the reading of 一, then the flute that this one is like.
  void read_ichi(const std::vector<FileEntry>& entries) {
    const model::Fingering own{model::Sign::standard(model::Register::low, 1), HalfHole::none, 0};
    for (const FileEntry& entry : entries) {
      if (entry.fingering == own && entry.hz) {
        ichi_cents_ = model::total_cents_of(at_concert(*entry.hz), a4_hz_);
      }
    }
    const base::JsonValue* ichi = fields_.find("ichi");
    if (ichi == nullptr) {
      if (!ichi_cents_ && !is_like_) {
        report(rule::flute_ichi, where_, message("the flute does not say what 一 sounds"),
               message("add \"ichi\" with a note such as \"D5\" or \"D5-10c\", or a number of Hz"));
      }
      return;
    }
    const auto* text = ichi->as<std::string>();
    const auto* hz = ichi->as<base::JsonNumber>();
    const auto note = text != nullptr ? parse_note(*text) : std::nullopt;
    if (note && is_tone(model::frequency_hz(model::pitch_at(*note), a4_hz_))) {
      ichi_cents_ = note;
    } else if (hz != nullptr && is_tone(hz->value)) {
      ichi_cents_ = model::total_cents_of(at_concert(hz->value), a4_hz_);
    } else {
      report(rule::flute_ichi, ichi->where, message("\"ichi\" is no pitch"),
             message("a note such as \"D5\" or \"D5-10c\", or a number of Hz from {} to {}",
                     kLeastHz, kMostHz));
    }
  }

  double at_concert(double hz) const {
    return reading_celsius_ ? hz_at(hz, *reading_celsius_, concert_celsius_) : hz;
  }

  // Puts an entry into the table, over the one of the same sign that "like" brought in.
  void place(const FileEntry& from) {
    const auto known = find_entry(table_.entries, from.fingering);
    const auto standard = model::standard_place(*from.fingering.sign);
    if (!known && !require_all(from, standard.has_value())) return;
    const std::size_t at = known.value_or(table_.entries.size());
    if (!known) {
      const auto in = standard ? standard->in : model::Register::low;
      table_.entries.push_back(
          {*from.fingering.sign, from.fingering.half, 0, in, usual_kind(from.fingering), {}});
      places_.emplace_back();
    }
    Entry& entry = table_.entries[at];
    places_[at] = from.where;
    if (from.in) entry.in = *from.in;
    if (from.kind) entry.kind = *from.kind;
    if (!from.patterns.empty()) entry.patterns = from.patterns;
    if (from.cents) entry.cents = *from.cents;
    if (from.hz) entry.cents = model::total_cents_of(at_concert(*from.hz), a4_hz_) - *ichi_cents_;
  }

  // What a sign must bring along that no built-in flute has brought in.
  bool require_all(const FileEntry& entry, bool is_standard) {
    const std::string sign = printed(entry.fingering);
    const std::size_t before = diagnostics_.size();
    if (entry.patterns.empty()) {
      report(rule::flute_pattern, entry.where, message("{} has no hole pattern", sign),
             message("add \"pattern\""));
    }
    if (!entry.cents && !entry.hz) {
      report(rule::flute_pitch, entry.where, message("{} has no pitch", sign),
             message("add \"cents\" from 一, or \"hz\""));
    }
    if (!is_standard && !entry.in) {
      report(rule::flute_sign, entry.where, message("{} has no register", sign),
             message("add \"register\": tube, low, second or third"));
    }
    return diagnostics_.size() == before;
  }

  // With "like" and another number of holes every pattern must be given anew.
  void check_inherited_holes() {
    for (std::size_t i = 0; i < table_.entries.size(); ++i) {
      const Entry& entry = table_.entries[i];
      if (entry.patterns.front().holes.size() == table_.hole_count) continue;
      report(rule::flute_pattern, places_[i],
             message("{} still has the {} holes of the flute that this one is like, not {}",
                     printed(entry), entry.patterns.front().holes.size(), table_.hole_count),
             message("give its pattern, or leave it out with \"without\""));
      return;
    }
  }

  double a4_hz_;
  base::SourceRange where_;
  base::Diagnostics& diagnostics_;
  JsonFields fields_;
  FluteTable table_;
  std::vector<base::SourceRange> places_;  // of each entry of the table
  bool is_like_ = false;
  std::optional<double> ichi_cents_;
  std::optional<double> reading_celsius_;
  double concert_celsius_ = kConcertCelsius;
};

}  // namespace

double hz_at(double hz, double reading_celsius, double concert_celsius) {
  return hz * std::sqrt((concert_celsius + kKelvin) / (reading_celsius + kKelvin));
}

base::Outcome<Flute> read_flute_file(const base::SourceText& source, const model::FluteName& name,
                                     double a4_hz) {
  base::Outcome<Flute> outcome;
  auto json = base::parse_json(source);
  outcome.diagnostics = std::move(json.diagnostics);
  if (!json.value) return outcome;
  FileReader reader(*json.value, a4_hz, outcome.diagnostics);
  auto table = reader.read();
  if (!table) return outcome;
  table->name = name;
  table->tuning_hz = a4_hz;
  outcome.value = Flute(*std::move(table));
  return outcome;
}

}  // namespace yubifu::flute
