#include "notation/read/lexer.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "base/utf8.h"
#include "notation/characters.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

constexpr char32_t kWaveDash = 0x301C;  // what some keyboards send for the full-width tilde
constexpr std::u32string_view kEndsWord = U"()[]{}|~";

// Folded; 0 at the end of the text.
base::CodePoint character_at(std::string_view text, std::size_t at) {
  if (at >= text.size()) return {};
  const auto byte = static_cast<unsigned char>(text[at]);
  if (byte < 0x80) return {byte, 1};
  const auto [value, size] = base::first_code_point(text.substr(at));
  return {value == kWaveDash ? U'~' : folded(value), size};
}

// The length of the digits at `at`.
std::size_t digits_length(std::string_view text, std::size_t at) {
  const std::size_t begin = at;
  for (base::CodePoint c = character_at(text, at); is_digit(c.value); c = character_at(text, at)) {
    at += c.size;
  }
  return at - begin;
}

// The length of `:2` or `:1/2` after a closing bracket; 0 where none stands there.
std::size_t group_length(std::string_view text, std::size_t at) {
  const base::CodePoint colon = character_at(text, at);
  if (colon.value != ':') return 0;
  const std::size_t digits = digits_length(text, at + colon.size);
  if (digits == 0) return 0;
  const std::size_t length = colon.size + digits;
  const base::CodePoint slash = character_at(text, at + length);
  if (slash.value != '/') return length;
  return length + slash.size + digits_length(text, at + length + slash.size);
}

class Lexer {
 public:
  Lexer(std::string_view text, Reports& reports) : text_(text), reports_(reports) {}

  std::vector<Token> run() {
    std::size_t at = text_.starts_with(base::kByteOrderMark) ? base::kByteOrderMark.size() : 0;
    while (at < text_.size() && !full_) {
      const std::size_t end = std::min(text_.find_first_of("\r\n", at), text_.size());
      line_ = text_.substr(0, end);
      spaced_ = true;
      line(at);
      at = end + (text_.substr(end).starts_with("\r\n") ? 2 : 1);
    }
    return std::move(tokens_);
  }

 private:
  base::CodePoint at(std::size_t place) const { return character_at(line_, place); }

  // The start of the word after the white space at `place`.
  std::size_t skip_space(std::size_t place) const {
    while (place < line_.size() && is_space(at(place).value)) place += at(place).size;
    return place;
  }

  // Gives the end of the token.
  std::size_t add(TokenKind kind, std::size_t begin, std::size_t end) {
    if (full_) return end;
    full_ = tokens_.size() == kMostTokens;
    if (full_) {
      reports_.add(rule::size_limit, {begin, end},
                   base::message("more than {} words; the rest is not read", kMostTokens),
                   base::message("cut the text into several files"));
    } else {
      tokens_.push_back({kind, spaced_, {begin, end}});
    }
    return end;
  }

  void line(std::size_t begin) {
    const std::size_t end = line_.size();
    const std::size_t start = skip_space(begin);
    if (start == end) {
      add(TokenKind::blank_line, begin, end);
      return;
    }
    const char32_t first = at(start).value;
    if (first == '#') {
      add(TokenKind::comment, start, end);
    } else if (first == '>') {
      in_music_ = true;
      add(TokenKind::song, start, end);
    } else if (is_header(start)) {
      add(TokenKind::header, start, end);
    } else {
      in_music_ = true;
      music(start);
    }
    spaced_ = true;
    add(TokenKind::line_end, end, end);
  }

  bool is_header(std::size_t begin) {
    const std::string_view rest = line_.substr(begin);
    auto parts = header_parts(rest);
    if (parts && parts->spaced) return true;
    if (in_music_ || (parts && !header_key(folded(parts->key)))) return false;
    const bool has_colon = parts.has_value();
    if (!has_colon) parts = header_parts_without_colon(rest);
    if (!parts) return false;
    const std::string key(parts->key);
    reports_.add(has_colon ? rule::header_space : rule::header_colon,
                 {begin, begin + key.size() + (has_colon ? 1 : 0)},
                 has_colon ? base::message("no space after {}", shown(key + ':'))
                           : base::message("a colon is missing after {}", shown(key)),
                 base::message("write `{}: {}`", folded(key), parts->value));
    return true;
  }

