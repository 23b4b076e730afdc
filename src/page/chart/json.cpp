// The fingering chart for other programs.
#include <cmath>

#include "base/json_writer.h"
#include "base/numbers.h"
#include "flute/flute.h"
#include "page/chart/chart.h"

namespace yubifu::page {
namespace {

using base::JsonLayout;

std::string_view word_of(model::Register in) {
  switch (in) {
    case model::Register::tube:
      return "tube";
    case model::Register::low:
      return "low";
    case model::Register::second:
      return "second";
    case model::Register::third:
      return "third";
  }
  return {};
}

// Mathematical libraries differ in the last place; a thousandth of a hertz is under a cent by far.
constexpr double kSteps = 1000;

void write_entry(base::JsonWriter& json, const flute::Flute& flute, const ChartEntry& shown) {
  const flute::Entry& entry = flute.entries()[shown.entry];
  const model::Pitch pitch = pitch_of(flute, entry);
  json.begin_object(JsonLayout::one_line);
  json.key("sign").text(printed(shown.fingering));
  json.key("ascii").text(ascii(shown.fingering));
  json.key("register").text(word_of(entry.in));
  json.key("half").boolean(shown.fingering.half != model::HalfHole::none);
  if (entry.kind == flute::EntryKind::cross) json.key("cross").boolean(true);
  json.key("holes").begin_array();
  for (const model::HolePattern& pattern : entry.patterns) json.text(printed(pattern));
  json.end_array();
  json.key("note").text(to_text(staff_note(flute, entry)));
  json.key("hz").number(base::rounded(model::frequency_hz(pitch, flute.tuning_hz()), kSteps));
  json.key("cents").number(base::rounded(pitch.cents, kSteps));
  if (is_approximate(flute, entry)) json.key("about").boolean(true);
  json.end_object();
}

}  // namespace

std::string chart_json(const std::vector<ChartOfFlute>& charts) {
  base::JsonWriter json;
  json.begin_object();
  json.key("yubifu-chart").number(std::int64_t{1});
  json.key("flutes").begin_array();
  for (const auto& [flute, only] : charts) {
    json.begin_object();
    json.key("name").text(to_text(flute->name()));
    json.key("title").text(flute->title());
    json.key("tuning").number(flute->tuning_hz());
    json.key("entries").begin_array();
    for (const ChartEntry& shown : only ? *entries_of(*flute, *only).value : all_entries(*flute)) {
      write_entry(json, *flute, shown);
    }
    json.end_array();
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.take();
}

}  // namespace yubifu::page
