// Prints sheets as SVG and HTML. Nothing is decided here but how a shape is spelled.
#pragma once

#include <string>
#include <vector>

#include "page/drawing.h"

namespace yubifu::page {

/// One document of its own: all sheets under one another.
std::string svg_document(const std::vector<Sheet>& sheets);

/// A self-contained HTML document that prints one sheet a page.
std::string html_document(const std::vector<Sheet>& sheets, const std::string& title);

}  // namespace yubifu::page
