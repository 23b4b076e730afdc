// The heading: a column of text at the right edge, or lines at the top for rows.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "page/sheet/labels.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

constexpr double kLine = 1.3;       // from line to line, in units of the text's size
constexpr double kBaseline = 0.35;  // under the middle of a line
constexpr std::size_t kMostTitleLines = 3;

constexpr std::string_view kMusicBy = "作曲";
constexpr std::string_view kWordsBy = "作詞";

std::string credit(std::string_view what, const std::string& name) {
  return name.empty() ? std::string() : fmt::format("{}　{}", what, name);
}

std::string flute_of(const model::Score& score) {
  if (!score.flutes.empty()) {
    const model::FluteInUse& first = score.flutes.front();
    return flute_label(first.name, first.title);
  }
  return flute_label(score.header.flute.value_or(model::kDefaultFluteSize));
}

// Beat, tempo and tuning, as far as they are to be said.
std::vector<std::vector<LabelPart>> facts_of(const model::Score& score) {
  std::vector<std::vector<LabelPart>> facts;
  if (const auto beat = beat_in_heading(score)) facts.push_back(beat_parts(*beat));
  if (score.header.tempo) facts.push_back(tempo_parts(*score.header.tempo));
  if (score.header.tuning_hz) {
    facts.push_back({fmt::format("A = {:g} Hz", *score.header.tuning_hz)});
  }
  return facts;
}

// In units of the text's size.
double width_of(const std::vector<LabelPart>& parts) {
  double width = 0;
  for (const LabelPart& part : parts) {
    const auto* id = std::get_if<GlyphId>(&part);
    width += id != nullptr ? aspect(*id) : text_width(std::get<std::string>(part));
  }
  return width;
}

// The size, or what lets the parts fit into so much room.
double fitted(const std::vector<LabelPart>& parts, double size, double room) {
  return std::min(size, room / width_of(parts));
}

// The items of label parts on one line, centred at a point or from its left.
std::vector<Item> parts_line(const std::vector<LabelPart>& parts, Point at, double size,
                             TextAnchor anchor) {
  double x = anchor == TextAnchor::middle ? at.x - width_of(parts) * size / 2 : at.x;
  std::vector<Item> items;
  for (const LabelPart& part : parts) {
    const double part_width = width_of({part}) * size;
    if (const auto* id = std::get_if<GlyphId>(&part)) {
      items.push_back(glyph_item(Role::heading, *id, {x + part_width / 2, at.y}, size));
    } else {
      const std::string& text = std::get<std::string>(part);
      items.push_back(line_around(Role::heading, text, {x, at.y}, size, TextAnchor::start));
    }
    x += part_width;
  }
  return items;
}

// The heading at the right edge, for columns.
struct ColumnHeading {
  static constexpr double kFactsWidth = 13;
  static constexpr double kBesideFacts = 2;
  static constexpr double kMostFlute = 0.4;  // of the height

  const model::Score& score;
  Box area;
  double axis = 0;
  double facts_top = 0;
  double line_right = area.right;  // everything of the heading is to the right of it
  std::vector<Item> items = {};

  Heading run() {
    facts();
    const auto count = static_cast<std::ptrdiff_t>(items.size());
    title();
    names();
    // The title is read first.
    std::rotate(items.begin(), items.begin() + count, items.end());
    return {std::move(items), area.right - line_right + style::kHeadingGap};
  }

