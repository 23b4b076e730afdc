// JSON as text, written member after member.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::base {

/// How an object or array is laid out: each entry on a line of its own, or all on one line.
enum class JsonLayout { lines, one_line };

/// Appends a string in quotes, escaped. Control characters become \u escapes, other text stays as
/// it is; bytes that are not UTF-8 become U+FFFD.
void append_json_string(std::string& out, std::string_view text);

/// Writes one JSON text. The caller keeps the order: a key before each value of an object, and an
/// end for each begin. Inside a container on one line everything is on that line.
class JsonWriter {
 public:
  /// What is written between begin and end stands in the object or array.
  void begin_object(JsonLayout layout = JsonLayout::lines) { begin('{', layout); }
  void end_object() { end('}'); }
  void begin_array(JsonLayout layout = JsonLayout::lines) { begin('[', layout); }
  void end_array() { end(']'); }

  /// The name of the member whose value comes next.
  JsonWriter& key(std::string_view name);

  /// One value: of an object, after its key.
  void text(std::string_view value);
  void number(std::int64_t value);
  /// The shortest decimal that reads back as the same number; null for infinity and NaN.
  void number(double value);
  void boolean(bool value) { literal(value ? "true" : "false"); }
  void null() { literal("null"); }

  /// The text so far, with a line end; complete when all containers are ended.
  std::string take();

 private:
  struct Container {
    JsonLayout layout = JsonLayout::lines;
    bool empty = true;
  };

  void begin(char bracket, JsonLayout layout);
  void end(char bracket);
  void literal(std::string_view value);
  void before_value();
  void new_line();

  std::string out_;
  std::vector<Container> open_;
  bool after_key_ = false;
};

}  // namespace yubifu::base
