#include "page/texts.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/utf8.h"
#include "flute/flute.h"
#include "page/style.h"

namespace yubifu::page {
namespace {

// Widths of a common sans-serif, by kind of character.
constexpr double kNarrow = 0.28;
constexpr double kLower = 0.54;
constexpr double kDigit = 0.56;
constexpr double kCapital = 0.69;
constexpr double kBroad = 0.87;
constexpr double kOther = 0.6;

constexpr std::u32string_view kNarrowLetters = U" \u00a0!',./:;Iijlft|()[]`-";
constexpr std::u32string_view kBroadLetters = U"mwMW@%";

// Long vowel marks, dashes and brackets run along the column.
constexpr std::u32string_view kTurned = U"ー〜～…‥―（）［］｛｝「」『』【】〈〉《》〔〕：；＝－｜";
// Small kana and full stops stand in the upper right of their cell.
constexpr std::u32string_view kSmallKana = U"ぁぃぅぇぉっゃゅょゎァィゥェォッャュョヮヵヶ";
constexpr std::u32string_view kStops = U"、。，．";
constexpr double kSmallKanaShift = 0.12;
constexpr double kStopShift = 0.55;

constexpr std::array<std::string_view, 14> kSizes{"",   "一", "二", "三", "四",   "五",   "六",
                                                  "七", "八", "九", "十", "十一", "十二", "十三"};

bool is_among(std::u32string_view list, char32_t value) {
  return list.find(value) != std::u32string_view::npos;
}

double character_width(char32_t value) {
  if (base::is_combining_mark(value)) return 0;
  if (base::display_width(value) == 2) return 1;
  if (is_among(kNarrowLetters, value)) return kNarrow;
  if (is_among(kBroadLetters, value)) return kBroad;
  if (value >= 'a' && value <= 'z') return kLower;
  if (value >= '0' && value <= '9') return kDigit;
  if (value >= 'A' && value <= 'Z') return kCapital;
  return kOther;
}

// Calls `use` with each character and its bytes.
template <typename Use>
void each_character(std::string_view text, const Use& use) {
  while (!text.empty()) {
    const base::CodePoint next = base::first_code_point(text);
    use(next.value, text.substr(0, next.size));
    text.remove_prefix(next.size);
  }
}

StackShape::Character placed(const std::string& character, Point center, double size) {
  const char32_t value = base::first_code_point(character).value;
  if (is_among(kSmallKana, value)) {
    center.x += kSmallKanaShift * size;
    center.y -= kSmallKanaShift * size;
  } else if (is_among(kStops, value)) {
    center.x += kStopShift * size;
    center.y -= kStopShift * size;
  }
  return {character, center, is_among(kTurned, value)};
}

Item upright_run(Role role, const ColumnRun& run, Point top, double size) {
  StackShape stack{.characters = {}, .size = size};
  double y = top.y;
  for (const std::string& character : run.characters) {
    stack.characters.push_back(placed(character, {top.x, y + size / 2}, size));
    y += size;
  }
  return {role, stack, {top.x - size / 2, top.y, top.x + size / 2, y}};
}

Item sideways_run(Role role, const ColumnRun& run, Point top, double size) {
  constexpr double kRunBaseline = 0.34;  // from the middle of the run
  const TextShape text{.text = run.text,
                       .at = {top.x - kRunBaseline * size, top.y},
                       .size = size,
                       .length = text_width(run.text) * size,
                       .turn = TextTurn::quarter};
  const Box box{text.at.x - kDescent * size, top.y, text.at.x + kAscent * size,
                top.y + text.length};
  return {role, text, box};
}

double length_of(const ColumnRun& run) {
  return run.upright ? static_cast<double>(run.characters.size()) : text_width(run.text);
}

// In lines that fit into `width`.
std::vector<std::string> footer_lines(const std::vector<std::string>& texts, double width) {
  std::vector<std::string> lines;
  for (const std::string& text : texts) {
    const auto more = base::wrapped(text, width / style::kFooterText, character_width);
    lines.insert(lines.end(), more.begin(), more.end());
  }
  return lines;
}

}  // namespace

double text_width(std::string_view text) {
  double width = 0;
  each_character(text, [&](char32_t value, std::string_view) { width += character_width(value); });
  return width;
}

std::vector<ColumnRun> column_runs(std::string_view text) {
  std::vector<ColumnRun> runs;
  each_character(text, [&](char32_t value, std::string_view bytes) {
    if (base::is_combining_mark(value) && !runs.empty()) {
      auto& last = runs.back();
      (last.upright ? last.characters.back() : last.text) += bytes;
      return;
    }
    const bool upright = base::display_width(value) == 2;
    if (runs.empty() || runs.back().upright != upright) runs.push_back({upright});
    if (upright) {
      runs.back().characters.emplace_back(bytes);
    } else {
      runs.back().text += bytes;
    }
  });
  return runs;
}

double column_length(std::string_view text) {
  double length = 0;
  for (const ColumnRun& run : column_runs(text)) length += length_of(run);
  return length;
}

std::vector<std::string> wrapped(std::string_view text, double most) {
  return base::wrapped(text, most, character_width);
}

Item line_of_text(Role role, std::string text, Point at, double size, TextAnchor anchor,
                  double width) {
  const double length = width > 0 ? width : text_width(text) * size;
  double left = at.x;
  if (anchor == TextAnchor::middle) left -= length / 2;
  if (anchor == TextAnchor::end) left -= length;
  const Box box{left, at.y - kAscent * size, left + length, at.y + kDescent * size};
  return {role, TextShape{std::move(text), at, size, length, anchor}, box};
}

Item line_around(Role role, std::string text, Point middle, double size, TextAnchor anchor,
                 double width) {
  constexpr double kUnderMiddle = 0.35;  // the line that letters stand on
  return line_of_text(role, std::move(text), {middle.x, middle.y + kUnderMiddle * size}, size,
                      anchor, width);
}

std::vector<Item> column_of_text(Role role, std::string_view text, Point top, double size,
                                 double most) {
  const double length = column_length(text);
  if (length * size > most) size = most / length;
  std::vector<Item> items;
  for (const ColumnRun& run : column_runs(text)) {
    items.push_back(run.upright ? upright_run(role, run, top, size)
                                : sideways_run(role, run, top, size));
    top.y += length_of(run) * size;
  }
  return items;
}

Item bold(Item item) {
  if (auto* text = std::get_if<TextShape>(&item.shape)) text->weight = TextWeight::bold;
  if (auto* stack = std::get_if<StackShape>(&item.shape)) stack->weight = TextWeight::bold;
  return item;
}

std::vector<Item> note_name(Role role, const model::Spelling& spelling, Point center, double size,
                            double most) {
  constexpr double kAccidental = 0.85;  // height, in units of the text's
  const std::string step(1, letter(spelling.step));
  const std::string octave = std::to_string(spelling.octave);
  const GlyphId accidental = spelling.alter < 0 ? GlyphId::flat : GlyphId::sharp;
  const int count = std::abs(spelling.alter);
  const double units =
      text_width(step) + count * kAccidental * aspect(accidental) + text_width(octave);
  size = std::min(size, most / units);
  double x = center.x - units * size / 2;
  std::vector<Item> items;
  const auto add_text = [&](const std::string& text) {
    const double width = text_width(text) * size;
    items.push_back(
        bold(line_around(role, text, {x + width / 2, center.y}, size, TextAnchor::middle)));
    x += width;
  };
  add_text(step);
  for (int i = 0; i < count; ++i) {
    const double height = kAccidental * size;
    const double width = aspect(accidental) * height;
    items.push_back(glyph_item(role, accidental, {x + width / 2, center.y - 0.04 * size}, height));
    x += width;
  }
  add_text(octave);
  return items;
}

std::string syllable_text(const model::Syllable& syllable) {
  if (!word_goes_on(syllable.kind) || syllable.text.empty()) return syllable.text;
  const bool wide = base::display_width(base::first_code_point(syllable.text).value) == 2;
  return wide ? syllable.text : syllable.text + "-";
}

std::string flute_label(const model::FluteName& name, const std::string& title) {
  const auto* size = std::get_if<model::FluteSize>(&name);
  if (size == nullptr) return title;
  const bool plain = size->size.is_whole() && size->size.numerator() > 0 &&
                     size->size.numerator() < static_cast<std::int64_t>(kSizes.size());
  std::string label = plain ? std::string(kSizes[static_cast<std::size_t>(size->size.numerator())])
                            : to_decimal(size->size);
  label += "本調子";
  if (size->cents != 0) label += fmt::format("{:+}c", size->cents);
  return label;
}

std::string flute_label(const model::FluteName& name) {
  const auto* path = std::get_if<model::FlutePath>(&name);
  return flute_label(name, path != nullptr ? path->path : std::string());
}

std::string hearing_caution() {
  std::string text = flute::hearing_caution();
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return base::message("{}.", text);
}

double footer_height(const std::vector<std::string>& texts, double width) {
  const auto lines = static_cast<double>(footer_lines(texts, width).size());
  return style::kFooterLine * (lines + 1) + style::kAboveFooter;
}

std::string page_line(std::size_t page, std::size_t pages, const std::string& title) {
  const std::string number = fmt::format("{} / {}", page, pages);
  return title.empty() ? number : title + kSpace + number;
}

std::vector<Item> draw_footer(const std::vector<std::string>& texts, const Box& area,
                              std::string page) {
  constexpr double kAboveBottom = 1;
  const auto lines = footer_lines(texts, area.width());
  std::vector<Item> items;
  double y = area.bottom - kAboveBottom - style::kFooterLine * static_cast<double>(lines.size());
  for (const std::string& line : lines) {
    items.push_back(line_of_text(Role::footer, line, {area.left, y}, style::kFooterText));
    y += style::kFooterLine;
  }
  const double size = std::min(style::kFooterText, area.width() / text_width(page));
  items.push_back(
      line_of_text(Role::footer, std::move(page), {area.center().x, y}, size, TextAnchor::middle));
  return items;
}

}  // namespace yubifu::page
