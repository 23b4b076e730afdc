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
    : name_(std::move(name)), text_(std::move(text)) {
  Milestone next{0, text_.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0};
  for (std::size_t at = 0; at < text_.size(); ++at) {
    if (at % kBytesBetweenMilestones == 0) milestones_.push_back(next);
    if (ends_line(at)) next = {next.lines_before + 1, at + 1};
  }
  milestones_.push_back(next);
}

// Of CR LF the LF does.
bool SourceText::ends_line(std::size_t at) const {
  if (text_[at] == '\n') return true;
  return text_[at] == '\r' && (at + 1 == text_.size() || text_[at + 1] != '\n');
}

Position SourceText::position(std::size_t offset) const {
  offset = std::clamp(offset, milestones_.front().line_start, text_.size());
  std::size_t at = offset / kBytesBetweenMilestones;
  auto [lines_before, line_start] = milestones_[at];
  for (at *= kBytesBetweenMilestones; at < offset; ++at) {
    if (!ends_line(at)) continue;
    ++lines_before;
    line_start = at + 1;
  }
  return {lines_before + 1, code_point_count(text().substr(line_start, offset - line_start)) + 1};
}

std::string_view SourceText::line(std::size_t number) const {
  if (number == 0 || number > milestones_.back().lines_before + 1) return {};
  const auto after = std::upper_bound(
      milestones_.begin(), milestones_.end(), number,
      [](std::size_t line, const Milestone& milestone) { return line <= milestone.lines_before; });
  Milestone at = *std::prev(after);
  std::size_t end = at.line_start;
  while (true) {
    while (end < text_.size() && !ends_line(end)) ++end;
    if (++at.lines_before == number) break;
    at.line_start = ++end;
  }
  std::string_view line = text().substr(at.line_start, end - at.line_start);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

}  // namespace yubifu::base
