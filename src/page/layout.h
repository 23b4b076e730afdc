// The whole score on sheets: how many columns a sheet takes, and all of their items.
#pragma once

#include <vector>

#include "base/outcome.h"
#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

/// At least one sheet. Reports the rules of page/rules.h; no value beside errors.
base::Outcome<std::vector<Sheet>> lay_out(const model::Score& score, const FluteList& flutes,
                                          const PageOptions& options);

/// In millimetres.
struct SheetSize {
  double width = 0;
  double height = 0;
};

/// The size of a sheet: A4 of ISO 216, Letter of ANSI/ASME Y14.1.
SheetSize sheet_size(PaperSize paper, Orientation orientation);

/// What the margins leave of a sheet.
Box area_of(const SheetSize& size);

}  // namespace yubifu::page
