// What the program says: lines and tables for people, reports for machines, the exit status.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "check/findings.h"
#include "check/report.h"

namespace yubifu::cli {

struct Options;

/// What the program ends with.
enum class ExitStatus {
  done = 0,      ///< nothing to report
  findings = 1,  ///< faults found, or something was lost and --strict was given
  unusable = 2,  ///< wrong usage, unreadable input or unwritable output
};

/// The graver of two.
inline ExitStatus worse(ExitStatus a, ExitStatus b) {
  return std::max(a, b);
}

/// check::text_report of diagnostics about one text, in `message_colours`.
std::string printed(const base::Diagnostics& diagnostics, const base::SourceText& source);

/// Colours on a terminal, unless the environment forbids them (NO_COLOR, TERM=dumb).
check::Colours message_colours();

using check::without_control_characters;

/// Says why the program cannot do what it was asked for.
ExitStatus refuse(const std::string& sentence);

/// Prints to standard error.
void print_message(std::string_view text);

/// Prints to standard output; unusable where that fails (a closed pipe, a full disk), which is
/// told.
ExitStatus print_result(std::string_view text);

/// Where a report for machines goes.
enum class ReportTarget { standard_output, standard_error };

/// Writes the report that --report asks for; text was told as the work went on. Gives the exit
/// status of the program: `status`, or unusable when the report could not be written.
ExitStatus finish_report(const Options& options, std::string_view verb, ExitStatus status,
                         const std::vector<check::FileReport>& files, ReportTarget target);

/// Where a column's cells stand when they are narrower than it is.
enum class Aligned { left, right };

/// Of a table for people.
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
