// The parsed XML and helpers to read it, for the sources of this folder only: it shows pugixml.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include <pugixml.hpp>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// Parses a text that has no fault. Reports `xml-syntax`, `xml-limits` or `unreadable-text`, one
/// error with its place. Nothing outside the text is ever loaded.
base::Outcome<pugi::xml_document> parse_xml(std::string_view text);

/// The same for a text that is known to have none.
base::Outcome<pugi::xml_document> load_xml(std::string_view text);

/// The text inside an element without the space around it. Text that comments part is joined.
std::string text_of(pugi::xml_node element);

/// The same without a copy, for numbers and words of a vocabulary: only up to a comment.
std::string_view word_of(pugi::xml_node element);

/// `word_of` the first child of that name; empty without one.
std::string_view child_word(pugi::xml_node element, const char* child);

/// The value of an attribute; empty without it.
std::string_view attribute(pugi::xml_node element, const char* name);

/// A whole number, to the end of the text; a plus sign before it is allowed.
std::optional<int> whole_number(std::string_view text);

/// Where the start tag of an element begins, up to the end of its name; found without the text.
base::SourceRange start_of(pugi::xml_node element);

/// Where an element stands in its text, tags included. Takes as long as the element.
base::SourceRange range_of(pugi::xml_node element, std::string_view text);

}  // namespace yubifu::musicxml