  // Flute, meter, tempo, tuning from the bottom up, all centred on one axis.
  void facts() {
    const double text = style::kFactText;
    const auto lines = facts_of(score);
    axis = area.right - kFactsWidth / 2;
    double y = area.bottom;
    for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
      const double size = fitted(*line, text, kFactsWidth);
      append(items, parts_line(*line, {axis, y - size * kLine / 2}, size, TextAnchor::middle));
      y -= size * kLine * 1.15;
    }
    y -= text * 0.4;
    y = meter(y);
    const std::string flute = flute_of(score);
    const double length =
        std::min(column_length(flute) * style::kFluteText, area.height() * kMostFlute);
    y -= length + style::kHeadingSpacing / 2;
    append(items, column_of_text(Role::heading, flute, {axis, y}, style::kFluteText, length));
    facts_top = y - style::kHeadingSpacing;
  }

  // Two numbers with a line between; returns the upper edge.
  double meter(double bottom) {
    const model::Meter& meter = score.header.meter;
    const double size = style::kFluteText;
    if (meter.is_free()) {
      const std::string text = meter_text(meter);
      const double length = column_length(text) * size;
      append(items, column_of_text(Role::heading, text, {axis, bottom - length}, size, length));
      return bottom - length;
    }
    const std::string beats = std::to_string(meter.beats);
    const std::string unit = std::to_string(meter.unit);
    const auto line = [&](const std::string& number, double middle) {
      items.push_back(
          bold(line_around(Role::heading, number, {axis, middle}, size, TextAnchor::middle)));
    };
    const double height = size * 1.05;
    const double half = std::max(text_width(beats), text_width(unit)) * size * 0.62;
    line(unit, bottom - height / 2);
    items.push_back(line_item(Role::heading, {axis - half, bottom - height},
                              {axis + half, bottom - height}, 0.3));
    line(beats, bottom - height * 1.5);
    return bottom - 2 * height;
  }

  // As large as fits on one line, else on several.
  void title() {
    const std::string& text = score.header.title;
    const double room = facts_top - area.top;
    line_right = area.right - kFactsWidth - kBesideFacts;
    if (text.empty()) return;
    const double fitting = room / std::max(column_length(text), 1.0);
    const double size = std::clamp(fitting, style::kLeastTitleText, style::kTitleText);
    std::vector<std::string> lines = wrapped(text, room / size);
    if (fitting >= size) lines = {text};
    lines.resize(std::min(lines.size(), kMostTitleLines));
    // A title of more lines than there may be goes on one line, however small.
    const std::string shown = fmt::format("{}", fmt::join(lines, " "));
    if (lines.size() > 1 && shown.size() < text.size()) lines = {text};
    double x = area.right - std::max(kFactsWidth, size * kLine) / 2;
    for (const std::string& line : lines) {
      for (Item& item : column_of_text(Role::heading, line, {x, area.top}, size, room)) {
        items.push_back(bold(std::move(item)));
      }
      x -= size * kLine;
    }
    line_right = std::min(line_right, x + size * kLine - size * 0.75);
  }

  // Subtitle from the top, the names up to the bottom, on as few lines as keep them apart.
  void names() {
    const model::Header& header = score.header;
    const double size = style::kNameText;
    double used_top = area.top;
    double used_bottom = area.bottom;
    bool has_line = false;
    const auto place = [&](const std::string& text, bool at_top, double indent) {
      if (text.empty()) return;
      const double room = area.height() - indent;
      const double length = std::min(column_length(text) * size, room);
      const bool fits = used_bottom - used_top >= length + style::kHeadingSpacing + indent;
      if (!has_line || !fits) {
        line_right -= size * kLine;
        used_top = area.top;
        used_bottom = area.bottom;
        has_line = true;
      }
      const double y = at_top ? used_top + indent : used_bottom - length;
      const double x = line_right + size * kLine / 2;
      append(items, column_of_text(Role::heading, text, {x, y}, size, room));
      (at_top ? used_top : used_bottom) = at_top ? y + length : y - style::kHeadingSpacing;
    };
    place(header.subtitle, true, style::kTitleText);
    place(credit(kMusicBy, header.composer), false, 0);
    place(credit(kWordsBy, header.lyricist), false, 0);
  }
};

// The heading at the top, for rows.
Heading row_heading(const model::Score& score, const Box& area) {
  const model::Header& header = score.header;
  std::vector<Item> items;
  double y = area.top;
  const auto centred = [&](const std::string& text, double size, TextWeight weight) {
    if (text.empty()) return;
    const double fitting = area.width() / std::max(text_width(text), 1.0);
    const double shown = std::min(size, std::max(fitting, size * 0.55));
    for (const std::string& line : wrapped(text, area.width() / shown)) {
      y += shown * kLine;
      const Point at{area.center().x, y - shown * (kLine / 2 - kBaseline)};
      Item item = line_of_text(Role::heading, line, at, shown, TextAnchor::middle);
      items.push_back(weight == TextWeight::bold ? bold(std::move(item)) : std::move(item));
    }
  };
  centred(header.title, style::kTitleText, TextWeight::bold);
  centred(header.subtitle, style::kNameText, TextWeight::regular);
  const double text = style::kFactText;
  y += text * kLine;
  const double middle = y - text * kLine / 2;
  std::vector<LabelPart> line{flute_of(score) + kSpace, meter_text(header.meter) + kSpace};
  for (const std::vector<LabelPart>& fact : facts_of(score)) {
    line.insert(line.end(), fact.begin(), fact.end());
    line.emplace_back(kSpace);
  }
  if (header.tuning_hz) line.pop_back();
  append(items, parts_line(line, {area.left, middle}, fitted(line, text, area.width()),
                           TextAnchor::start));
  double taken = area.left;
  for (const Item& item : items) {
    if (item.box.bottom > middle) taken = std::max(taken, item.box.right);
  }
  // At the right, on the line of the facts if there is room, then below.
  for (const std::string& name :
       {credit(kMusicBy, header.composer), credit(kWordsBy, header.lyricist)}) {
    if (name.empty()) continue;
    const double size = style::kNameText;
    const double width = std::min(text_width(name) * size, area.width());
    if (taken + width + style::kHeadingSpacing > area.right) y += size * kLine;
    taken = area.right;
    items.push_back(line_around(Role::heading, name, {area.right, y - text * kLine / 2}, size,
                                TextAnchor::end, width));
  }
  return {std::move(items), y - area.top + style::kHeadingGap * 0.6};
}

}  // namespace

Heading make_heading(const model::Score& score, ReadingDirection direction, const Box& area) {
  return direction == ReadingDirection::down ? ColumnHeading{score, area}.run()
                                             : row_heading(score, area);
}

}  // namespace yubifu::page
