// The fingering chart as positioned items, and printed.
#include "page/drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "page/chart/chart.h"
#include "page/print/markup.h"
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

// Columns that share a heading; the tube tone stands with the low register.
struct Block {
  std::string name;
  std::vector<PatternColumn> columns;
};

std::vector<Block> blocks_of(const flute::Flute& flute, const std::vector<ChartEntry>& entries) {
  std::vector<Block> blocks;
  for (const Register in : {Register::low, Register::second, Register::third}) {
    Block block{register_name(in), {}};
    for (const ChartEntry& shown : entries) {
      const flute::Entry& entry = flute.entries()[shown.entry];
      if ((entry.in == Register::tube ? Register::low : entry.in) != in) continue;
      for (std::size_t i = 0; i < entry.patterns.size(); ++i) block.columns.push_back({shown, i});
    }
    if (!block.columns.empty()) blocks.push_back(std::move(block));
  }
  return blocks;
}

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

  std::vector<Sheet> run(const std::vector<Block>& blocks) {
    new_sheet();
    add_title();
    add_key();
    for (const Block& block : blocks) add_block(block);
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

  void add_block(const Block& block) {
    const std::size_t rows = (block.columns.size() + columns_in_row_ - 1) / columns_in_row_;
    // Rows of even length read better than a full one with a rest.
    const std::size_t in_row = (block.columns.size() + rows - 1) / rows;
    for (std::size_t begin = 0; begin < block.columns.size(); begin += in_row) {
      const double name_room = style::kChartName * 2;
      if (!endless_ && y_ + name_room + row_height_ > area_.bottom - footer_room()) new_sheet();
      y_ += style::kChartName;
      const std::string heading = begin == 0 ? block.name : message("{}, continued", block.name);
      text(heading, {area_.left, y_}, style::kChartName, TextAnchor::start, TextWeight::bold);
      y_ += style::kChartName;
      add_row(block, begin, std::min(begin + in_row, block.columns.size()));
    }
  }

  static double footer_room() { return 4 * style::kFooterLine + style::kAboveFooter; }

  double holes_top() const { return y_ + style::kChartSignRoom; }

  double below_holes() const {
    return holes_top() + static_cast<double>(flute_.hole_count()) * style::kChartHolePitch;
  }

  void add_row(const Block& block, std::size_t begin, std::size_t end) {
    add_row_labels();
    double x = area_.left + style::kChartLabels + style::kChartColumn / 2;
    for (std::size_t i = begin; i < end; ++i, x += style::kChartColumn) {
      add_column(block.columns[i], x);
    }
    y_ += row_height_ + style::kChartGap;
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
    const flute::Entry& entry = flute_.entries()[column.shown.entry];
    if (column.pattern == 0) {
      // The half hole's sign at the right is balanced by moving the sign a little to the left.
      const bool half = column.shown.fingering.half != model::HalfHole::none;
      const Point center{x - (half ? style::kChartSign * 0.18 : 0), y_ + style::kChartSignRoom / 2};
      ToneDrawer drawer(Role::chart, center, style::kChartSign);
      drawer.add_sign(*column.shown.fingering.sign);
      drawer.add_half_hole(column.shown.fingering.half, style::kSmallSign * style::kChartSign);
      append(sheets_.back().items, drawer.take());
    } else {
      text(message("or"), {x, y_ + style::kChartSignRoom / 2}, style::kChartName,
           TextAnchor::middle);
    }
    add_pipe(entry.patterns[column.pattern], x);
    if (column.pattern == 0) add_pitch(entry, x);
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

SheetSize size_of(ChartSize size) {
  switch (size) {
    case ChartSize::screen:
      return {style::kChartScreenWidth, 0};
    case ChartSize::a4:
      return sheet_size(PaperSize::a4, Orientation::portrait);
    case ChartSize::letter:
      return sheet_size(PaperSize::letter, Orientation::portrait);
  }
  return {};
}

void add_footer(std::vector<Sheet>& sheets, const std::string& caution, ChartSize size) {
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    Sheet& sheet = sheets[i];
    Box area = area_of({sheet.width, sheet.height});
    const auto lines = footer_lines({caution}, area.width());
    if (size == ChartSize::screen) {
      // The sheet grows by its foot.
      sheet.height += footer_height(lines);
      area = area_of({sheet.width, sheet.height});
    }
    append(sheet.items, draw_footer(lines, area, page_line(i + 1, sheets.size())));
  }
}

}  // namespace

std::vector<Sheet> chart_sheets(const flute::Flute& flute, const std::vector<ChartEntry>& entries,
                                const SheetSize& size) {
  return ChartDrawer(flute, size).run(blocks_of(flute, entries));
}

base::Outcome<std::vector<Sheet>> chart_sheets(const model::Score& score, const FluteList& flutes,
                                               const SheetSize& size) {
  base::Outcome<std::vector<Sheet>> result;
  result.value.emplace();
  for (const FluteUse& use : flutes_used(score, flutes)) {
    auto entries = entries_of(*use.flute, use.fingerings);
    base::append(result.diagnostics, std::move(entries.diagnostics));
    for (Sheet& sheet : chart_sheets(*use.flute, *entries.value, size)) {
      result.value->push_back(std::move(sheet));
    }
  }
  return result;
}

base::Outcome<std::vector<Sheet>> lay_out_chart(const flute::Flute& flute,
                                                const ChartSvgOptions& options) {
  base::Outcome<std::vector<Sheet>> result;
  std::vector<ChartEntry> entries;
  if (options.only) {
    auto wanted = entries_of(flute, *options.only);
    result.diagnostics = std::move(wanted.diagnostics);
    entries = std::move(*wanted.value);
  } else {
    entries = all_entries(flute);
  }
  result.value = chart_sheets(flute, entries, size_of(options.size));
  add_footer(*result.value, has_loud(flute, entries) ? hearing_caution() : std::string(),
             options.size);
  return result;
}

base::Outcome<std::vector<std::string>> write_chart_svg(const flute::Flute& flute,
                                                        const ChartSvgOptions& options) {
  auto sheets = lay_out_chart(flute, options);
  base::Outcome<std::vector<std::string>> result{std::vector<std::string>(),
                                                 std::move(sheets.diagnostics)};
  for (const Sheet& sheet : *sheets.value) result.value->push_back(svg_document({sheet}));
  return result;
}

}  // namespace yubifu::page
