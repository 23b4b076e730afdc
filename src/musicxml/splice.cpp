#include "musicxml/splice.h"

#include <algorithm>

namespace yubifu::musicxml {

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
