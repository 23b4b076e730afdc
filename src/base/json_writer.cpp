#include "base/json_writer.h"

#include <cmath>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include "base/utf8.h"

namespace yubifu::base {
void append_json_string(std::string& out, std::string_view text) {
  constexpr std::string_view kEscaped = "\"\\\n\t\r";
  constexpr std::string_view kLetters = "\"\\ntr";
  out += '"';
  while (!text.empty()) {
    const CodePoint point = first_code_point(text);
    if (const std::size_t at = kEscaped.find(text.front()); at != std::string_view::npos) {
      out += '\\';
      out += kLetters[at];
    } else if (point.value < 0x20 || point.value == 0x7F) {
      fmt::format_to(std::back_inserter(out), "\\u{:04x}", static_cast<unsigned>(point.value));
    } else if (point.size == 1 && point.value >= 0x80) {
      append_utf8(out, point.value);  // an invalid byte, told as U+FFFD
    } else {
      out += text.substr(0, point.size);
    }
    text.remove_prefix(point.size);
  }
  out += '"';
}

JsonWriter& JsonWriter::key(std::string_view name) {
  before_value();
  append_json_string(out_, name);
  out_ += ": ";
  after_key_ = true;
  return *this;
}

void JsonWriter::text(std::string_view value) {
  before_value();
  append_json_string(out_, value);
}

void JsonWriter::number(std::int64_t value) {
  literal(fmt::format("{}", value));
}

void JsonWriter::number(double value) {
  literal(std::isfinite(value) ? fmt::format("{}", value) : "null");
}

void JsonWriter::literal(std::string_view value) {
  before_value();
  out_ += value;
}

std::string JsonWriter::take() {
  out_ += '\n';
  return std::exchange(out_, {});
}

void JsonWriter::begin(char bracket, JsonLayout layout) {
  before_value();
  out_ += bracket;
  if (!open_.empty() && open_.back().layout == JsonLayout::one_line) layout = JsonLayout::one_line;
  open_.push_back({layout, true});
}

void JsonWriter::end(char bracket) {
  const Container ended = open_.back();
  open_.pop_back();
  if (!ended.empty && ended.layout == JsonLayout::lines) new_line();
  out_ += bracket;
}

void JsonWriter::before_value() {
  if (std::exchange(after_key_, false) || open_.empty()) return;
  Container& inside = open_.back();
  if (!inside.empty) out_ += ',';
  if (inside.layout == JsonLayout::lines) {
    new_line();
  } else if (!inside.empty) {
    out_ += ' ';
  }
  inside.empty = false;
}

void JsonWriter::new_line() {
  out_ += '\n';
  out_.append(2 * open_.size(), ' ');
}

}  // namespace yubifu::base
