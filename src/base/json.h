// A JSON value that remembers where in the text it stood, so that a fault of meaning can be shown
// with its place.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/outcome.h"
#include "base/source_text.h"

namespace yubifu::base {

struct JsonValue;
struct JsonMember;

struct JsonNull {};

/// A number: the nearest double to what is written.
struct JsonNumber {
  double value = 0;
  std::optional<std::int64_t> whole;  ///< where it is written without point and exponent, and fits
};

using JsonArray = std::vector<JsonValue>;
using JsonObject = std::vector<JsonMember>;  ///< in the order of the text, each key once

/// One value and where it stands.
struct JsonValue {
  std::variant<JsonNull, bool, JsonNumber, std::string, JsonArray, JsonObject> data;
  SourceRange where;

  bool is_null() const { return std::holds_alternative<JsonNull>(data); }

  /// The value as one kind, nothing when it is of another.
  template <typename T>
  const T* as() const {
    return std::get_if<T>(&data);
  }

  /// A member of an object; nothing when there is none or this is no object.
  const JsonValue* find(std::string_view key) const;
};

/// One member of an object and where its name stands, quotes included.
struct JsonMember {
  std::string key;
  SourceRange key_where;
  JsonValue value;
};

/// "a string", "an object" … for sentences.
std::string_view kind_name(const JsonValue& value);

/// What a text may hold before it is refused.
struct JsonLimits {
  std::size_t depth = 64;
  std::size_t values = 4'000'000;
};

/// Reads one JSON text (RFC 8259); a byte-order mark is accepted. Reports `json-syntax`,
/// `json-duplicate-key` and `json-too-large` at their places; after a fault of syntax or size
/// there is no value, and of members with one key the first stays.
Outcome<JsonValue> parse_json(const SourceText& source, const JsonLimits& limits = {});

}  // namespace yubifu::base
