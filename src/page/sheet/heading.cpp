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

std::string tuning_of(const model::Score& score) {
  if (!score.header.tuning_hz) return {};
  return fmt::format("A = {:g} Hz", *score.header.tuning_hz);
}

// In units of the text's size.
double width_of(const LabelPart& part) {
  const auto* id = std::get_if<GlyphId>(&part);
  return id != nullptr ? aspect(*id) : text_width(std::get<std::string>(part));
}

double width_of(const std::vector<LabelPart>& parts) {
  double width = 0;
  for (const LabelPart& part : parts) width += width_of(part);
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
    const double part_width = width_of(part) * size;
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
class ColumnHeading {
 public:
  ColumnHeading(const model::Score& score, const Box& area)
      : score_(score), area_(area), line_right_(area.right) {}

  Heading run() {
    facts();
    const auto count = static_cast<std::ptrdiff_t>(items_.size());
    title();
    names();
    // The title is read first.
    std::rotate(items_.begin(), items_.begin() + count, items_.end());
    return {std::move(items_), area_.right - line_right_ + style::kHeadingGap};
  }

 private:
  // Flute, meter, tempo, tuning from the bottom up, all centred on one axis.
  void facts() {
    const double text = style::kFactText;
    std::vector<std::vector<LabelPart>> lines;
    if (const auto beat = beat_in_heading(score_)) lines.push_back(beat_parts(*beat));
    if (score_.header.tempo) lines.push_back(tempo_parts(*score_.header.tempo));
    if (const std::string tuning = tuning_of(score_); !tuning.empty()) lines.push_back({tuning});
    axis_ = area_.right - kFactsWidth / 2;
    double y = area_.bottom;
    for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
      const double size = fitted(*line, text, kFactsWidth);
      append(items_, parts_line(*line, {axis_, y - size * kLine / 2}, size, TextAnchor::middle));
      y -= size * kLine * 1.15;
    }
    y -= text * 0.4;
    y = meter(y);
    const std::string flute = flute_of(score_);
    const double length =
        std::min(column_length(flute) * style::kFluteText, area_.height() * kMostFlute);
    y -= length + style::kHeadingSpacing / 2;
    append(items_, column_of_text(Role::heading, flute, {axis_, y}, style::kFluteText, length));
    bottom_ = y - style::kHeadingSpacing;
  }

  // Two numbers with a line between; returns the upper edge.
  double meter(double bottom) {
    const model::Meter& meter = score_.header.meter;
    const double size = style::kFluteText;
    if (meter.is_free()) {
      const std::string text = meter_text(meter);
      const double length = column_length(text) * size;
      append(items_, column_of_text(Role::heading, text, {axis_, bottom - length}, size, length));
      return bottom - length;
    }
    const std::string beats = std::to_string(meter.beats);
    const std::string unit = std::to_string(meter.unit);
    const auto line = [&](const std::string& number, double middle) {
      items_.push_back(
          bold(line_around(Role::heading, number, {axis_, middle}, size, TextAnchor::middle)));
    };
    const double height = size * 1.05;
    const double half = std::max(text_width(beats), text_width(unit)) * size * 0.62;
    line(unit, bottom - height / 2);
    items_.push_back(line_item(Role::heading, {axis_ - half, bottom - height},
                               {axis_ + half, bottom - height}, 0.3));
    line(beats, bottom - height * 1.5);
    return bottom - 2 * height;
  }

  // As large as fits on one line, else on several.
  void title() {
    const std::string& text = score_.header.title;
    const double room = bottom_ - area_.top;
    line_right_ = area_.right - kFactsWidth - kBesideFacts;
    if (text.empty()) return;
    const double fitting = room / std::max(column_length(text), 1.0);
    const double size = std::clamp(fitting, style::kLeastTitleText, style::kTitleText);
    std::vector<std::string> lines = wrapped(text, room / size);
    if (fitting >= size) lines = {text};
    lines.resize(std::min(lines.size(), kMostTitleLines));
    // A title of more lines than there may be goes on one line, however small.
    const std::string shown = fmt::format("{}", fmt::join(lines, " "));
    if (lines.size() > 1 && shown.size() < text.size()) lines = {text};
    double x = area_.right - std::max(kFactsWidth, size * kLine) / 2;
    for (const std::string& line : lines) {
      for (Item& item : column_of_text(Role::heading, line, {x, area_.top}, size, room)) {
        items_.push_back(bold(std::move(item)));
      }
      x -= size * kLine;
    }
    line_right_ = std::min(line_right_, x + size * kLine - size * 0.75);
  }

  // Subtitle from the top, the names up to the bottom, on as few lines as keep them apart.
  void names() {
    const model::Header& header = score_.header;
    const double size = style::kNameText;
    double used_top = area_.top;
    double used_bottom = area_.bottom;
    bool has_line = false;
    const auto place = [&](const std::string& text, bool at_top, double indent) {
      if (text.empty()) return;
      const double room = area_.height() - indent;
      const double length = std::min(column_length(text) * size, room);
      const bool fits = used_bottom - used_top >= length + style::kHeadingSpacing + indent;
      if (!has_line || !fits) {
        line_right_ -= size * kLine;
        used_top = area_.top;
        used_bottom = area_.bottom;
        has_line = true;
      }
      const double y = at_top ? used_top + indent : used_bottom - length;
      const double x = line_right_ + size * kLine / 2;
      append(items_, column_of_text(Role::heading, text, {x, y}, size, room));
      (at_top ? used_top : used_bottom) = at_top ? y + length : y - style::kHeadingSpacing;
    };
    place(header.subtitle, true, style::kTitleText);
    place(credit(kMusicBy, header.composer), false, 0);
    place(credit(kWordsBy, header.lyricist), false, 0);
  }

  static constexpr double kFactsWidth = 13;
  static constexpr double kBesideFacts = 2;
  static constexpr double kMostFlute = 0.4;  // of the height

  const model::Score& score_;
  Box area_;
  double axis_ = 0;
  double bottom_ = 0;
  double line_right_;  // everything of the heading is to the right of it
  std::vector<Item> items_;
};

