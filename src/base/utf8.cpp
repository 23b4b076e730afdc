#include "base/utf8.h"

#include <algorithm>

#include <glib.h>

namespace yubifu::base {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

// The length that a lead byte announces; 0 for a byte that cannot lead.
std::size_t sequence_length(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead < 0xC2) return 0;
  if (lead < 0xE0) return 2;
  if (lead < 0xF0) return 3;
  return lead < 0xF5 ? 4 : 0;
}

// Blocks of nothing but ASCII are passed over at once. The loop has no branch, so that compilers
// turn it into vector instructions.
constexpr std::size_t kBlock = 32;

bool is_ascii_block(const char* block) {
  unsigned char high = 0;
  for (std::size_t i = 0; i < kBlock; ++i) high |= static_cast<unsigned char>(block[i]) & 0x80;
  return high == 0;
}

}  // namespace

CodePoint first_code_point(std::string_view text) {
  if (text.empty()) return {};
  const auto lead = static_cast<unsigned char>(text[0]);
  if (lead < 0x80) return {lead, 1};
  const std::size_t length = sequence_length(lead);
  if (length == 0 || text.size() < length) return {kReplacement, 1};
  char32_t value = lead & (0x7Fu >> length);
  for (std::size_t i = 1; i < length; ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if ((byte & 0xC0) != 0x80) return {kReplacement, 1};
    value = (value << 6) | (byte & 0x3Fu);
  }
  const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
  const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (overlong || surrogate || value > 0x10FFFF) return {kReplacement, 1};
  return {value, length};
}

std::size_t code_point_count(std::string_view text) {
  std::size_t count = 0;
  while (!text.empty()) {
    if (text.size() >= kBlock && is_ascii_block(text.data())) {
      text.remove_prefix(kBlock);
      count += kBlock;
      continue;
    }
    text.remove_prefix(first_code_point(text).size);
    ++count;
  }
  return count;
}

void append_utf8(std::string& out, char32_t value) {
  char buffer[6];
  const int size = g_unichar_to_utf8(value, buffer);
  out.append(buffer, static_cast<std::size_t>(size));
}

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    const std::size_t end = std::min(i + kBlock, text.size());
    if (end - i == kBlock && is_ascii_block(text.data() + i)) i = end;
    while (i < end) {
      const bool is_ascii = static_cast<unsigned char>(text[i]) < 0x80;
      const std::size_t size = is_ascii ? 1 : first_code_point(text.substr(i)).size;
      if (!is_ascii && size == 1) return i;
      i += size;
    }
  }
  return std::nullopt;
}

bool is_white_space(char32_t value) {
  return g_unichar_isspace(value) != FALSE;
}

bool is_letter_or_digit(char32_t value) {
  return g_unichar_isalnum(value) != FALSE;
}

bool is_combining_mark(char32_t value) {
  return g_unichar_ismark(value) != FALSE;
}

int display_width(char32_t value) {
  if (value < 0x80) return 1;
  if (g_unichar_iszerowidth(value)) return 0;
  return g_unichar_iswide(value) ? 2 : 1;
}

int display_width(std::string_view text) {
  int width = 0;
  while (!text.empty()) {
    const CodePoint point = first_code_point(text);
    width += display_width(point.value);
    text.remove_prefix(point.size);
  }
  return width;
}

std::string padded(std::string_view text, int width) {
  std::string out(text);
  const int missing = width - display_width(text);
  if (missing > 0) out.append(static_cast<std::size_t>(missing), ' ');
  return out;
}

}  // namespace yubifu::base
