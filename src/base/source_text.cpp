#include "base/source_text.h"

#include <algorithm>
#include <utility>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::size_t kNowhere = std::string::npos;
constexpr std::size_t kLinesBetweenMilestones = 64;

}  // namespace

SourceText::SourceText(std::string name, std::string text)
    : name_(std::move(name)),
      text_(std::move(text)),
      has_carriage_returns_(text_.find('\r') != kNowhere) {
  const std::size_t first = text_.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0;
  for (std::size_t start = first; start != kNowhere; start = line_after(start)) {
    if (line_count_ % kLinesBetweenMilestones == 0) milestones_.push_back(start);
    ++line_count_;
  }
}

// The start of the line after the one that holds an offset.
std::size_t SourceText::line_after(std::size_t offset) const {
  // A large file without carriage returns, the usual case, is searched for line feeds alone.
  const std::size_t end =
      has_carriage_returns_ ? text_.find_first_of("\r\n", offset) : text_.find('\n', offset);
  if (end == kNowhere) return kNowhere;
  return end + (text_.compare(end, 2, "\r\n") == 0 ? 2 : 1);
}

Position SourceText::position(std::size_t offset) const {
  offset = std::clamp(offset, milestones_.front(), text_.size());
  const auto after = std::upper_bound(milestones_.begin(), milestones_.end(), offset);
  const auto milestone = static_cast<std::size_t>(after - milestones_.begin()) - 1;
  std::size_t number = 1 + milestone * kLinesBetweenMilestones;
  std::size_t start = milestones_[milestone];
  for (std::size_t next = line_after(start); next <= offset; next = line_after(next)) {
    start = next;
    ++number;
  }
  return {number, code_point_count(text().substr(start, offset - start)) + 1};
}

std::string_view SourceText::line(std::size_t number) const {
  if (number == 0 || number > line_count_) return {};
  const std::size_t index = number - 1;
  std::size_t start = milestones_[index / kLinesBetweenMilestones];
  for (std::size_t i = 0; i < index % kLinesBetweenMilestones; ++i) start = line_after(start);
  std::string_view line = text().substr(start, line_after(start) - start);
  while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.remove_suffix(1);
  return line;
}

}  // namespace yubifu::base
