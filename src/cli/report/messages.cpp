#include "cli/report/messages.h"

#include <cstdio>
#include <cstdlib>

#include <fmt/format.h>
#include <unistd.h>

#include "base/file.h"
#include "base/message.h"
#include "base/utf8.h"
#include "cli/options/options.h"
#include "cli/rules.h"

namespace yubifu::cli {

std::string printed(const base::Diagnostics& diagnostics, const base::SourceText& source) {
  check::FileReport report{source.name(), {}, {}};
  check::add_located(report, diagnostics, source);
  return check::text_report(report, message_colours());
}

check::Colours message_colours() {
  const char* terminal = std::getenv("TERM");
  const bool dumb = terminal == nullptr || std::string_view(terminal) == "dumb";
  const bool coloured = ::isatty(STDERR_FILENO) == 1 && environment("NO_COLOR").empty() && !dumb;
  return coloured ? check::Colours::terminal : check::Colours::none;
}

ExitStatus refuse(const std::string& sentence) {
  // The word of severity is the same in every language, as it is in findings.
  print_message(without_control_characters(
      fmt::format("yubifu: {}: {}\n", base::name(base::Severity::error), sentence)));
  return ExitStatus::unusable;
}

void print_message(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stderr);
}

ExitStatus print_result(std::string_view text) {
  const base::Diagnostics failed = base::write_file("-", text);
  print_message(printed(failed, base::SourceText(base::message("standard output"), {})));
  return failed.empty() ? ExitStatus::done : ExitStatus::unusable;
}

ExitStatus finish_report(const Options& options, std::string_view verb, ExitStatus status,
                         const std::vector<check::FileReport>& files, ReportTarget target) {
  const check::ReportWriter write = check::report_writer(options.report);
  if (write == nullptr) return status;
  const check::RunFacts facts{YUBIFU_VERSION, std::string(verb), static_cast<int>(status),
                              all_rules()};
  const std::string report = write(files, facts);
  if (target == ReportTarget::standard_error) {
    print_message(report);
    return status;
  }
  return worse(status, print_result(report));
}

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
