// The header's fields as text, both ways.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"

namespace yubifu::scorejson {

/// A field of the header as text.
struct HeaderText {
  std::string_view key;
  std::string text;
};

/// The fields that are filled, in a fixed order. Meter always is.
std::vector<HeaderText> header_texts(const model::Header& header);

/// True for a key that has a meaning of its own: "title", "meter" …
bool is_header_key(std::string_view key);

/// The keys in their order.
std::vector<std::string_view> header_keys();

/// Whether a field could be set, and if not, what would be right.
struct FieldResult {
  bool good = true;
  std::string expected;  ///< "a meter such as 3/4, or free"
};

/// Sets one known field from its text. A tempo without a unit counts the felt beat, so meter and
/// beat come first.
FieldResult set_header_field(model::Header& header, std::string_view key, const std::string& text);

}  // namespace yubifu::scorejson
