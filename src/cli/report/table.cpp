#include "cli/report/table.h"

#include <algorithm>

#include "base/utf8.h"

namespace yubifu::cli {
namespace {

std::string aligned(const std::string& text, int width, Aligned side) {
  if (side == Aligned::left) return base::padded(text, width);
  const int missing = std::max(0, width - base::display_width(text));
  return std::string(static_cast<std::size_t>(missing), ' ') + text;
}

std::string trimmed(std::string line) {
  while (line.ends_with(' ')) line.pop_back();
  return line + '\n';
}

}  // namespace

std::string laid_out(const std::vector<Column>& columns, std::size_t rows) {
  std::vector<int> widths;
  for (const Column& one : columns) {
    int width = base::display_width(one.heading);
    for (const std::string& cell : one.cells) width = std::max(width, base::display_width(cell));
    widths.push_back(width);
  }
  const auto line = [&](auto cell_of) {
    std::string text;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (i > 0) text += "  ";
      text += aligned(cell_of(columns[i]), widths[i], columns[i].side);
    }
    return trimmed(std::move(text));
  };
  std::string text = line([](const Column& one) { return one.heading; });
  for (std::size_t row = 0; row < rows; ++row) {
    text += line([&](const Column& one) { return one.cells[row]; });
  }
  return text;
}

}  // namespace yubifu::cli
