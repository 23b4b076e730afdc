// A brace taken apart: `{name value}`.
#pragma once

#include <string>
#include <string_view>

namespace yubifu::notation {

struct Brace {
  std::string name;        ///< folded
  std::string_view value;  ///< as written, without white space around it; may be empty

  /// The value with full-width letters, digits and punctuation as ASCII.
  std::string folded_value() const;
};

/// `text` begins and ends with a brace, full-width ones included.
Brace take_apart(std::string_view text);

}  // namespace yubifu::notation
