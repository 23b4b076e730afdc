#include "base/xml_writer.h"

#include <array>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::string_view kReplacementText = "\uFFFD";

enum class Inside { text, attribute };

// What stands for a character; empty for one that stands for itself. Inside an attribute line ends
// and tabs would be read back as spaces. What may stand at all: XML 1.0, section 2.2.
std::string_view reference(CodePoint character, Inside inside) {
  constexpr std::u32string_view kSigns = U"&<>\r\"\n\t";
  constexpr std::array<std::string_view, 7> kReferences{"&amp;",  "&lt;",  "&gt;", "&#13;",
                                                        "&quot;", "&#10;", "&#9;"};
  constexpr std::size_t kFirstOfAttributes = 4;
  if (const std::size_t at = kSigns.find(character.value); at != std::u32string_view::npos) {
    return at < kFirstOfAttributes || inside == Inside::attribute ? kReferences[at] : "";
  }
  const bool is_invalid = character.value >= 0x80 && character.size == 1;
  const bool is_allowed =
      character.value >= 0x20 && character.value != 0xFFFE && character.value != 0xFFFF;
  return is_invalid || !is_allowed ? kReplacementText : "";
}

// Most of what is written: a character of ASCII that stands for itself everywhere.
bool is_plain(char c) {
  return c >= 0x20 && c != '&' && c != '<' && c != '>' && c != '"';
}

// Returns how many characters were replaced.
std::size_t append_escaped(std::string& out, std::string_view text, Inside inside) {
  std::size_t replaced = 0;
  std::size_t done = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (is_plain(text[at])) {
      ++at;
      continue;
    }
    const CodePoint character = first_code_point(text.substr(at));
    const std::string_view as = reference(character, inside);
    if (!as.empty()) {
      out += text.substr(done, at - done);
      out += as;
      done = at + character.size;
      if (as == kReplacementText) ++replaced;
    }
    at += character.size;
  }
  out += text.substr(done);
  return replaced;
}

}  // namespace

std::string xml_escaped(std::string_view text) {
  std::string out;
  append_escaped(out, text, Inside::attribute);
  return out;
}

void XmlWriter::open(std::string_view name) {
  if (std::exchange(tag_open_, true)) out_ += ">\n";
  out_.append(2 * names_.size(), ' ').append("<").append(name);
  names_.push_back(name);
}

void XmlWriter::attribute(std::string_view name, std::string_view value) {
  out_.append(" ").append(name).append("=\"");
  replaced_ += append_escaped(out_, value, Inside::attribute);
  out_ += '"';
}

void XmlWriter::close() {
  const std::string_view name = names_.back();
  names_.pop_back();
  if (std::exchange(tag_open_, false)) {
    out_ += "/>\n";
  } else {
    out_.append(2 * names_.size(), ' ').append("</").append(name).append(">\n");
  }
}

void XmlWriter::close_with_text(std::string_view value) {
  out_ += '>';
  replaced_ += append_escaped(out_, value, Inside::text);
  out_.append("</").append(names_.back()).append(">\n");
  names_.pop_back();
  tag_open_ = false;
}

}  // namespace yubifu::base
