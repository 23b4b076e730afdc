#include "notation/brace.h"

#include "base/utf8.h"
#include "notation/characters.h"

namespace yubifu::notation {

std::string Brace::folded_value() const {
  return folded(value);
}

Brace take_apart(std::string_view text) {
  constexpr std::string_view kWideClose = "｝";
  text.remove_prefix(base::first_code_point(text).size);
  text.remove_suffix(text.ends_with(kWideClose) ? kWideClose.size() : 1);
  text = trimmed(text);
  std::size_t end = 0;
  while (end < text.size()) {
    const base::CodePoint point = base::first_code_point(text.substr(end));
    if (is_space(point.value) || folded(point.value) == U'"') break;
    end += point.size;
  }
  return {folded(text.substr(0, end)), trimmed(text.substr(end))};
}

}  // namespace yubifu::notation
