// Pages of small texts, and the items on them that a test looks at.
#pragma once

#include <string>
#include <vector>

#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

/// Reads a fingering text; fails the test when there is anything to say against it.
model::Score score_of(const std::string& text);

/// The pages of a fingering text for flute 8, with digits 6 mm high where the options leave their
/// size open; fails the test when there are none.
std::vector<Sheet> sheets_of(const std::string& text, const PageOptions& options = {});

/// The only page of a fingering text.
Sheet sheet_of(const std::string& text, const PageOptions& options = {});

/// A text of so many equal bars.
std::string bars(int count, const std::string& bar = "三 四 五 六");

PageOptions across();

/// The items with a role, in order.
std::vector<Item> with_role(const Sheet& sheet, Role role);

/// The names of the shapes from the table of glyphs among the items, in order.
std::vector<std::string> glyph_names(const std::vector<Item>& items);

/// The items that are lines, as lines.
std::vector<LineShape> lines(const std::vector<Item>& items);

/// All texts with a role, a stack of upright characters joined; in order.
std::vector<std::string> texts(const Sheet& sheet, Role role);

/// The boxes of the notes' signs, one a note, in order: number, dot and frame joined.
std::vector<Box> number_boxes(const Sheet& sheet);

}  // namespace yubifu::page
