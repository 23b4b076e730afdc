// The tags of an XML text with their places, one after the other, and changes at many places of
// it. For those who change the text itself: a parsed tree does not tell where an element ends.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"

namespace yubifu::musicxml {

enum class TagKind { start, end, empty };

/// Bytes [begin, end) of the text, from "<" to behind ">".
struct Tag {
  TagKind kind = TagKind::start;
  std::string_view name;
  std::size_t begin = 0;
  std::size_t end = 0;
};

/// Passes over comments, processing instructions, CDATA and the document type. The text must be
/// well-formed; of any other text it gives some tags and stops.
class TagScanner {
 public:
  explicit TagScanner(std::string_view text) : text_(text) {}

  /// Nothing at the end of the text.
  std::optional<Tag> next();

 private:
  std::size_t behind(std::string_view end, std::size_t from) const;
  std::size_t behind_doctype(std::size_t from) const;
  std::size_t behind_tag(std::size_t from) const;
  Tag tag_at(std::size_t begin, std::size_t end) const;

  std::string_view text_;
  std::size_t at_ = 0;
};

/// The value of an attribute as it is written in a start tag; empty without it.
std::string_view attribute_in(std::string_view tag, std::string_view name);

/// Where the white space begins that ends at `at`.
std::size_t start_of_space(std::string_view text, std::size_t at);

/// Where the white space ends that begins at `at`.
std::size_t end_of_space(std::string_view text, std::size_t at);

struct Insertion {
  std::size_t offset = 0;
  std::string text;
};

/// The text with the insertions; of several at one place the earlier ones of the list come first.
std::string spliced(std::string_view text, std::vector<Insertion> insertions);

/// The text without these ranges, which must not overlap.
std::string without(std::string_view text, std::vector<base::SourceRange> ranges);

}  // namespace yubifu::musicxml
