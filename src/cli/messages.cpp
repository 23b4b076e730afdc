#include "cli/messages.h"

#include <algorithm>
#include <cstdio>
#include <tuple>

#include "base/message.h"
#include "base/utf8.h"

namespace yubifu::cli {
namespace {

bool comes_before(const base::Diagnostic& a, const base::Diagnostic& b) {
  const auto place = [](const base::Diagnostic& d) {
    return std::tuple(d.where.has_value(), d.where ? d.where->begin : 0);
  };
  return place(a) < place(b);
}

bool is_control(char32_t value) {
  const bool ascii = (value < 0x20 && value != '\n' && value != '\t') || value == 0x7F;
  return ascii || (value >= 0x80 && value < 0xA0);
}

}  // namespace

std::string printed(const base::Diagnostics& diagnostics, const base::SourceText& source) {
  base::Diagnostics ordered = diagnostics;
  std::stable_sort(ordered.begin(), ordered.end(), comes_before);
  std::string text;
  std::size_t count = 0;
  for (const base::Diagnostic& diagnostic : ordered) {
    if (++count > kMostPrintedDiagnostics) break;
    std::string line = base::one_line(diagnostic, source);
    std::replace(line.begin(), line.end(), '\n', ' ');
    text += line + '\n';
  }
  if (ordered.size() > kMostPrintedDiagnostics) {
    text += base::message("{}: note: {} more messages are not shown\n", source.name(),
                          ordered.size() - kMostPrintedDiagnostics);
  }
  return without_control_characters(text);
}

std::string without_control_characters(std::string_view text) {
  std::string clean;
  clean.reserve(text.size());
  while (!text.empty()) {
    const base::CodePoint point = base::first_code_point(text);
    if (is_control(point.value)) {
      base::append_utf8(clean, 0xFFFD);
    } else {
      base::append_utf8(clean, point.value);
    }
    text.remove_prefix(point.size);
  }
  return clean;
}

void print_message(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stderr);
}

}  // namespace yubifu::cli
