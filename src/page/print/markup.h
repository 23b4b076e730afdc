// Prints sheets as SVG and HTML. Nothing is decided here but how a shape is spelled.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "page/drawing.h"

namespace yubifu::page {

/// The width of a text on one line at size 1 with the fonts at hand; 0 where it is not known.
using TextMeasure = std::function<double(const std::string& text, TextWeight weight)>;

/// One document of its own: all sheets under one another. With a measure each text is stretched by
/// hand to the length that it should have, for a program that does not do so itself.
std::string svg_document(const std::vector<Sheet>& sheets, const TextMeasure& measure = {});

/// A document of one text with the id "text", to be measured.
std::string svg_of_text(const std::string& text, TextWeight weight, double size);

/// A self-contained HTML document that prints one sheet a page.
std::string html_document(const std::vector<Sheet>& sheets, const std::string& title);

}  // namespace yubifu::page
