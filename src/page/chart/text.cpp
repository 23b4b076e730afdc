// The fingering chart as lines of text, and as JSON for other programs.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/json_writer.h"
#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "flute/flute_file.h"
#include "page/chart/chart.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

using base::message;

// B♭4, or Bb4.
std::string note_of(const flute::Flute& flute, const flute::Entry& entry, bool is_ascii) {
  std::string name = to_text(staff_note(flute, entry));
  if (is_ascii) return name;
  std::string printed;
  for (const char c : name) printed += c == '#' ? "♯" : c == 'b' ? "♭" : std::string(1, c);
  return printed;
}

void add_line(std::string& text, std::string line) {
  while (line.ends_with(' ')) line.pop_back();
  text += line + '\n';
}

std::string head_of(const flute::Flute& flute, bool is_ascii) {
  std::string text;
  add_line(text, message("Flute {}, tuned to A4 = {} Hz", flute.title(), flute.tuning_hz()));
  if (const auto celsius = flute.concert_celsius()) {
    add_line(text, message("Measured pitches, brought to {} °C", *celsius));
  }
  add_line(text, message("Holes from the mouth end to the foot:"));
  add_line(text, is_ascii ? message("x closed   o open   h half   s closed to steady, or open")
                          : message("● closed   ○ open   ◐ half   ◎ closed to steady, or open"));
  return text + '\n';
}

void write_entry(base::JsonWriter& json, const flute::Flute& flute, const ChartEntry& shown) {
  // Mathematical libraries differ in the last place; a thousandth of a hertz is far under a cent.
  constexpr double kSteps = 1000;
  const flute::Entry& entry = *shown.entry;
  const model::Pitch pitch = pitch_of(flute, entry);
  json.begin_object(base::JsonLayout::one_line);
  json.key("sign").text(printed(shown.fingering));
  json.key("ascii").text(printed(shown.fingering, model::Alphabet::ascii));
  json.key("register").text(flute::kRegisterWords.word_of(entry.in));
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

std::string chart_text(const ChartOfFlute& chart, model::Alphabet alphabet) {
  constexpr int kNoteWidth = 5;
  const flute::Flute& flute = *chart.flute;
  const bool is_ascii = alphabet == model::Alphabet::ascii;
  // Of signs and holes.
  const auto as_text = [&](const auto& value) { return printed(value, alphabet); };
  std::vector<ChartEntry> shown = *entries_of(chart).value;
  int sign_width = base::display_width(message("sign"));
  for (const ChartEntry& one : shown) {
    sign_width = std::max(sign_width, base::display_width(as_text(one.fingering)));
  }
  const int holes_width =
      std::max(base::display_width(message("holes")), static_cast<int>(flute.hole_count()));
  // Registers and signs highest first, as on a staff.
  std::stable_sort(shown.begin(), shown.end(), [](const ChartEntry& a, const ChartEntry& b) {
    if (a.entry->in != b.entry->in) return a.entry->in > b.entry->in;
    return a.entry->cents > b.entry->cents;
  });

  std::string text = head_of(flute, is_ascii);
  const auto add_row = [&](const std::string& sign, const std::string& holes,
                           const std::string& note, const std::string& hz,
                           const std::string& cents) {
    add_line(text, fmt::format("  {}  {}  {} {:>7}  {:>5}", base::padded(sign, sign_width),
                               base::padded(holes, holes_width), base::padded(note, kNoteWidth), hz,
                               cents));
  };
  const auto add_entry = [&](const ChartEntry& one) {
    const flute::Entry& entry = *one.entry;
    const model::Pitch pitch = pitch_of(flute, entry);
    const long cents = std::lround(pitch.cents);
    const std::string deviation = cents == 0 ? "0" : fmt::format("{:+}", cents);
    add_row(as_text(one.fingering), as_text(entry.patterns.front()),
            note_of(flute, entry, is_ascii),
            fmt::format("{:.1f}", model::frequency_hz(pitch, flute.tuning_hz())),
            is_approximate(flute, entry) ? message("about") : deviation);
    for (std::size_t i = 1; i < entry.patterns.size(); ++i) {
      add_row({}, as_text(entry.patterns[i]), message("(also)"), {}, {});
    }
  };

  add_row(message("sign"), message("holes"), message("note"), message("Hz"), message("cents"));
  std::optional<model::Register> in;
  for (const ChartEntry& one : shown) {
    if (in != one.entry->in) add_line(text, '\n' + register_name(one.entry->in));
    in = one.entry->in;
    add_entry(one);
  }
  if (!has_loud(flute, shown)) return text;
  text += '\n';
  // In widths of a letter in print, which are about half a column.
  constexpr double kWidth = 33;
  for (const std::string& line : wrapped(hearing_caution(), kWidth)) add_line(text, line);
  return text;
}

std::string chart_json(const std::vector<ChartOfFlute>& charts) {
  base::JsonWriter json;
  json.begin_object();
  json.key("yubifu-chart").number(std::int64_t{1});
  json.key("flutes").begin_array();
  for (const ChartOfFlute& chart : charts) {
    const flute::Flute& flute = *chart.flute;
    json.begin_object();
    json.key("name").text(to_text(flute.name()));
    json.key("title").text(flute.title());
    json.key("tuning").number(flute.tuning_hz());
    json.key("entries").begin_array();
    const auto entries = entries_of(chart);
    for (const ChartEntry& shown : *entries.value) write_entry(json, flute, shown);
    json.end_array();
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.take();
}

}  // namespace yubifu::page
