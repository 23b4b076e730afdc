// XML as text, element by element: no tree, no copy of the document.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace yubifu::base {

/// Text that may stand in an element or in a quoted attribute of XML 1.0: the signs of the language
/// and line ends as references, and U+FFFD for what the language cannot hold (control characters,
/// invalid UTF-8).
std::string xml_escaped(std::string_view text);

/// Elements on lines of their own, indented by two spaces. Names must outlive the writer (most are
/// literals); texts and values are escaped here. Characters that XML cannot hold become U+FFFD and
/// are counted.
class XmlWriter {
 public:
  /// `expected_bytes` spares the text from moving while it grows.
  explicit XmlWriter(std::size_t expected_bytes = 0) { out_.reserve(expected_bytes); }

  /// A line as it stands, such as the XML declaration.
  void raw_line(std::string_view line) { out_.append(line).append("\n"); }

  /// Begins an element; attributes may follow until something stands inside it.
  void open(std::string_view name);
  /// An attribute of the element that was opened last.
  void attribute(std::string_view name, std::string_view value);
  void attribute(std::string_view name, std::int64_t value) {
    attribute(name, std::to_string(value));
  }

  /// Ends the innermost element.
  void close();
  /// `<name>text</name>` in one line.
  void text(std::string_view name, std::string_view value) {
    open(name);
    close_with_text(value);
  }
  void number(std::string_view name, std::int64_t value) { text(name, std::to_string(value)); }

  /// The text of the element that was opened last, which is closed with it.
  void close_with_text(std::string_view value);

  /// `<name/>`.
  void empty(std::string_view name) {
    open(name);
    close();
  }

  /// How many characters were replaced so far.
  std::size_t replaced() const { return replaced_; }

  /// The finished document. Every element must be closed.
  std::string take() { return std::move(out_); }

 private:
  std::string out_;
  std::vector<std::string_view> names_;
  bool tag_open_ = false;  // the last start tag still takes attributes
  std::size_t replaced_ = 0;
};

}  // namespace yubifu::base
