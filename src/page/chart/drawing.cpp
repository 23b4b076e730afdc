// The fingering chart as positioned items, and printed.
#include "page/drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
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

class ChartDrawer {
 public:
  ChartDrawer(const flute::Flute& flute, const SheetSize& size)
      : flute_(flute), width_(size.width), area_(area_of(size)), endless_(size.height <= 0) {
    row_height_ = style::kChartSignRoom +
                  static_cast<double>(flute.hole_count()) * style::kChartHolePitch +
                  style::kChartNote + 3 * style::kChartLine;
    columns_in_row_ = static_cast<std::size_t>(
        std::max(1.0, std::floor((area_.width() - style::kChartLabels) / style::kChartColumn)));
  }

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
        for (std::size_t i = 0; i < shown.entry->patterns.size(); ++i)
          columns.push_back({shown, i});
      }
      if (!columns.empty()) add_block(register_name(in), columns);
    }
    for (Sheet& sheet : sheets_) {
      sheet.height = endless_ ? y_ + style::kMarginBottom : area_.bottom + style::kMarginBottom;
    }
    return std::move(sheets_);
  }

 private:
  void new_sheet() {
    Sheet& sheet = sheets_.emplace_back();
    sheet.width = width_;
    sheet.title = message("Fingering chart, {}", name());
    sheet.description = message(
        "Fingering chart of the flute {}: for each sign the holes from the mouth end to "
        "the foot, the staff note, its frequency and its deviation in cents.",
        name());
    y_ = area_.top;
  }

  std::string name() const { return flute_label(flute_.name(), flute_.title()); }

  void push(Item item) { sheets_.back().items.push_back(std::move(item)); }

  void text(const std::string& words, Point middle, double size, TextAnchor anchor,
            TextWeight weight = TextWeight::regular) {
    Item item = line_around(Role::chart, words, middle, size, anchor);
    push(weight == TextWeight::bold ? bold(std::move(item)) : std::move(item));
  }

  void add_title() {
    const double size =
        std::min(style::kChartTitle, area_.width() * 0.7 / std::max(1.0, text_width(name())));
    y_ += style::kChartTitle / 2;
    text(name(), {area_.left, y_}, size, TextAnchor::start, TextWeight::bold);
    std::string reference = fmt::format("A = {:g} Hz", flute_.tuning_hz());
    if (const auto celsius = flute_.concert_celsius()) {
      reference += fmt::format(", {:g} °C", *celsius);
    }
    text(reference, {area_.right, y_}, style::kChartText, TextAnchor::end);
    y_ += style::kChartTitle;
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
    double x = area_.left;
    for (const auto& [hole, words] : kinds) {
      const double taken = 2 * style::kChartHole + size * 0.5 + text_width(words) * size;
      if (x > area_.left && x + taken > area_.right) {
        x = area_.left;
        y_ += style::kChartHolePitch;
      }
      add_hole(hole, {x + style::kChartHole, y_});
      text(words, {x + 2 * style::kChartHole + size * 0.5, y_}, size, TextAnchor::start);
      x += taken + kBetween;
    }
    y_ += style::kChartHolePitch;
  }

  void add_hole(model::Hole hole, Point center) {
    push(hole_item(Role::chart, hole, center, style::kChartHole));
  }

  void add_block(const std::string& name, const std::vector<PatternColumn>& columns) {
    const std::size_t rows = (columns.size() + columns_in_row_ - 1) / columns_in_row_;
    // Rows of even length read better than a full one with a rest.
    const std::size_t in_row = (columns.size() + rows - 1) / rows;
    for (std::size_t begin = 0; begin < columns.size(); begin += in_row) {
      constexpr double kFooterRoom = 4 * style::kFooterLine + style::kAboveFooter;
      const double room = style::kChartName * 2 + row_height_;
      if (!endless_ && y_ + room > area_.bottom - kFooterRoom) new_sheet();
      y_ += style::kChartName;
      const std::string heading = begin == 0 ? name : message("{}, continued", name);
      text(heading, {area_.left, y_}, style::kChartName, TextAnchor::start, TextWeight::bold);
      y_ += style::kChartName;
      add_row_labels();
      double x = area_.left + style::kChartLabels + style::kChartColumn / 2;
      for (std::size_t i = begin; i < std::min(begin + in_row, columns.size()); ++i) {
        add_column(columns[i], x);
        x += style::kChartColumn;
      }
      y_ += row_height_ + style::kChartGap;
    }
  }

  double holes_top() const { return y_ + style::kChartSignRoom; }

  double below_holes() const {
    return holes_top() + static_cast<double>(flute_.hole_count()) * style::kChartHolePitch;
  }

  void add_row_labels() {
    const double size = style::kChartText;
    const double x = area_.left;
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
      const Point center{x - (half ? style::kChartSign * 0.18 : 0), y_ + style::kChartSignRoom / 2};
      append(sheets_.back().items,
             draw_sign(Role::chart, {fingering, {}, {}, {}}, center, style::kChartSign,
                       style::kSmallSign * style::kChartSign)
                 .items);
    } else {
      text(message("or"), {x, y_ + style::kChartSignRoom / 2}, style::kChartName,
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
    const model::Pitch pitch = pitch_of(flute_, entry);
    const double first = below_holes() + style::kChartNote;
    append(sheets_.back().items, note_name(Role::chart, staff_note(flute_, entry), {x, first},
                                           style::kChartNote, style::kChartColumn));
    text(fmt::format("{:.1f}", model::frequency_hz(pitch, flute_.tuning_hz())),
         {x, first + style::kChartLine}, style::kChartText, TextAnchor::middle);
    const long cents = std::lround(pitch.cents);
    // With the minus sign of print.
    const std::string_view sign = cents == 0 ? "" : cents < 0 ? "−" : "+";
    text(is_approximate(flute_, entry) ? message("about")
                                       : fmt::format("{}{}", sign, std::abs(cents)),
         {x, first + 2 * style::kChartLine}, style::kChartText, TextAnchor::middle);
  }

  const flute::Flute& flute_;
  double width_;
  Box area_;
  bool endless_;
  double row_height_ = 0;
  std::size_t columns_in_row_ = 1;
  double y_ = 0;
  std::vector<Sheet> sheets_;
};

}  // namespace

