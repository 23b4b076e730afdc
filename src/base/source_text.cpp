#include "base/source_text.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::size_t kBytesBetweenMilestones = 1 << 14;

// The loops have no branch, so that compilers turn them into vector instructions.
constexpr std::size_t kLineBlock = 64;

std::size_t line_feeds_in(const char* block) {
  unsigned char count = 0;
  for (std::size_t i = 0; i < kLineBlock; ++i) {
    count = static_cast<unsigned char>(count + (block[i] == '\n'));
  }
  return count;
}

bool has_carriage_return(const char* block) {
  unsigned char found = 0;
  for (std::size_t i = 0; i < kLineBlock; ++i) {
    found |= static_cast<unsigned char>(block[i] == '\r');
  }
  return found != 0;
}

}  // namespace

SourceText::SourceText(std::string name, std::string text)
    : name_(std::move(name)), text_(std::move(text)) {
  Milestone next{0, text_.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0};
  milestones_.push_back(next);
  for (std::size_t begin = 0; begin < text_.size(); begin += kBytesBetweenMilestones) {
    const std::size_t end = std::min(begin + kBytesBetweenMilestones, text_.size());
    next.lines_before += line_ends_in(begin, end);
    next.line_start = last_line_start(begin, end).value_or(next.line_start);
    milestones_.push_back(next);
  }
}

// Of CR LF the LF does.
bool SourceText::ends_line(std::size_t at) const {
  if (text_[at] == '\n') return true;
  return text_[at] == '\r' && (at + 1 == text_.size() || text_[at + 1] != '\n');
}

std::size_t SourceText::line_ends_in(std::size_t begin, std::size_t end) const {
  std::size_t count = 0;
  while (begin < end) {
    const char* const block = text_.data() + begin;
    const std::size_t block_end = std::min(begin + kLineBlock, end);
    if (block_end - begin == kLineBlock && !has_carriage_return(block)) {
      count += line_feeds_in(block);
      begin = block_end;
    }
    for (; begin < block_end; ++begin) count += ends_line(begin) ? 1 : 0;
  }
  return count;
}

// Behind the last line end of a piece of the text.
std::optional<std::size_t> SourceText::last_line_start(std::size_t begin, std::size_t end) const {
  for (; end > begin; --end) {
    if (ends_line(end - 1)) return end;
  }
  return std::nullopt;
}

Position SourceText::position(std::size_t offset) const {
  offset = std::clamp(offset, milestones_.front().line_start, text_.size());
  const std::size_t passed = offset / kBytesBetweenMilestones;
  const Milestone& milestone = milestones_[passed];
  const std::size_t from = passed * kBytesBetweenMilestones;
  const std::size_t start = last_line_start(from, offset).value_or(milestone.line_start);
  return {1 + milestone.lines_before + line_ends_in(from, offset),
          code_point_count(text().substr(start, offset - start)) + 1};
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
