#include "base/xml_text.h"

#include "base/utf8.h"

namespace yubifu::base {
namespace {

// The characters of XML 1.0, section 2.2.
bool is_allowed(char32_t value) {
  const bool control = value < 0x20 && value != '\t' && value != '\n' && value != '\r';
  return !control && value != 0xFFFE && value != 0xFFFF;
}

}  // namespace

std::string xml_escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const CodePoint next = first_code_point(text);
    switch (next.value) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        append_utf8(out, is_allowed(next.value) ? next.value : U'\uFFFD');
    }
    text.remove_prefix(next.size);
  }
  return out;
}

}  // namespace yubifu::base
