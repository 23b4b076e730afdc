// Tables for people: columns side by side, as wide as what stands in them.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace yubifu::cli {

/// Where a column's cells stand when they are narrower than it is.
enum class Aligned { left, right };

struct Column {
  std::string heading;
  Aligned side = Aligned::right;
  std::vector<std::string> cells;  ///< one for each row
};

/// A column of what `text` makes of each row.
template <typename Row, typename Text>
Column column(std::string heading, Aligned side, const std::vector<Row>& rows, Text text) {
  Column made{std::move(heading), side, {}};
  for (const Row& row : rows) made.cells.push_back(text(row));
  return made;
}

/// A line that names the columns and one for each row, in columns of a terminal.
std::string laid_out(const std::vector<Column>& columns);

}  // namespace yubifu::cli