  void music(std::size_t place) {
    unclosed_braces_ = 0;
    square_brackets_ = 0;
    while (place < line_.size() && !full_) {
      const base::CodePoint c = at(place);
      if (is_space(c.value)) {
        place = skip_space(place);
        spaced_ = true;
      } else if (c.value == '#' && spaced_) {
        place = add(TokenKind::comment, place, line_.size());
      } else {
        place = token(place, c);
        spaced_ = false;
      }
    }
  }

  // Adds the token at `begin` and returns its end.
  std::size_t token(std::size_t begin, base::CodePoint c) {
    if (const std::size_t length = bar_sign_length(line_.substr(begin)); length != 0) {
      return add(TokenKind::bar, begin, begin + length);
    }
    const std::size_t stop = begin + c.size;
    switch (c.value) {
      case '(':
        return add(TokenKind::open, begin, stop);
      case ')':
        return add(TokenKind::close, begin, stop + group_length(line_, stop));
      case '[':
        return square_bracket(begin, stop);
      case ']':
        return closing_square_bracket(begin, stop);
      case '~':
        return add(TokenKind::slur, begin, stop);
      case '{':
        return brace(begin);
      case '}':
        reports_.add(rule::unopened_brace, {begin, stop}, base::message("`}}` closes no brace"),
                     base::message("take it out, or open the brace with `{{`"));
        return add(TokenKind::broken, begin, stop);
      default:
        return word(begin);
    }
  }

  // Told once for both brackets; what they hold is read as the group that was meant.
  std::size_t square_bracket(std::size_t begin, std::size_t inside) {
    std::size_t close = inside;
    while (close < line_.size() && at(close).value != ']') close += at(close).size;
    const bool closes = close < line_.size();
    reports_.add(rule::unknown_sign, {begin, closes ? close + at(close).size : inside},
                 base::message("{} opens no group", shown(line_.substr(begin, inside - begin))),
                 closes ? base::message("groups stand in round brackets: `({})`",
                                        line_.substr(inside, close - inside))
                        : base::message("groups stand in round brackets: `(3 4)`"));
    if (closes) ++square_brackets_;
    return add(closes ? TokenKind::open : TokenKind::broken, begin, inside);
  }

  std::size_t closing_square_bracket(std::size_t begin, std::size_t stop) {
    if (square_brackets_ > 0) {
      --square_brackets_;
      return add(TokenKind::close, begin, stop + group_length(line_, stop));
    }
    reports_.add(rule::unknown_sign, {begin, stop},
                 base::message("{} closes no group", shown(line_.substr(begin, stop - begin))),
                 base::message("groups stand in round brackets: `(3 4)`"));
    return add(TokenKind::broken, begin, stop);
  }

  std::size_t word(std::size_t begin) {
    std::size_t stop = begin + at(begin).size;
    while (stop < line_.size()) {
      const base::CodePoint c = at(stop);
      const bool ends = is_space(c.value) || kEndsWord.find(c.value) != std::u32string_view::npos ||
                        (c.value == ':' && bar_sign_length(line_.substr(stop)) != 0);
      if (ends) break;
      stop += c.size;
    }
    return add(within_limit(begin, stop) ? TokenKind::word : TokenKind::broken, begin, stop);
  }

  // A brace closes at the first `}` outside quotes on its line.
  std::size_t brace(std::size_t begin) {
    std::size_t stop = begin + at(begin).size;
    bool quoted = false;
    while (stop < line_.size()) {
      const base::CodePoint c = at(stop);
      stop += c.size;
      if (quoted && c.value == '\\' && stop < line_.size()) {
        stop += at(stop).size;
      } else if (c.value == '"') {
        quoted = !quoted;
      } else if (c.value == '}' && !quoted) {
        return add(within_limit(begin, stop) ? TokenKind::brace : TokenKind::broken, begin, stop);
      }
    }
    return unclosed_brace(begin, quoted);
  }

