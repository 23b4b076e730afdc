// A text together with the name it came by, so that a byte offset can be told as line and column.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::base {

/// Bytes [begin, end) of one source text.
struct SourceRange {
  std::size_t begin = 0;
  std::size_t end = 0;
  friend bool operator==(const SourceRange&, const SourceRange&) = default;
};

/// What stands there; the range lies inside the text.
inline std::string_view text_of(std::string_view text, SourceRange range) {
  return text.substr(range.begin, range.end - range.begin);
}

/// A place as people and editors count it: both from 1, columns in code points.
struct Position {
  std::size_t line = 1;
  std::size_t column = 1;
  friend bool operator==(const Position&, const Position&) = default;
};

/// Owns a text in UTF-8 and finds the lines in it. LF, CRLF and a lone CR each end a line. A
/// byte-order mark belongs to no line: the character after it stands at 1:1.
class SourceText {
 public:
  /// `name` is what messages print before the line: a path, or "-" for standard input.
  SourceText(std::string name, std::string text);

  const std::string& name() const { return name_; }
  std::string_view text() const { return text_; }

  /// The position of a byte offset; an offset past the end is taken as the end.
  Position position(std::size_t offset) const;

  /// The text of a line (counted from 1) without its line end; empty past the last line.
  std::string_view line(std::size_t number) const;

 private:
  /// What is known of every so many-th byte, and of the end: a large file has millions of lines, or
  /// one line of millions of bytes, and few places are asked for.
  struct Milestone {
    std::size_t lines_before;  ///< that end before the byte
    std::size_t line_start;    ///< of the line that holds it
    std::size_t counted_to;    ///< a place in that line, not behind the byte
    std::size_t columns;       ///< that are before this place
  };

  /// Where the line behind the one at a place begins, if a line end begins before `end`.
  std::optional<std::size_t> next_line(std::size_t at, std::size_t end) const;
  /// The columns of bytes [begin, end).
  std::size_t columns(std::size_t begin, std::size_t end) const;

  std::string name_;
  std::string text_;
  bool has_returns_;  ///< CR as well as LF
  std::vector<Milestone> milestones_;
};

}  // namespace yubifu::base
