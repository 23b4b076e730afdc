// Prints sheets as SVG, HTML and PDF. Nothing is decided here but how a shape is spelled.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

/// The width of a text on one line at size 1 with the fonts at hand; 0 where it is not known.
using TextMeasure = std::function<double(const std::string& text, TextWeight weight)>;

/// One document of its own: all sheets under one another. With a measure each text is stretched by
/// hand to the length that it should have, for a program that does not do so itself.
std::string svg_document(const std::vector<Sheet>& sheets, const TextMeasure& measure = {});

/// A document of one text with the id "text", to be measured.
std::string svg_of_text(const std::string& text, TextWeight weight, double size);

/// What the properties of a document say; an empty text says nothing.
struct DocumentFacts {
  std::string title;
  std::string author;
};

/// One page a sheet, drawn as by svg_document(): signs over the text that finds them, embedded
/// fonts. The same sheets and fonts give the same bytes. Reports `page-no-pdf` where librsvg and
/// cairo were not built in or fail, and `page-no-letter`.
base::Outcome<std::vector<std::string>> pdf_document(const std::vector<Sheet>& sheets,
                                                     const DocumentFacts& facts);

/// The documents of sheets, self-contained.
base::Outcome<std::vector<std::string>> documents_of(const std::vector<Sheet>& sheets, PrintedAs as,
                                                     const DocumentFacts& facts);

}  // namespace yubifu::page
