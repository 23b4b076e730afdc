#include "musicxml/xml/xml_tags.h"

#include <algorithm>

namespace yubifu::musicxml {
namespace {

constexpr std::string_view kSpace = " \t\r\n";

}  // namespace

std::optional<Tag> TagScanner::next() {
  while (true) {
    const std::size_t begin = text_.find('<', at_);
    if (begin == std::string_view::npos) return std::nullopt;
    const std::string_view rest = text_.substr(begin);
    if (rest.starts_with("<!--")) {
      at_ = behind("-->", begin + 4);
    } else if (rest.starts_with("<![CDATA[")) {
      at_ = behind("]]>", begin);
    } else if (rest.starts_with("<!")) {
      at_ = behind_doctype(begin);
    } else if (rest.starts_with("<?")) {
      at_ = behind("?>", begin);
    } else {
      at_ = behind_tag(begin);
      return tag_at(begin, at_);
    }
  }
}

std::size_t TagScanner::behind(std::string_view end, std::size_t from) const {
  const std::size_t found = text_.find(end, from);
  return found == std::string_view::npos ? text_.size() : found + end.size();
}

std::size_t TagScanner::behind_doctype(std::size_t from) const {
  int brackets = 0;
  std::size_t i = from;
  while (i < text_.size()) {
    const char c = text_[i];
    const std::string_view rest = text_.substr(i);
    if (c == '"' || c == '\'') {
      i = behind(rest.substr(0, 1), i + 1);
    } else if (rest.starts_with("<!--")) {
      i = behind("-->", i + 4);
    } else if (rest.starts_with("<?")) {
      i = behind("?>", i);
    } else {
      if (c == '[') ++brackets;
      if (c == ']') --brackets;
      ++i;
      if (c == '>' && brackets <= 0) return i;
    }
  }
  return text_.size();
}

std::size_t TagScanner::behind_tag(std::size_t from) const {
  std::size_t i = from;
  while (true) {
    i = text_.find_first_of(">\"'", i);
    if (i == std::string_view::npos) return text_.size();
    if (text_[i] == '>') return i + 1;
    i = text_.find(text_[i], i + 1);
    if (i == std::string_view::npos) return text_.size();
    ++i;
  }
}

Tag TagScanner::tag_at(std::size_t begin, std::size_t end) const {
  const bool closes = text_.substr(begin, end - begin).starts_with("</");
  const std::size_t name_begin = begin + (closes ? 2 : 1);
  const std::size_t name_end = std::min(text_.find_first_of("/> \t\r\n", name_begin), end);
  const bool empty = end >= begin + 2 && text_[end - 2] == '/';
  const TagKind kind = closes ? TagKind::end : empty ? TagKind::empty : TagKind::start;
  return {kind, text_.substr(name_begin, name_end - std::min(name_begin, name_end)), begin, end};
}

std::string_view attribute_in(std::string_view tag, std::string_view name) {
  std::size_t at = std::min(tag.find_first_of(kSpace), tag.size());
  while (true) {
    at = tag.find_first_not_of(kSpace, at);
    const std::size_t equals = tag.find('=', at);
    if (at >= tag.size() || equals == std::string_view::npos) return {};
    const std::size_t open = tag.find_first_of("\"'", equals);
    if (open == std::string_view::npos) return {};
    const std::size_t close = tag.find(tag[open], open + 1);
    if (close == std::string_view::npos) return {};
    std::string_view key = tag.substr(at, equals - at);
    key = key.substr(0, key.find_first_of(kSpace));
    if (key == name) return tag.substr(open + 1, close - open - 1);
    at = close + 1;
  }
}

std::size_t start_of_space(std::string_view text, std::size_t at) {
  const std::size_t last = text.substr(0, at).find_last_not_of(kSpace);
  return last == std::string_view::npos ? 0 : last + 1;
}

std::size_t end_of_space(std::string_view text, std::size_t at) {
  return std::min(text.find_first_not_of(kSpace, at), text.size());
}

std::string spliced(std::string_view text, std::vector<Insertion> insertions) {
  std::stable_sort(insertions.begin(), insertions.end(),
                   [](const Insertion& a, const Insertion& b) { return a.offset < b.offset; });
  std::size_t size = text.size();
  for (const Insertion& insertion : insertions) size += insertion.text.size();
  std::string out;
  out.reserve(size);
  std::size_t at = 0;
  for (const Insertion& insertion : insertions) {
    out += text.substr(at, insertion.offset - at);
    out += insertion.text;
    at = insertion.offset;
  }
  out += text.substr(at);
  return out;
}

std::string without(std::string_view text, std::vector<base::SourceRange> ranges) {
  std::sort(
      ranges.begin(), ranges.end(),
      [](const base::SourceRange& a, const base::SourceRange& b) { return a.begin < b.begin; });
  std::string out;
  out.reserve(text.size());
  std::size_t at = 0;
  for (const base::SourceRange& range : ranges) {
    out += text.substr(at, range.begin - at);
    at = range.end;
  }
  out += text.substr(at);
  return out;
}

}  // namespace yubifu::musicxml
