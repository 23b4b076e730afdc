#include "base/diagnostic.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"

namespace yubifu::base {
namespace {

/// More stretches of bars than this do not help a reader of messages.
constexpr std::size_t kMostStretches = 20;

bool follows(const std::string& earlier, const std::string& later) {
  const auto from = whole_number<unsigned long>(earlier);
  const auto to = whole_number<unsigned long>(later);
  return from && to && *to > *from && *to - *from == 1;
}

}  // namespace

Diagnostic report(const Rule& rule, std::optional<SourceRange> where, std::string message,
                  std::string hint) {
  return {&rule, rule.severity, where, std::move(message), std::move(hint), {}};
}

bool has_errors(const Diagnostics& diagnostics) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [](const Diagnostic& d) { return d.severity == Severity::error; });
}

void append(Diagnostics& to, Diagnostics from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

std::string one_line(const Diagnostic& diagnostic, const SourceText& source) {
  std::string line = source.name();
  if (diagnostic.where) {
    const Position at = source.position(diagnostic.where->begin);
    line += fmt::format(":{}:{}", at.line, at.column);
  }
  line += fmt::format(": {}: {}", name(diagnostic.severity), diagnostic.message);
  if (!diagnostic.hint.empty()) line += fmt::format(" ({})", diagnostic.hint);
  return line + fmt::format(" [{}]", diagnostic.rule->name);
}

std::string bar_list(const std::vector<std::string>& numbers) {
  if (numbers.size() == 1) return message("bar {}", numbers.front());
  std::string list;
  std::size_t stretches = 0;
  for (std::size_t i = 0; i < numbers.size();) {
    std::size_t last = i;
    while (last + 1 < numbers.size() && follows(numbers[last], numbers[last + 1])) ++last;
    if (last == i + 1) last = i;  // two in a row stay two
    if (++stretches > kMostStretches) {
      return message("bars {} and {} more", list, numbers.size() - i);
    }
    if (!list.empty()) list += ", ";
    list += last > i ? numbers[i] + "-" + numbers[last] : numbers[i];
    i = last + 1;
  }
  return message("bars {}", list);
}

}  // namespace yubifu::base
