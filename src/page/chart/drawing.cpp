// The fingering chart as positioned items, and printed.
#include "page/drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <iterator>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "page/chart/chart.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

using base::message;
using model::Register;

// One column of the chart: an entry with one of its patterns.
struct PatternColumn {
  ChartEntry shown;
  std::size_t pattern = 0;
};

struct ChartDrawer {
  const flute::Flute& flute;
  SheetSize paper;  // as high as need be where it has no height
  Box area = area_of(paper);
  double row_height = style::kChartSignRoom +
                      static_cast<double>(flute.hole_count()) * style::kChartHolePitch +
                      style::kChartNote + 3 * style::kChartLine;
  std::size_t columns_in_row = static_cast<std::size_t>(
      std::max(1.0, std::floor((area.width() - style::kChartLabels) / style::kChartColumn)));
  double top = 0;  // of what comes next
  std::vector<Sheet> sheets = {};

  std::vector<Sheet> run(const std::vector<ChartEntry>& entries) {
    new_sheet();
    add_title();
    add_key();
    // The tube tone stands with the low register.
    for (const Register in : {Register::low, Register::second, Register::third}) {
      std::vector<PatternColumn> columns;
      for (const ChartEntry& shown : entries) {
        const Register of = shown.entry->in;
        if ((of == Register::tube ? Register::low : of) != in) continue;
        for (std::size_t i = 0; i < shown.entry->patterns.size(); ++i) {
          columns.push_back({shown, i});
        }
      }
      if (!columns.empty()) add_block(register_name(in), columns);
    }
    for (Sheet& sheet : sheets) {
      sheet.height = (is_endless() ? top : area.bottom) + style::kMarginBottom;
    }
    return std::move(sheets);
  }

  bool is_endless() const { return paper.height <= 0; }

  void new_sheet() {
    Sheet& sheet = sheets.emplace_back();
    sheet.width = paper.width;
    sheet.title = message("Fingering chart, {}", name());
    sheet.description = message(
        "Fingering chart of the flute {}: for each sign the holes from the mouth end to "
        "the foot, the staff note, its frequency and its deviation in cents.",
        name());
    top = area.top;
  }

  std::string name() const { return flute_label(flute.name(), flute.title()); }

  void push(Item item) { sheets.back().items.push_back(std::move(item)); }

  void text(const std::string& words, Point middle, double size, TextAnchor anchor,
            TextWeight weight = TextWeight::regular) {
    Item item = line_around(Role::chart, words, middle, size, anchor);
    push(weight == TextWeight::bold ? bold(std::move(item)) : std::move(item));
  }

  void add_title() {
    const double size =
        std::min(style::kChartTitle, area.width() * 0.7 / std::max(1.0, text_width(name())));
    top += style::kChartTitle / 2;
    text(name(), {area.left, top}, size, TextAnchor::start, TextWeight::bold);
    std::string reference = fmt::format("A = {:g} Hz", flute.tuning_hz());
    if (const auto celsius = flute.concert_celsius()) {
      reference += fmt::format(", {:g} °C", *celsius);
    }
    text(reference, {area.right, top}, style::kChartText, TextAnchor::end);
    top += style::kChartTitle;
  }

  // What the circles mean, on as many lines as needed.
  void add_key() {
    const std::array<std::pair<model::Hole, std::string>, 4> kinds{
        {{model::Hole::closed, message("closed")},
         {model::Hole::open, message("open")},
         {model::Hole::half, message("half closed")},
         {model::Hole::steadying, message("closed to steady the flute, or open")}}};
    constexpr double kBetween = 6;
    const double size = style::kChartText;
    double x = area.left;
    for (const auto& [hole, words] : kinds) {
      const double taken = 2 * style::kChartHole + size * 0.5 + text_width(words) * size;
      if (x > area.left && x + taken > area.right) {
        x = area.left;
        top += style::kChartHolePitch;
      }
      add_hole(hole, {x + style::kChartHole, top});
      text(words, {x + 2 * style::kChartHole + size * 0.5, top}, size, TextAnchor::start);
      x += taken + kBetween;
    }
    top += style::kChartHolePitch;
  }

  void add_hole(model::Hole hole, Point center) {
    push(hole_item(Role::chart, hole, center, style::kChartHole));
  }

  void add_block(const std::string& name, const std::vector<PatternColumn>& columns) {
    const std::size_t rows = (columns.size() + columns_in_row - 1) / columns_in_row;
    // Rows of even length read better than a full one with a rest.
    const std::size_t in_row = (columns.size() + rows - 1) / rows;
    for (std::size_t begin = 0; begin < columns.size(); begin += in_row) {
      constexpr double kFooterRoom = 4 * style::kFooterLine + style::kAboveFooter;
      const double room = style::kChartName * 2 + row_height;
      if (!is_endless() && top + room > area.bottom - kFooterRoom) new_sheet();
      top += style::kChartName;
      const std::string heading = begin == 0 ? name : message("{}, continued", name);
      text(heading, {area.left, top}, style::kChartName, TextAnchor::start, TextWeight::bold);
      top += style::kChartName;
      add_row_labels();
      double x = area.left + style::kChartLabels + style::kChartColumn / 2;
      for (std::size_t i = begin; i < std::min(begin + in_row, columns.size()); ++i) {
        add_column(columns[i], x);
        x += style::kChartColumn;
      }
      top += row_height + style::kChartGap;
    }
  }

