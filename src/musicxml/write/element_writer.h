// Writes XML as text, element by element: no tree, no copy of the document. And what every part of
// the writer works with.
#pragma once

#include <array>
#include <charconv>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>
#include <vector>

#include "model/rational.h"
#include "model/score.h"
#include "musicxml/write/writer.h"

namespace yubifu::musicxml {

/// Elements on lines of their own, indented by two spaces. Names must outlive the writer
/// (most are literals); texts and values are escaped here. Characters that XML 1.0 cannot hold
/// become U+FFFD and are counted.
class ElementWriter {
 public:
  /// `expected_bytes` spares the text from moving while it grows.
  explicit ElementWriter(std::size_t expected_bytes = 0);

  /// A line as it stands, such as the XML declaration.
  void raw_line(std::string_view line);

  /// Begins an element; attributes may follow until something stands inside it.
  void open(std::string_view name) {
    begin_tag(name);
    names_.push_back(name);
    tag_open_ = true;
  }

  /// An attribute of the element that was opened last.
  void attribute(std::string_view name, std::string_view value);
  void attribute(std::string_view name, std::int64_t value);

  /// Ends the innermost element.
  void close();

  /// `<name>text</name>` in one line.
  void text(std::string_view name, std::string_view value) {
    begin_tag(name);
    append('>');
    append_escaped(value, Inside::text);
    end_line(name);
  }
  void number(std::string_view name, std::int64_t value) {
    begin_tag(name);
    append('>');
    append_number(value);
    end_line(name);
  }

  /// The text of the element that was opened last, which is closed with it.
  void close_with_text(std::string_view value);

  /// `<name/>`.
  void empty(std::string_view name) {
    begin_tag(name);
    append("/>\n");
  }

  /// How many characters were replaced so far.
  std::size_t replaced() const { return replaced_; }

  /// The finished document. Every element must be closed.
  std::string take();

 private:
  enum class Inside { text, attribute };

  static constexpr std::size_t kStage = 1u << 15;
  static constexpr std::size_t kLongestNumber = 20;
  static constexpr std::string_view kIndent = "                                        ";

  // Short pieces are put together in the stage, which stays in the processor's cache.
  void append(std::string_view piece) {
    if (piece.size() > kStage - used_) {
      flush();
      if (piece.size() > kStage) {
        out_.append(piece);
        return;
      }
    }
    std::memcpy(stage_.data() + used_, piece.data(), piece.size());
    used_ += piece.size();
  }
  void append(char c) {
    if (used_ == kStage) flush();
    stage_[used_++] = c;
  }
  void append_number(std::int64_t value) {
    if (kStage - used_ < kLongestNumber) flush();
    char* const begin = stage_.data() + used_;
    used_ +=
        static_cast<std::size_t>(std::to_chars(begin, begin + kLongestNumber, value).ptr - begin);
  }
  void append_escaped(std::string_view text, Inside inside);

  void begin_tag(std::string_view name) {
    if (tag_open_) {
      append(">\n");
      tag_open_ = false;
    }
    append(kIndent.substr(0, 2 * names_.size()));
    append('<');
    append(name);
  }
  void end_line(std::string_view name) {
    append("</");
    append(name);
    append(">\n");
  }
  void flush();

  std::string out_;
  std::array<char, kStage> stage_;
  std::size_t used_ = 0;
  std::vector<std::string_view> names_;
  bool tag_open_ = false;  // the last start tag still takes attributes
  std::size_t replaced_ = 0;
};

struct WriterContext {
  const model::Score& score;
  const MusicXmlWriteOptions& options;
  ElementWriter& out;
  std::int64_t divisions = 1;             ///< a quarter
  std::vector<std::string> strokes = {};  ///< for each note, where they are asked for

  /// A length in divisions, which it must divide.
  std::int64_t in_divisions(model::Rational quarters) const {
    return quarters.numerator() * (divisions / quarters.denominator());
  }
};

}  // namespace yubifu::musicxml
