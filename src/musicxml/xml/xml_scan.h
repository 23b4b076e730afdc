// What pugixml lets pass although XML forbids it, and what it could be hurt by: checked on the
// text before it is parsed. And why the parser refused a text, where it cannot say so itself.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// Elements nest at most this deep; music needs about ten levels.
inline constexpr int kDeepestNesting = 200;

struct XmlFault {
  const base::Rule* rule = nullptr;
  std::size_t offset = 0;
  std::string message;
  std::string hint;
};

/// The first fault of the text, in reading order but for invalid bytes, which come before all
/// others: control characters, invalid UTF-8, entities (declared ones, unknown ones, references to
/// characters that XML lacks), attributes given twice or too many of them, text or a second element
/// beside the root, nesting past the limit. Tags that do not pair are left to the parser.
std::optional<XmlFault> find_xml_fault(std::string_view text);

/// The first end tag that does not end the element that is open, or the innermost element that is
/// open where the text ends; nothing for a text whose tags pair, or where they cannot be told.
/// Slower than the parser: only for texts that it refused.
std::optional<XmlFault> find_unpaired(std::string_view text);

/// The tag that the text breaks off in, if it does.
std::optional<XmlFault> find_cut_tag(std::string_view text);

}  // namespace yubifu::musicxml
