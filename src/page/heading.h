// Title, names, flute, meter and tempo at the head of a score, and the foot of every sheet.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "model/score.h"
#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

/// What stands at the head, and the room it takes.
struct Heading {
  std::vector<Item> items;
  double room = 0;  ///< what it takes from the right edge, or from the top when read across
};

/// The heading within the area of the sheet that its margins leave: a column of text at the right
/// edge, or lines at the top when read across.
Heading make_heading(const model::Score& score, ReadingDirection direction, const Box& area);

/// What the foot says: caution, source, rights.
std::vector<std::string> footer_texts(const model::Score& score, const std::string& caution);

/// The texts in lines that fit into `width`.
std::vector<std::string> footer_lines(const std::vector<std::string>& texts, double width);

/// The room that the foot takes, with the page number.
double footer_height(const std::vector<std::string>& lines);

/// The items of the foot; `area` as for the heading, `page` counts from 1. `title` stands before
/// the page number, so that loose sheets find together again.
std::vector<Item> draw_footer(const std::vector<std::string>& lines, const Box& area,
                              std::size_t page, std::size_t pages, const std::string& title = {});

}  // namespace yubifu::page
