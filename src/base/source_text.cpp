#include "base/source_text.h"

#include <algorithm>
#include <utility>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

}  // namespace

SourceText::SourceText(std::string name, std::string text)
    : name_(std::move(name)),
      text_(std::move(text)),
      line_starts_{text_.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0} {
  // A large file without carriage returns, the usual case, is searched for line feeds alone.
  if (text_.find('\r') == std::string::npos) {
    line_starts_.reserve(1 +
                         static_cast<std::size_t>(std::count(text_.begin(), text_.end(), '\n')));
    for (std::size_t at = text_.find('\n'); at != std::string::npos;
         at = text_.find('\n', at + 1)) {
      line_starts_.push_back(at + 1);
    }
    return;
  }
  for (std::size_t i = 0; i < text_.size(); ++i) {
    const bool crlf = text_[i] == '\r' && i + 1 < text_.size() && text_[i + 1] == '\n';
    if (text_[i] == '\n' || (text_[i] == '\r' && !crlf)) line_starts_.push_back(i + 1);
  }
}

Position SourceText::position(std::size_t offset) const {
  offset = std::clamp(offset, line_starts_.front(), text_.size());
  const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
  const std::size_t index = static_cast<std::size_t>(after - line_starts_.begin()) - 1;
  const std::size_t start = line_starts_[index];
  return {index + 1, code_point_count(text().substr(start, offset - start)) + 1};
}

std::string_view SourceText::line(std::size_t number) const {
  if (number == 0 || number > line_starts_.size()) return {};
  const std::size_t start = line_starts_[number - 1];
  const std::size_t end = number < line_starts_.size() ? line_starts_[number] : text_.size();
  std::string_view line = text().substr(start, end - start);
  while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.remove_suffix(1);
  return line;
}

}  // namespace yubifu::base
