#include "midi/text_decoding.h"

#include <algorithm>

#include "base/encoding.h"
#include "base/message.h"
#include "base/utf8.h"
#include "midi/rules.h"

namespace yubifu::midi {
namespace {

constexpr std::string_view kLatin1 = "ISO-8859-1";
constexpr char32_t kReplacement = 0xFFFD;

bool is_utf8(std::string_view bytes) {
  return !base::first_invalid_utf8(bytes);
}

bool is_shift_jis(std::string_view bytes) {
  return !base::to_utf8(bytes, base::kShiftJis).stopped_at;
}

bool is_in(Charset charset, std::string_view bytes) {
  switch (charset) {
    case Charset::utf8:
      return is_utf8(bytes);
    case Charset::shift_jis:
      return is_shift_jis(bytes);
    case Charset::automatic:
    case Charset::latin1:
      return true;
  }
  return true;
}

template <typename Fits>
bool every(const std::vector<std::string_view>& texts, Fits fits) {
  return std::all_of(texts.begin(), texts.end(), fits);
}

// The bytes that can be converted, with one replacement character for each of the others.
std::string convert_what_fits(std::string_view bytes, std::string_view encoding) {
  std::string text;
  while (!bytes.empty()) {
    base::Conversion part = base::to_utf8(bytes, encoding);
    text += part.text;
    if (!part.stopped_at) break;
    base::append_utf8(text, kReplacement);
    bytes.remove_prefix(std::min(bytes.size(), *part.stopped_at + 1));
  }
  return text;
}

std::string valid_utf8(std::string_view bytes) {
  if (bytes.starts_with(base::kByteOrderMark)) bytes.remove_prefix(base::kByteOrderMark.size());
  std::string text;
  while (!bytes.empty()) {
    const base::CodePoint next = base::first_code_point(bytes);
    base::append_utf8(text, next.value);
    bytes.remove_prefix(next.size);
  }
  return text;
}

}  // namespace

TextDecoder::TextDecoder(Charset asked, const std::vector<std::string_view>& texts)
    : charset_(asked) {
  if (asked == Charset::automatic) {
    charset_ = every(texts, is_utf8)        ? Charset::utf8
               : every(texts, is_shift_jis) ? Charset::shift_jis
                                            : Charset::latin1;
  }
  const bool guessed = asked == Charset::automatic && charset_ == Charset::latin1;
  for (const std::string_view text : texts) {
    const bool fits = guessed ? is_utf8(text) : is_in(charset_, text);
    if (fits) continue;
    doubtful_ = decode(text);
    break;
  }
}

std::string TextDecoder::decode(std::string_view bytes) const {
  if (charset_ == Charset::shift_jis) return convert_what_fits(bytes, base::kShiftJis);
  if (charset_ == Charset::latin1) return convert_what_fits(bytes, kLatin1);
  return valid_utf8(bytes);
}

base::Diagnostics TextDecoder::diagnostics() const {
  if (doubtful_.empty()) return {};
  const std::string shown = one_line_of(doubtful_);
  std::string sentence =
      charset_ == Charset::latin1
          ? base::message(
                "the texts are neither UTF-8 nor Shift_JIS and were read as Latin-1: “{}”", shown)
          : base::message("a text is not in the encoding asked for: “{}”", shown);
  return {base::report(rule::text_encoding, {}, std::move(sentence),
                       base::message("name the encoding: utf-8, shift-jis or latin-1"))};
}

std::string one_line_of(std::string_view text) {
  std::string line;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    line += byte < 0x20 || byte == 0x7F ? ' ' : c;
  }
  const std::size_t first = line.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return line.substr(first, line.find_last_not_of(' ') - first + 1);
}

}  // namespace yubifu::midi
