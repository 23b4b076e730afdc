// Changing a text at many places at once, all counted in the text as it was.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"

namespace yubifu::musicxml {

struct Insertion {
  std::size_t offset = 0;
  std::string text;
};

/// The text with the insertions; of several at one place the earlier ones of the list come first.
std::string spliced(std::string_view text, std::vector<Insertion> insertions);

/// The text without these ranges, which must not overlap.
std::string without(std::string_view text, std::vector<base::SourceRange> ranges);

}  // namespace yubifu::musicxml
