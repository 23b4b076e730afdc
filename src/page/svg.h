// Prints sheets as SVG. Nothing is decided here but how a shape is spelled.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "page/drawing.h"

namespace yubifu::page {

/// The language of descriptions, which are messages: "en", "ja".
std::string message_language();

/// A number of millimetres with at most two decimals.
std::string number_text(double value);

/// One document of its own: all sheets under one another.
std::string svg_document(const std::vector<Sheet>& sheets);

/// The glyphs that the sheets use, to be defined once in a document; ids begin with "yf-".
std::string svg_definitions(const std::vector<Sheet>& sheets);

/// `<svg>` of one sheet for use inside HTML, without the definitions. `number` makes ids unique.
std::string svg_of_sheet(const Sheet& sheet, std::size_t number);

}  // namespace yubifu::page
