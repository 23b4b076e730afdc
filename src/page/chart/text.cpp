// The fingering chart as lines of text, and as JSON for other programs.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/json_writer.h"
#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "flute/file_entry.h"
#include "page/chart/chart.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

using base::message;

class ChartText {
 public:
  ChartText(const flute::Flute& flute, std::vector<ChartEntry> shown, bool is_ascii)
      : flute_(flute), shown_(std::move(shown)), is_ascii_(is_ascii) {
    sign_width_ = base::display_width(message("sign"));
    for (const ChartEntry& one : shown_) {
      sign_width_ = std::max(sign_width_, base::display_width(as_text(one.fingering)));
    }
    holes_width_ =
        std::max(base::display_width(message("holes")), static_cast<int>(flute.hole_count()));
    // Highest first, as on a staff.
    std::stable_sort(shown_.begin(), shown_.end(), [](const ChartEntry& a, const ChartEntry& b) {
      return a.entry->cents > b.entry->cents;
    });
  }

  std::string run() {
    add_head();
    for (const model::Register in : {model::Register::third, model::Register::second,
                                     model::Register::low, model::Register::tube}) {
      bool is_first = true;
      for (const ChartEntry& one : shown_) {
        if (one.entry->in != in) continue;
        if (std::exchange(is_first, false)) add_line('\n' + register_name(in));
        add_entry(one);
      }
    }
    if (!has_loud(flute_, shown_)) return std::move(text_);
    add_line({});
    // In widths of a letter in print, which are about half a column.
    constexpr double kWidth = 33;
    for (const std::string& line : wrapped(hearing_caution(), kWidth)) add_line(line);
    return std::move(text_);
  }

 private:
  // Of signs and holes.
  template <typename Value>
  std::string as_text(const Value& value) const {
    return is_ascii_ ? ascii(value) : printed(value);
  }

  // B♭4, or Bb4.
  std::string note_of(const flute::Entry& entry) const {
    const std::string name = to_text(staff_note(flute_, entry));
    if (is_ascii_) return name;
    std::string printed;
    for (const char c : name) printed += c == '#' ? "♯" : c == 'b' ? "♭" : std::string(1, c);
    return printed;
  }

  void add_line(std::string line) {
    while (line.ends_with(' ')) line.pop_back();
    text_ += line + '\n';
  }

  void add_head() {
    add_line(message("Flute {}, tuned to A4 = {} Hz", flute_.title(), flute_.tuning_hz()));
    if (const auto celsius = flute_.concert_celsius()) {
      add_line(message("Measured pitches, brought to {} °C", *celsius));
    }
    add_line(message("Holes from the mouth end to the foot:"));
    add_line(is_ascii_ ? message("x closed   o open   h half   s closed to steady, or open")
                       : message("● closed   ○ open   ◐ half   ◎ closed to steady, or open"));
    add_line({});
    add_row(message("sign"), message("holes"), message("note"), message("Hz"), message("cents"));
  }

  void add_entry(const ChartEntry& shown) {
    const flute::Entry& entry = *shown.entry;
    const model::Pitch pitch = pitch_of(flute_, entry);
    const long cents = std::lround(pitch.cents);
    const std::string deviation = cents == 0 ? "0" : fmt::format("{:+}", cents);
    add_row(as_text(shown.fingering), as_text(entry.patterns.front()), note_of(entry),
            fmt::format("{:.1f}", model::frequency_hz(pitch, flute_.tuning_hz())),
            is_approximate(flute_, entry) ? message("about") : deviation);
    for (std::size_t i = 1; i < entry.patterns.size(); ++i) {
      add_row({}, as_text(entry.patterns[i]), message("(also)"), {}, {});
    }
  }

  void add_row(const std::string& sign, const std::string& holes, const std::string& note,
               const std::string& hz, const std::string& cents) {
    constexpr int kNoteWidth = 5;
    add_line(fmt::format("  {}  {}  {} {:>7}  {:>5}", base::padded(sign, sign_width_),
                         base::padded(holes, holes_width_), base::padded(note, kNoteWidth), hz,
                         cents));
  }

  const flute::Flute& flute_;
  std::vector<ChartEntry> shown_;
  bool is_ascii_;
  int sign_width_ = 0;
  int holes_width_ = 0;
  std::string text_;
};

void write_entry(base::JsonWriter& json, const flute::Flute& flute, const ChartEntry& shown) {
  // Mathematical libraries differ in the last place; a thousandth of a hertz is under a cent by
  // far.
  constexpr double kSteps = 1000;
  const flute::Entry& entry = *shown.entry;
  const model::Pitch pitch = pitch_of(flute, entry);
  json.begin_object(base::JsonLayout::one_line);
  json.key("sign").text(printed(shown.fingering));
  json.key("ascii").text(ascii(shown.fingering));
  json.key("register").text(flute::name_of(entry.in));
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

std::string chart_text(const ChartOfFlute& chart, ChartAlphabet alphabet) {
  return ChartText(*chart.flute, *entries_of(chart).value, alphabet == ChartAlphabet::ascii).run();
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
