#include "page/drawn.h"

#include <map>
#include <memory>

#include <gtest/gtest.h>

#include "base/source_text.h"
#include "flute/flute.h"
#include "notation/read/reader.h"

namespace yubifu::page {

model::Score score_of(const std::string& text) {
  const base::SourceText source("test", text);
  auto outcome = notation::read_notation(source);
  for (const auto& found : outcome.diagnostics) ADD_FAILURE() << found.message;
  return outcome.value.value();
}

std::vector<Sheet> sheets_of(const std::string& text, const PageOptions& asked) {
  PageOptions options = asked;
  options.scale = asked.scale.value_or(1);
  const auto flute = std::make_shared<const flute::Flute>(flute::built_in_flute({8, 0}, 440));
  auto sheets = lay_out(score_of(text), {flute}, options);
  EXPECT_TRUE(sheets.value.has_value());
  return std::move(sheets.value).value();
}

Sheet sheet_of(const std::string& text, const PageOptions& options) {
  std::vector<Sheet> sheets = sheets_of(text, options);
  EXPECT_EQ(sheets.size(), 1u);
  return sheets.front();
}

std::string bars(int count, const std::string& bar) {
  std::string text;
  for (int i = 0; i < count; ++i) text += bar + (i + 1 == count ? " |=\n" : " |\n");
  return text;
}

PageOptions across() {
  PageOptions options;
  options.direction = ReadingDirection::across;
  return options;
}

std::vector<Item> with_role(const Sheet& sheet, Role role) {
  std::vector<Item> found;
  for (const Item& item : sheet.items) {
    if (item.role == role) found.push_back(item);
  }
  return found;
}

std::vector<std::string> glyph_names(const std::vector<Item>& items) {
  std::vector<std::string> names;
  for (const Item& item : items) {
    if (const auto* shape = std::get_if<GlyphShape>(&item.shape)) {
      names.emplace_back(glyph(shape->glyph).name);
    }
  }
  return names;
}

std::vector<LineShape> lines(const std::vector<Item>& items) {
  std::vector<LineShape> found;
  for (const Item& item : items) {
    if (const auto* line = std::get_if<LineShape>(&item.shape)) found.push_back(*line);
  }
  return found;
}

std::vector<std::string> texts(const Sheet& sheet, Role role) {
  std::vector<std::string> found;
  for (const Item& item : with_role(sheet, role)) {
    if (const auto* text = std::get_if<TextShape>(&item.shape)) found.push_back(text->text);
    if (const auto* stack = std::get_if<StackShape>(&item.shape)) {
      std::string joined;
      for (const auto& character : stack->characters) joined += character.text;
      found.push_back(joined);
    }
    if (const auto* unseen = std::get_if<UnseenText>(&item.shape)) {
      std::string joined;
      for (const auto& run : unseen->runs) joined += (joined.empty() ? "" : " ") + run.text;
      found.push_back(joined);
    }
  }
  return found;
}

std::vector<Box> number_boxes(const Sheet& sheet) {
  std::map<std::size_t, Box> boxes;
  for (const Item& item : with_role(sheet, Role::number)) {
    const auto [at, fresh] = boxes.emplace(item.note.value(), item.box);
    if (!fresh) at->second = joined(at->second, item.box);
  }
  std::vector<Box> found;
  for (const auto& [note, box] : boxes) found.push_back(box);
  return found;
}

}  // namespace yubifu::page
