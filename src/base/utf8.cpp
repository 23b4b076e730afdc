#include "base/utf8.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <utility>

#include <utf8proc.h>

namespace yubifu::base {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

// Blocks of nothing but ASCII are passed over at once.
constexpr std::size_t kAsciiBlock = 32;

bool is_ascii_block(const char* block) {
  std::array<std::uint64_t, kAsciiBlock / 8> words;
  std::memcpy(words.data(), block, kAsciiBlock);
  return ((words[0] | words[1] | words[2] | words[3]) & 0x8080808080808080) == 0;
}

utf8proc_category_t category_of(char32_t value) {
  return utf8proc_category(static_cast<utf8proc_int32_t>(value));
}

constexpr std::u32string_view kNeverFirst =
    U"、。，．・：；？！ー々ゝゞヽヾ～）］｝」』】〕〉》ぁぃぅぇぉっゃゅょゎァィゥェォッャュョヮ"
    U",.:;?!)]}";
constexpr std::u32string_view kNeverLast = U"（［｛「『【〔〈《([{";

bool may_part(char32_t before, char32_t after) {
  const bool wide = display_width(before) == 2 || display_width(after) == 2;
  return wide && after != ' ' && !is_combining_mark(after) &&
         kNeverFirst.find(after) == std::u32string_view::npos &&
         kNeverLast.find(before) == std::u32string_view::npos;
}

}  // namespace

CodePoint first_code_point(std::string_view text) {
  if (text.empty()) return {};
  const auto lead = static_cast<unsigned char>(text[0]);
  if (lead < 0x80) return {lead, 1};
  utf8proc_int32_t value = 0;
  const auto size = static_cast<utf8proc_ssize_t>(std::min<std::size_t>(text.size(), 4));
  const auto read =
      utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()), size, &value);
  if (read <= 0) return {kReplacement, 1};
  return {static_cast<char32_t>(value), static_cast<std::size_t>(read)};
}

std::u32string code_points(std::string_view text) {
  std::u32string points;
  while (!text.empty()) {
    const CodePoint point = first_code_point(text);
    points += point.value;
    text.remove_prefix(point.size);
  }
  return points;
}

std::size_t code_point_count(std::string_view text) {
  std::size_t count = 0;
  while (!text.empty()) {
    if (text.size() >= kAsciiBlock && is_ascii_block(text.data())) {
      text.remove_prefix(kAsciiBlock);
      count += kAsciiBlock;
      continue;
    }
    text.remove_prefix(first_code_point(text).size);
    ++count;
  }
  return count;
}

void append_utf8(std::string& out, char32_t value) {
  utf8proc_uint8_t buffer[4];
  const auto size = utf8proc_encode_char(static_cast<utf8proc_int32_t>(value), buffer);
  out.append(reinterpret_cast<const char*>(buffer), static_cast<std::size_t>(size));
}

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    if (text.size() - i >= kAsciiBlock && is_ascii_block(text.data() + i)) {
      i += kAsciiBlock;
      continue;
    }
    const CodePoint point = first_code_point(text.substr(i));
    if (point.value >= 0x80 && point.size == 1) return i;
    i += point.size;
  }
  return std::nullopt;
}

bool is_white_space(char32_t value) {
  if (value >= U'\t' && value <= U'\r') return true;
  const auto category = category_of(value);
  return category >= UTF8PROC_CATEGORY_ZS && category <= UTF8PROC_CATEGORY_ZP;
}

bool is_letter_or_digit(char32_t value) {
  const auto category = category_of(value);
  return (category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_LO) ||
         (category >= UTF8PROC_CATEGORY_ND && category <= UTF8PROC_CATEGORY_NO);
}

bool is_combining_mark(char32_t value) {
  const auto category = category_of(value);
  return category >= UTF8PROC_CATEGORY_MN && category <= UTF8PROC_CATEGORY_ME;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

int display_width(char32_t value) {
  return value < 0x80 ? 1 : utf8proc_charwidth(static_cast<utf8proc_int32_t>(value));
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

std::vector<std::string> wrapped(std::string_view text, double most, double (*width)(char32_t)) {
  std::vector<std::string> lines;
  std::string line;
  double line_width = 0;
  std::size_t break_at = 0;  // where the line may be broken, in its bytes; 0 where it may not
  double width_at_break = 0;
  const auto note_break = [&] {
    break_at = line.size();
    width_at_break = line_width;
  };
  char32_t last = ' ';
  for (CodePoint point; !text.empty(); text.remove_prefix(point.size)) {
    point = first_code_point(text);
    const bool is_space = point.value == ' ';
    if (is_space && line.empty()) continue;
    if (may_part(last, point.value)) note_break();
    const double wide = width(point.value);
    if (!is_space && line_width + wide > most && !line.empty()) {
      if (break_at == 0) note_break();
      std::string rest = line.substr(break_at);
      line.resize(break_at);
      line_width -= width_at_break;
      if (rest.starts_with(' ')) {
        rest.erase(0, 1);
        line_width -= width(U' ');
      }
      lines.push_back(std::exchange(line, std::move(rest)));
      break_at = 0;
    }
    if (is_space) note_break();
    line += text.substr(0, point.size);
    line_width += wide;
    last = point.value;
  }
  if (!line.empty()) lines.push_back(std::move(line));
  return lines;
}

std::vector<std::string> wrapped(std::string_view text, int columns) {
  return wrapped(text, columns,
                 [](char32_t value) { return static_cast<double>(display_width(value)); });
}

}  // namespace yubifu::base
