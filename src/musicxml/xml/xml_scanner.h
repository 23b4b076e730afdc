// The tags of an XML text with their places, one after the other, and its first fault: pugixml lets
// pass what XML forbids, does not say what it stopped at, nor where an element ends.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// Elements nest at most this deep; music needs about ten levels.
inline constexpr std::size_t kDeepestNesting = 200;

struct XmlFault {
  const base::Rule* rule = nullptr;
  std::size_t offset = 0;
  std::string message;
  std::string hint;
};

enum class TagKind { start, end, empty };

/// Where it stands, from "<" to behind ">".
struct Tag {
  TagKind kind = TagKind::empty;
  std::string_view name;
  std::string_view text;  ///< all of it
  std::size_t begin = 0;  ///< its first byte in the scanned text

  std::size_t end() const { return begin + text.size(); }
};

/// Passes over comments, processing instructions, CDATA and the document type, which is never
/// loaded. The text may begin with a byte-order mark.
class XmlScanner {
 public:
  explicit XmlScanner(std::string_view text);

  /// Null behind the last tag, and from the first fault on. Holds until it is called again.
  const Tag* next();

  /// The start tags of the elements around the tag that came last, outermost first; of an end tag
  /// those around its element.
  std::span<const Tag> around() const { return {open_.data(), depth_}; }

  /// The start tag of the element that the end tag which came last has ended.
  const Tag& opening() const { return open_[depth_]; }

  /// What the scan stopped at: malformed markup and markup without an end, tags that do not pair,
  /// text or a second element beside the root, no root at all, entities (declared ones, unknown
  /// ones, references to characters that XML lacks), attributes given twice or too many of them,
  /// nesting past the limit. Characters are not looked at.
  const std::optional<XmlFault>& fault() const { return fault_; }

 private:
  const Tag* read_start_tag(std::size_t begin);
  const Tag* read_end_tag(std::size_t begin);
  const Tag* end_element(std::size_t begin, std::size_t end);
  std::size_t behind_attribute(std::size_t tag, std::size_t begin);
  void note_attribute(std::size_t begin, std::size_t end);
  void pass_section(std::size_t begin);
  void pass_document_type(std::size_t begin);

  std::string_view piece(std::size_t begin, std::size_t end) const {
    return {text_.data() + begin, end - begin};
  }
  std::size_t end_of_name(std::size_t at) const;
  void check_text(std::size_t end);
  void check_references(std::size_t begin, std::size_t end);
  void check_end();

  // Null, so that a failed step can end what it belongs to.
  const Tag* fail(const base::Rule& rule, std::size_t offset, std::string message,
                  std::string hint = {});
  const Tag* malformed(std::size_t tag, std::size_t offset, std::string message);

  std::string_view text_;
  std::size_t at_ = 0;
  // Tags are written where they will stay, since copies of them would take much of a scan.
  std::vector<Tag> open_;     // the start tags around, then those of elements that have ended
  std::size_t depth_ = 0;     // how many of them are around
  bool inside_next_ = false;  // the element that came last, which has content
  Tag end_tag_;
  bool seen_root_ = false;
  std::size_t no_reference_before_ = 0;  // from where the text was read
  std::vector<std::string_view> names_;  // of the attributes of one element
  std::optional<XmlFault> fault_;
};

/// The first fault: characters that XML forbids and invalid UTF-8, then what the scanner stops at.
std::optional<XmlFault> find_xml_fault(std::string_view text);

/// The value of an attribute as it is written in a start tag; empty without it.
std::string_view attribute_in(std::string_view tag, std::string_view name);

/// Whether XML takes a character for white space.
constexpr bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

/// Where the white space begins that ends at `at`.
std::size_t start_of_space(std::string_view text, std::size_t at);

/// Where the white space ends that begins at `at`.
std::size_t end_of_space(std::string_view text, std::size_t at);

/// The text without the white space around it.
std::string_view trimmed(std::string_view text);

}  // namespace yubifu::musicxml
