// The fingering chart as lines of text.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/message.h"
#include "base/utf8.h"
#include "page/chart/chart.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

using base::message;

constexpr int kNoteWidth = 5;
// Of lines of words, in widths of a letter in print, which are about half a column.
constexpr double kWidth = 33;

// B♭4: with the printed accidentals.
std::string printed_note(const model::Spelling& spelling) {
  std::string printed;
  for (const char c : to_text(spelling)) {
    if (c == '#') {
      printed += "♯";
    } else if (c == 'b') {
      printed += "♭";
    } else {
      printed += c;
    }
  }
  return printed;
}

std::string name_of(const model::Spelling& spelling, ChartAlphabet alphabet) {
  return alphabet == ChartAlphabet::ascii ? to_text(spelling) : printed_note(spelling);
}

std::string sign_of(const model::Fingering& fingering, ChartAlphabet alphabet) {
  return alphabet == ChartAlphabet::ascii ? ascii(fingering) : printed(fingering);
}

std::string holes_of(const model::HolePattern& pattern, ChartAlphabet alphabet) {
  return alphabet == ChartAlphabet::ascii ? ascii(pattern) : printed(pattern);
}

std::string deviation(double cents) {
  const long rounded = std::lround(cents);
  return rounded == 0 ? "0" : fmt::format("{:+}", rounded);
}

class Chart {
 public:
  Chart(const flute::Flute& flute, const std::vector<ChartEntry>& shown, ChartAlphabet alphabet)
      : flute_(flute), shown_(shown), alphabet_(alphabet) {
    sign_width_ = base::display_width(message("sign"));
    for (const ChartEntry& one : shown) {
      sign_width_ = std::max(sign_width_, base::display_width(sign_of(one.fingering, alphabet)));
    }
    holes_width_ =
        std::max(base::display_width(message("holes")), static_cast<int>(flute.hole_count()));
  }

  std::string text() {
    add_head();
    for (const model::Register in : {model::Register::third, model::Register::second,
                                     model::Register::low, model::Register::tube}) {
      add_register(in);
    }
    if (has_loud(flute_, shown_)) add_caution();
    return std::move(text_);
  }

 private:
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
    add_line(alphabet_ == ChartAlphabet::ascii
                 ? message("x closed   o open   h half   s closed to steady, or open")
                 : message("● closed   ○ open   ◐ half   ◎ closed to steady, or open"));
    add_line({});
    add_row(message("sign"), message("holes"), message("note"), message("Hz"), message("cents"));
  }

  // Highest first, as on a staff.
  void add_register(model::Register in) {
    std::vector<ChartEntry> of_register;
    for (const ChartEntry& one : shown_) {
      if (entry_of(one).in == in) of_register.push_back(one);
    }
    if (of_register.empty()) return;
    std::stable_sort(of_register.begin(), of_register.end(),
                     [this](const ChartEntry& a, const ChartEntry& b) {
                       return entry_of(a).cents > entry_of(b).cents;
                     });
    add_line({});
    add_line(register_name(in));
    for (const ChartEntry& one : of_register) add_entry(one);
  }

  const flute::Entry& entry_of(const ChartEntry& shown) const {
    return flute_.entries()[shown.entry];
  }

  void add_entry(const ChartEntry& shown) {
    const flute::Entry& entry = entry_of(shown);
    const model::Pitch pitch = pitch_of(flute_, entry);
    add_row(sign_of(shown.fingering, alphabet_), holes_of(entry.patterns.front(), alphabet_),
            name_of(staff_note(flute_, entry), alphabet_),
            fmt::format("{:.1f}", model::frequency_hz(pitch, flute_.tuning_hz())),
            is_approximate(flute_, entry) ? message("about") : deviation(pitch.cents));
    for (std::size_t i = 1; i < entry.patterns.size(); ++i) {
      add_row({}, holes_of(entry.patterns[i], alphabet_), message("(also)"), {}, {});
    }
  }

  void add_caution() {
    add_line({});
    for (const std::string& line : wrapped(hearing_caution(), kWidth)) add_line(line);
  }

  void add_row(const std::string& sign, const std::string& holes, const std::string& note,
               const std::string& hz, const std::string& cents) {
    add_line(fmt::format("  {}  {}  {} {:>7}  {:>5}", base::padded(sign, sign_width_),
                         base::padded(holes, holes_width_), base::padded(note, kNoteWidth), hz,
                         cents));
  }

  const flute::Flute& flute_;
  const std::vector<ChartEntry>& shown_;
  ChartAlphabet alphabet_;
  int sign_width_ = 0;
  int holes_width_ = 0;
  std::string text_;
};

}  // namespace

std::string chart_text(const flute::Flute& flute, const ChartTextOptions& options) {
  const std::vector<ChartEntry> shown =
      options.only ? *entries_of(flute, *options.only).value : all_entries(flute);
  return Chart(flute, shown, options.alphabet).text();
}

}  // namespace yubifu::page
