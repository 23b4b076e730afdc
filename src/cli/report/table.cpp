#include "cli/report/table.h"

#include <algorithm>

#include "base/utf8.h"

namespace yubifu::cli {

std::string laid_out(const std::vector<Column>& columns) {
  std::vector<int> widths;
  for (const Column& one : columns) {
    int width = base::display_width(one.heading);
    for (const std::string& cell : one.cells) width = std::max(width, base::display_width(cell));
    widths.push_back(width);
  }
  std::string text;
  const auto add_line = [&](const auto& cell_of) {
    std::string line;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::string& cell = cell_of(columns[i]);
      const auto missing = static_cast<std::size_t>(widths[i] - base::display_width(cell));
      if (i > 0) line += "  ";
      if (columns[i].side == Aligned::right) line += std::string(missing, ' ');
      line += cell;
      if (columns[i].side == Aligned::left) line += std::string(missing, ' ');
    }
    while (line.ends_with(' ')) line.pop_back();
    text += line + '\n';
  };
  add_line([](const Column& one) -> const std::string& { return one.heading; });
  for (std::size_t row = 0; row < columns.front().cells.size(); ++row) {
    add_line([&](const Column& one) -> const std::string& { return one.cells[row]; });
  }
  return text;
}

}  // namespace yubifu::cli