// The heading at the top, for rows.
class RowHeading {
 public:
  RowHeading(const model::Score& score, const Box& area)
      : score_(score), area_(area), y_(area.top) {}

  Heading run() {
    centred(score_.header.title, style::kTitleText, bold);
    centred(score_.header.subtitle, style::kNameText, [](Item item) { return item; });
    last_line();
    return {std::move(items_), y_ - area_.top + style::kHeadingGap * 0.6};
  }

 private:
  void centred(const std::string& text, double size, Item (*weighted)(Item)) {
    if (text.empty()) return;
    const double fitting = area_.width() / std::max(text_width(text), 1.0);
    const double shown = std::min(size, std::max(fitting, size * 0.55));
    for (const std::string& line : wrapped(text, area_.width() / shown)) {
      y_ += shown * kLine;
      const Point at{area_.center().x, y_ - shown * (kLine / 2 - kBaseline)};
      items_.push_back(weighted(line_of_text(Role::heading, line, at, shown, TextAnchor::middle)));
    }
  }

  void last_line() {
    const double size = style::kFactText;
    y_ += size * kLine;
    const double middle = y_ - size * kLine / 2;
    std::vector<LabelPart> facts{flute_of(score_) + kSpace,
                                 meter_text(score_.header.meter) + kSpace};
    const auto add = [&](std::vector<LabelPart> parts) {
      for (LabelPart& part : parts) facts.push_back(std::move(part));
      facts.emplace_back(kSpace);
    };
    if (const auto beat = beat_in_heading(score_)) add(beat_parts(*beat));
    if (score_.header.tempo) add(tempo_parts(*score_.header.tempo));
    if (const std::string tuning = tuning_of(score_); !tuning.empty()) facts.emplace_back(tuning);
    append(items_, parts_line(facts, {area_.left, middle}, fitted(facts, size, area_.width()),
                              TextAnchor::start));
    double taken = area_.left;
    for (const Item& item : items_) {
      if (item.box.bottom > middle) taken = std::max(taken, item.box.right);
    }
    name(credit(kMusicBy, score_.header.composer), taken);
    name(credit(kWordsBy, score_.header.lyricist), taken);
  }

  // At the right, on the line of the facts if there is room, then below.
  void name(const std::string& text, double& taken) {
    if (text.empty()) return;
    const double size = style::kNameText;
    const double width = std::min(text_width(text) * size, area_.width());
    if (taken + width + style::kHeadingSpacing > area_.right) y_ += size * kLine;
    taken = area_.right;
    items_.push_back(line_around(Role::heading, text,
                                 {area_.right, y_ - style::kFactText * kLine / 2}, size,
                                 TextAnchor::end, width));
  }

  const model::Score& score_;
  Box area_;
  double y_;
  std::vector<Item> items_;
};

}  // namespace

Heading make_heading(const model::Score& score, ReadingDirection direction, const Box& area) {
  return direction == ReadingDirection::down ? ColumnHeading(score, area).run()
                                             : RowHeading(score, area).run();
}

}  // namespace yubifu::page