  // Goes on after the first `}` of the line, or else at the next bar sign; in a line that is full
  // of them at its end, since each one looks through the whole line.
  std::size_t unclosed_brace(std::size_t begin, bool quoted) {
    reports_.add(rule::unclosed_brace, {begin, begin + 1},
                 quoted ? base::message("a quote in this brace is not closed on its line")
                        : base::message("this brace is not closed on its line"),
                 quoted ? base::message("add the closing `\"`") : base::message("add `}}`"));
    constexpr int kMostInLine = 16;
    std::size_t stop = line_.find('}', begin);
    if (++unclosed_braces_ > kMostInLine) {
      stop = line_.size();
    } else if (quoted && stop != std::string_view::npos) {
      ++stop;
    } else {
      stop = std::min(line_.find('|', begin), line_.size());
    }
    return add(TokenKind::broken, begin, stop);
  }

  bool within_limit(std::size_t begin, std::size_t end) {
    if (end - begin <= kLongestToken) return true;
    reports_.add(
        rule::size_limit, {begin, end},
        base::message("{} bytes without a break; the limit is {}", end - begin, kLongestToken),
        base::message("part the words with spaces"));
    return false;
  }

  std::string_view text_;
  std::string_view line_;  // the text up to the end of the line
  bool spaced_ = true;     // white space or the start of the line stands before the next token
  std::vector<Token> tokens_;
  Reports& reports_;
  bool in_music_ = false;
  bool full_ = false;
  int unclosed_braces_ = 0;  // in this line
  int square_brackets_ = 0;  // open in this line
};

}  // namespace

std::vector<Token> lex(const base::SourceText& source, Reports& reports) {
  return Lexer(source.text(), reports).run();
}

std::size_t bar_sign_length(std::string_view text) {
  constexpr std::u32string_view kAfterBar = U"|=:";
  const base::CodePoint first = character_at(text, 0);
  const base::CodePoint second = character_at(text, first.size);
  const std::size_t both = first.size + second.size;
  if (first.value == ':' && second.value == '|') {
    const base::CodePoint count = character_at(text, both);
    const bool times = count.value == 'x' || count.value == U'×';
    const std::size_t digits = times ? digits_length(text, both + count.size) : 0;
    return digits == 0 ? both : both + count.size + digits;
  }
  if (first.value != '|') return 0;
  if (kAfterBar.find(second.value) == std::u32string_view::npos) return first.size;
  const base::CodePoint third = character_at(text, both);
  const bool repeat_start_follows = second.value == '|' && third.value == ':';
  return repeat_start_follows ? first.size : both;
}

std::optional<HeaderParts> header_parts(std::string_view line) {
  const std::string_view wide_colon = "：";
  std::size_t colon = line.find(':');
  std::size_t size = 1;
  if (const std::size_t wide = line.find(wide_colon); wide < colon) {
    colon = wide;
    size = wide_colon.size();
  }
  if (colon == std::string_view::npos) return std::nullopt;
  const std::string_view written_key = line.substr(0, colon);
  // Folded, so that a line of music that begins with a full-width `|:` is none.
  const std::string key = folded(written_key);
  if (!may_be_header_key(key)) return std::nullopt;
  const std::string_view rest = line.substr(colon + size);
  // A full-width colon brings its own white space.
  const bool brings_space = size > 1 && header_key(key).has_value();
  const bool spaced = rest.empty() || brings_space || is_space(character_at(rest, 0).value);
  return HeaderParts{written_key, trimmed(rest), spaced};
}

std::optional<HeaderParts> header_parts_without_colon(std::string_view line) {
  const std::string_view key = first_word(line);
  const std::string_view value = trimmed(line.substr(key.size()));
  if (value.empty() || !header_key(folded(key))) return std::nullopt;
  return HeaderParts{key, value, true};
}

}  // namespace yubifu::notation
