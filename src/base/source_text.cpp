#include "base/source_text.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::size_t kBytesBetweenMilestones = 1 << 10;

}  // namespace

SourceText::SourceText(std::string name, std::string text)
    : name_(std::move(name)),
      text_(std::move(text)),
      has_returns_(text_.find('\r') != std::string::npos) {
  Milestone line{0, text_.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0};
  const auto reach = [&](std::size_t end) {
    while (milestones_.size() * kBytesBetweenMilestones < end) milestones_.push_back(line);
  };
  for (auto next = next_line(line.line_start); next; next = next_line(line.line_start)) {
    reach(*next);
    line = {line.lines_before + 1, *next};
  }
  reach(text_.size());
  milestones_.push_back(line);
}

// Of CR LF the LF ends it.
std::optional<std::size_t> SourceText::next_line(std::size_t at) const {
  if (!has_returns_) at = std::min(text_.find('\n', at), text_.size());
  for (; at < text_.size(); ++at) {
    const bool is_return = text_[at] == '\r' && (at + 1 == text_.size() || text_[at + 1] != '\n');
    if (is_return || text_[at] == '\n') return at + 1;
  }
  return std::nullopt;
}

Position SourceText::position(std::size_t offset) const {
  offset = std::clamp(offset, milestones_.front().line_start, text_.size());
  auto [lines_before, line_start] = milestones_[offset / kBytesBetweenMilestones];
  for (auto next = next_line(line_start); next && *next <= offset; next = next_line(line_start)) {
    ++lines_before;
    line_start = *next;
  }
  return {lines_before + 1, code_point_count(text().substr(line_start, offset - line_start)) + 1};
}

std::string_view SourceText::line(std::size_t number) const {
  if (number == 0 || number > milestones_.back().lines_before + 1) return {};
  const auto after = std::upper_bound(
      milestones_.begin(), milestones_.end(), number,
      [](std::size_t line, const Milestone& milestone) { return line <= milestone.lines_before; });
  Milestone at = *std::prev(after);
  auto next = next_line(at.line_start);
  for (; ++at.lines_before < number; next = next_line(at.line_start)) at.line_start = *next;
  std::string_view line = text().substr(at.line_start, next.value_or(text_.size()) - at.line_start);
  if (line.ends_with('\n')) line.remove_suffix(1);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

}  // namespace yubifu::base
