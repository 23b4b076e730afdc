#include "base/source_text.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::size_t kBytesBetweenMilestones = 1 << 10;

bool is_inside_code_point(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0) == 0x80;
}

}  // namespace

SourceText::SourceText(std::string name, std::string text)
    : name_(std::move(name)),
      text_(std::move(text)),
      has_returns_(text_.find('\r') != std::string::npos) {
  const std::size_t start = text_.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0;
  Milestone line{0, start, start, 0};
  const auto reach = [&](std::size_t end) {
    for (std::size_t at; (at = milestones_.size() * kBytesBetweenMilestones) < end;) {
      if (at > line.counted_to && !is_inside_code_point(text_[at])) {
        line.columns += columns(line.counted_to, at);
        line.counted_to = at;
      }
      milestones_.push_back(line);
    }
  };
  while (const auto next = next_line(line.line_start, text_.size())) {
    reach(*next);
    line = {line.lines_before + 1, *next, *next, 0};
  }
  reach(text_.size());
  milestones_.push_back(line);
}

// Of CR LF the LF ends it.
std::optional<std::size_t> SourceText::next_line(std::size_t at, std::size_t end) const {
  if (!has_returns_) at = std::min(text().substr(0, end).find('\n', at), end);
  for (; at < end; ++at) {
    const bool is_return = text_[at] == '\r' && (at + 1 == text_.size() || text_[at + 1] != '\n');
    if (is_return || text_[at] == '\n') return at + 1;
  }
  return std::nullopt;
}

std::size_t SourceText::columns(std::size_t begin, std::size_t end) const {
  return code_point_count(text().substr(begin, end - begin));
}

Position SourceText::position(std::size_t offset) const {
  offset = std::clamp(offset, milestones_.front().line_start, text_.size());
  Milestone here = milestones_[offset / kBytesBetweenMilestones];
  while (const auto next = next_line(here.counted_to, offset)) {
    here = {here.lines_before + 1, *next, *next, 0};
  }
  return {here.lines_before + 1, here.columns + columns(here.counted_to, offset) + 1};
}

std::string_view SourceText::line(std::size_t number) const {
  if (number == 0 || number > milestones_.back().lines_before + 1) return {};
  const auto after = std::upper_bound(
      milestones_.begin(), milestones_.end(), number,
      [](std::size_t line, const Milestone& milestone) { return line <= milestone.lines_before; });
  Milestone here = *std::prev(after);
  auto next = next_line(here.counted_to, text_.size());
  for (; ++here.lines_before < number; next = next_line(*next, text_.size())) {
    here.line_start = *next;
  }
  std::string_view line =
      text().substr(here.line_start, next.value_or(text_.size()) - here.line_start);
  if (line.ends_with('\n')) line.remove_suffix(1);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

}  // namespace yubifu::base
