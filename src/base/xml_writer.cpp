#include "base/xml_writer.h"

#include "base/utf8.h"

namespace yubifu::base {
namespace {

using namespace std::string_view_literals;

constexpr std::string_view kReplacementText = "\uFFFD";

enum class Inside { text, attribute };

// What stands for a character; empty for one that stands for itself. Inside an attribute line ends
// and tabs would be read back as spaces. What may stand at all: XML 1.0, section 2.2.
std::string_view reference(CodePoint character, Inside inside) {
  const bool in_attribute = inside == Inside::attribute;
  switch (character.value) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '\r':
      return "&#13;";
    case '"':
      return in_attribute ? "&quot;" : "";
    case '\n':
      return in_attribute ? "&#10;" : "";
    case '\t':
      return in_attribute ? "&#9;" : "";
    default:
      break;
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

void XmlWriter::raw_line(std::string_view line) {
  out_ += line;
  out_ += '\n';
}

void XmlWriter::open(std::string_view name) {
  begin_tag(name);
  names_.push_back(name);
  tag_open_ = true;
}

void XmlWriter::attribute(std::string_view name, std::string_view value) {
  out_ += ' ';
  out_ += name;
  out_ += "=\""sv;
  replaced_ += append_escaped(out_, value, Inside::attribute);
  out_ += '"';
}

void XmlWriter::attribute(std::string_view name, std::int64_t value) {
  attribute(name, std::to_string(value));
}

void XmlWriter::close() {
  const std::string_view name = names_.back();
  names_.pop_back();
  if (tag_open_) {
    out_ += "/>\n"sv;
    tag_open_ = false;
    return;
  }
  out_.append(2 * names_.size(), ' ');
  end_line(name);
}

void XmlWriter::text(std::string_view name, std::string_view value) {
  open(name);
  close_with_text(value);
}

void XmlWriter::number(std::string_view name, std::int64_t value) {
  text(name, std::to_string(value));
}

void XmlWriter::close_with_text(std::string_view value) {
  out_ += '>';
  replaced_ += append_escaped(out_, value, Inside::text);
  end_line(names_.back());
  names_.pop_back();
  tag_open_ = false;
}

void XmlWriter::empty(std::string_view name) {
  begin_tag(name);
  out_ += "/>\n"sv;
}

void XmlWriter::begin_tag(std::string_view name) {
  if (tag_open_) out_ += ">\n"sv;
  tag_open_ = false;
  out_.append(2 * names_.size(), ' ');
  out_ += '<';
  out_ += name;
}

void XmlWriter::end_line(std::string_view name) {
  out_ += "</"sv;
  out_ += name;
  out_ += ">\n"sv;
}

}  // namespace yubifu::base