std::vector<Sheet> chart_sheets(const flute::Flute& flute, const std::vector<ChartEntry>& entries,
                                const SheetSize& size) {
  return ChartDrawer(flute, size).run(entries);
}

base::Outcome<std::vector<Sheet>> chart_sheets(const std::vector<ChartOfFlute>& charts,
                                               const SheetSize& size) {
  base::Outcome<std::vector<Sheet>> result{std::vector<Sheet>(), {}};
  for (const ChartOfFlute& chart : charts) {
    auto entries = entries_of(chart);
    base::append(result.diagnostics, std::move(entries.diagnostics));
    for (Sheet& sheet : chart_sheets(*chart.flute, *entries.value, size)) {
      result.value->push_back(std::move(sheet));
    }
  }
  return result;
}

base::Outcome<std::vector<Sheet>> lay_out_chart(const ChartOfFlute& chart, ChartSize size) {
  const bool endless = size == ChartSize::screen;
  const PaperSize paper = size == ChartSize::a4 ? PaperSize::a4 : PaperSize::letter;
  auto entries = entries_of(chart);
  auto sheets = chart_sheets(
      *chart.flute, *entries.value,
      endless ? SheetSize{style::kChartScreenWidth, 0} : sheet_size(paper, Orientation::portrait));
  const std::string caution = has_loud(*chart.flute, *entries.value) ? hearing_caution() : "";
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    Sheet& sheet = sheets[i];
    // A sheet without end grows by its foot.
    const double width = area_of({sheet.width, sheet.height}).width();
    if (endless) sheet.height += footer_height({caution}, width);
    const Box area = area_of({sheet.width, sheet.height});
    append(sheet.items, draw_footer({caution}, area, page_line(i + 1, sheets.size())));
  }
  return {std::move(sheets), std::move(entries.diagnostics)};
}

}  // namespace yubifu::page
