// Prints sheets as a PDF file.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "page/drawing.h"

namespace yubifu::page {

/// What the properties of a document say; an empty text says nothing.
struct DocumentFacts {
  std::string title;
  std::string author;
};

/// One page a sheet, of its size, the same as svg_document() draws it: signs are drawn shapes over
/// the text that finds them, fonts are embedded. The same sheets and fonts give the same bytes.
/// Reports `page-no-pdf` where the program was built without librsvg and cairo, or these fail, and
/// `page-no-letter`.
base::Outcome<std::string> pdf_document(const std::vector<Sheet>& sheets,
                                        const DocumentFacts& facts);

}  // namespace yubifu::page
