#include "base/utf8.h"

#include <algorithm>
#include <array>
#include <cstddef>
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

bool is_among(std::u32string_view list, char32_t value) {
  return list.find(value) != std::u32string_view::npos;
}

bool may_part(char32_t before, char32_t after) {
  const bool wide = display_width(before) == 2 || display_width(after) == 2;
  return wide && after != ' ' && !is_combining_mark(after) && !is_among(kNeverFirst, after) &&
         !is_among(kNeverLast, before);
}

class Wrapper {
 public:
  Wrapper(double most, double (*width)(char32_t)) : most_(most), width_of_(width) {}

  void add(char32_t value, std::string_view bytes) {
    if (value == ' ' && line_.empty()) return;
    if (may_part(last_, value)) note_break();
    const double wide = width_of_(value);
    if (value != ' ' && width_ + wide > most_ && !line_.empty()) break_line();
    if (value == ' ') note_break();
    line_ += bytes;
    width_ += wide;
    last_ = value;
  }

  std::vector<std::string> take() {
    if (!line_.empty()) lines_.push_back(std::move(line_));
    return std::move(lines_);
  }

 private:
  void note_break() {
    break_ = line_.size();
    width_at_break_ = width_;
  }

  void break_line() {
    std::string rest;
    double width = 0;
    if (break_ > 0) {
      rest = line_.substr(break_);
      width = width_ - width_at_break_;
      line_.resize(break_);
      if (!rest.empty() && rest.front() == ' ') {
        rest.erase(0, 1);
        width -= width_of_(U' ');
      }
    }
    lines_.push_back(std::move(line_));
    line_ = std::move(rest);
    width_ = width;
    break_ = 0;
  }

  double most_;
  double (*width_of_)(char32_t);
  std::vector<std::string> lines_;
  std::string line_;
  double width_ = 0;
  std::size_t break_ = 0;  // where the line may be broken, in its bytes; 0 where it may not
  double width_at_break_ = 0;
  char32_t last_ = ' ';
};

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
    const std::size_t end = std::min(i + kAsciiBlock, text.size());
    if (end - i == kAsciiBlock && is_ascii_block(text.data() + i)) i = end;
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
  Wrapper wrapper(most, width);
  while (!text.empty()) {
    const CodePoint point = first_code_point(text);
    wrapper.add(point.value, text.substr(0, point.size));
    text.remove_prefix(point.size);
  }
  return wrapper.take();
}

std::vector<std::string> wrapped(std::string_view text, int columns) {
  return wrapped(text, columns,
                 [](char32_t value) { return static_cast<double>(display_width(value)); });
}

}  // namespace yubifu::base