  double holes_top() const { return top + style::kChartSignRoom; }

  double below_holes() const {
    return holes_top() + static_cast<double>(flute.hole_count()) * style::kChartHolePitch;
  }

  void add_row_labels() {
    const double size = style::kChartText;
    const double x = area.left;
    text(message("mouth"), {x, holes_top() + style::kChartHolePitch / 2}, size, TextAnchor::start);
    text(message("foot"), {x, below_holes() - style::kChartHolePitch / 2}, size, TextAnchor::start);
    const double first = below_holes() + style::kChartNote;
    text(message("note"), {x, first}, size, TextAnchor::start);
    text(message("Hz"), {x, first + style::kChartLine}, size, TextAnchor::start);
    text(message("cents"), {x, first + 2 * style::kChartLine}, size, TextAnchor::start);
  }

  void add_column(const PatternColumn& column, double x) {
    const auto& [fingering, entry] = column.shown;
    if (column.pattern == 0) {
      // The half hole's sign at the right is balanced by moving the sign a little to the left.
      const bool half = fingering.half != model::HalfHole::none;
      const Point center{x - (half ? style::kChartSign * 0.18 : 0),
                         top + style::kChartSignRoom / 2};
      append(sheets.back().items,
             draw_sign(Role::chart, {fingering, {}, {}, {}}, center, style::kChartSign,
                       style::kSmallSign * style::kChartSign)
                 .items);
    } else {
      text(message("or"), {x, top + style::kChartSignRoom / 2}, style::kChartName,
           TextAnchor::middle);
    }
    add_pipe(entry->patterns[column.pattern], x);
    if (column.pattern == 0) add_pitch(*entry, x);
  }

  void add_pipe(const model::HolePattern& pattern, double x) {
    const double half_width = style::kChartHolePitch / 2 + 0.4;
    const Box box{x - half_width, holes_top(), x + half_width, below_holes()};
    push(frame_item(Role::chart, box, 0.2));
    double y = holes_top() + style::kChartHolePitch / 2;
    for (const model::Hole hole : pattern.holes) {
      add_hole(hole, {x, y});
      y += style::kChartHolePitch;
    }
  }

  void add_pitch(const flute::Entry& entry, double x) {
    const model::Pitch pitch = pitch_of(flute, entry);
    const double first = below_holes() + style::kChartNote;
    append(sheets.back().items, note_name(Role::chart, staff_note(flute, entry), {x, first},
                                          style::kChartNote, style::kChartColumn));
    text(fmt::format("{:.1f}", model::frequency_hz(pitch, flute.tuning_hz())),
         {x, first + style::kChartLine}, style::kChartText, TextAnchor::middle);
    const long cents = std::lround(pitch.cents);
    // With the minus sign of print.
    const std::string_view sign = cents == 0 ? "" : cents < 0 ? "−" : "+";
    text(is_approximate(flute, entry) ? message("about")
                                      : fmt::format("{}{}", sign, std::abs(cents)),
         {x, first + 2 * style::kChartLine}, style::kChartText, TextAnchor::middle);
  }
};

}  // namespace

base::Outcome<std::vector<Sheet>> chart_sheets(const std::vector<ChartOfFlute>& charts,
                                               const SheetSize& size) {
  base::Outcome<std::vector<Sheet>> result{std::vector<Sheet>(), {}};
  for (const ChartOfFlute& chart : charts) {
    auto entries = entries_of(chart);
    base::append(result.diagnostics, std::move(entries.diagnostics));
    auto sheets = ChartDrawer{*chart.flute, size}.run(*entries.value);
    std::move(sheets.begin(), sheets.end(), std::back_inserter(*result.value));
  }
  return result;
}

base::Outcome<std::vector<Sheet>> lay_out_chart(const ChartOfFlute& chart, ChartSize size) {
  const bool endless = size == ChartSize::screen;
  const PaperSize paper = size == ChartSize::a4 ? PaperSize::a4 : PaperSize::letter;
  auto sheets = chart_sheets({chart}, endless ? SheetSize{style::kChartScreenWidth, 0}
                                              : sheet_size(paper, Orientation::portrait));
  const bool loud = has_loud(*chart.flute, *entries_of(chart).value);
  const std::string caution = loud ? hearing_caution() : "";
  std::size_t number = 0;
  for (Sheet& sheet : *sheets.value) {
    // A sheet without end grows by its foot.
    const double width = area_of({sheet.width, sheet.height}).width();
    if (endless) sheet.height += footer_height({caution}, width);
    const Box area = area_of({sheet.width, sheet.height});
    append(sheet.items, draw_footer({caution}, area, page_line(++number, sheets.value->size())));
  }
  return sheets;
}

}  // namespace yubifu::page
