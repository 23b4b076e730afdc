#include "musicxml/write/element_writer.h"

#include <optional>

namespace yubifu::musicxml {
namespace {

constexpr std::string_view kReplacement = "\uFFFD";

struct Escape {
  std::string_view as;
  std::size_t bytes = 1;  // how many bytes of the text it stands for
  bool replaced = false;
};

// Bytes that may need an escape; all others stand as they are.
constexpr std::array<bool, 256> special_bytes() {
  std::array<bool, 256> special{};
  for (std::size_t byte = 0; byte < 0x20; ++byte) special[byte] = true;
  for (const char c : {'&', '<', '>', '"'}) special[static_cast<unsigned char>(c)] = true;
  special[0xEF] = true;  // U+FFFE and U+FFFF begin with it
  return special;
}
constexpr std::array<bool, 256> kSpecial = special_bytes();

// Inside an attribute line ends and tabs would be read back as spaces.
std::optional<Escape> escape_at(std::string_view text, bool in_attribute) {
  switch (text.front()) {
    case '&':
      return Escape{"&amp;"};
    case '<':
      return Escape{"&lt;"};
    case '>':
      return Escape{"&gt;"};
    case '"':
      return in_attribute ? std::optional(Escape{"&quot;"}) : std::nullopt;
    case '\r':
      return Escape{"&#13;"};
    case '\n':
      return in_attribute ? std::optional(Escape{"&#10;"}) : std::nullopt;
    case '\t':
      return in_attribute ? std::optional(Escape{"&#9;"}) : std::nullopt;
    case '\xEF':
      if (text.starts_with("\xEF\xBF\xBE") || text.starts_with("\xEF\xBF\xBF")) {
        return Escape{kReplacement, 3, true};
      }
      return std::nullopt;
    default:
      return Escape{kReplacement, 1, true};
  }
}

}  // namespace

ElementWriter::ElementWriter(std::size_t expected_bytes) {
  out_.reserve(expected_bytes);
}

void ElementWriter::raw_line(std::string_view line) {
  append(line);
  append('\n');
}

void ElementWriter::attribute(std::string_view name, std::string_view value) {
  append(' ');
  append(name);
  append("=\"");
  append_escaped(value, Inside::attribute);
  append('"');
}

void ElementWriter::attribute(std::string_view name, std::int64_t value) {
  append(' ');
  append(name);
  append("=\"");
  append_number(value);
  append('"');
}

void ElementWriter::close() {
  const std::string_view name = names_.back();
  names_.pop_back();
  if (tag_open_) {
    append("/>\n");
    tag_open_ = false;
    return;
  }
  append(kIndent.substr(0, 2 * names_.size()));
  end_line(name);
}

void ElementWriter::close_with_text(std::string_view value) {
  const std::string_view name = names_.back();
  names_.pop_back();
  tag_open_ = false;
  append('>');
  append_escaped(value, Inside::text);
  end_line(name);
}

void ElementWriter::append_escaped(std::string_view text, Inside inside) {
  std::size_t done = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (!kSpecial[static_cast<unsigned char>(text[at])]) {
      ++at;
      continue;
    }
    const auto escape = escape_at(text.substr(at), inside == Inside::attribute);
    if (!escape) {
      ++at;
      continue;
    }
    append(text.substr(done, at - done));
    append(escape->as);
    at += escape->bytes;
    done = at;
    if (escape->replaced) ++replaced_;
  }
  append(text.substr(done));
}

void ElementWriter::flush() {
  out_.append(stage_.data(), used_);
  used_ = 0;
}

std::string ElementWriter::take() {
  flush();
  return std::move(out_);
}

}  // namespace yubifu::musicxml
