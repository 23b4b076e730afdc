// JSON values that remember where in the text they stood, so that a fault of meaning can be shown
// with its place, and their members by name, with one wording for everything that can be wrong.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/diagnostic.h"

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

struct JsonMember {
  std::string key;
  SourceRange key_where;  ///< quotes included
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

/// Whether a member has to be there.
enum class Presence { required, optional };

/// The members of one object. Each look-up reports `json-missing` or `json-kind` where the member
/// lacks or is of another kind, a null included, and then gives nothing.
class JsonFields {
 public:
  /// `what` names the object in sentences: "the score", "note 3". Reports `json-kind` for a value
  /// that is no object. Both references must outlive this.
  JsonFields(const JsonValue& object, std::string what, Diagnostics& diagnostics);

  bool is_object() const { return object_ != nullptr; }
  /// A member of any kind, null included.
  const JsonValue* find(std::string_view key, Presence presence = Presence::optional);

  /// A member of one kind; the pointers hold as long as the object.
  const std::string* text(std::string_view key, Presence presence = Presence::optional);
  std::optional<bool> boolean(std::string_view key, Presence presence = Presence::optional);
  std::optional<double> number(std::string_view key, Presence presence = Presence::optional);
  const JsonArray* array(std::string_view key, Presence presence = Presence::optional);

  /// A whole number from `low` to `high`; reports `json-value` for one outside.
  std::optional<std::int64_t> whole(std::string_view key, std::int64_t low, std::int64_t high,
                                    Presence presence = Presence::optional);

  /// Reports `json-value` at a member: what is wrong with it and what would be right.
  void report_value(std::string_view key, std::string message, std::string hint = {});

  /// Reports `json-unknown` for members that no look-up named, with the nearest name that one did.
  void report_unknown();

  /// "of note 3" for sentences that a caller makes.
  const std::string& what() const { return what_; }

 private:
  // The member as one kind of value; `expected` says it in words.
  template <typename T>
  const T* of_kind(std::string_view key, Presence presence, std::string_view expected);

  const JsonValue* object_;
  SourceRange where_;
  std::string what_;
  Diagnostics& diagnostics_;
  std::vector<std::string_view> asked_;  // string literals of the callers
};

/// Reports `json-kind` for a value that is not what a sentence expects: "note 3: expected an
/// object, found a number".
void report_json_kind(Diagnostics& diagnostics, const JsonValue& value, std::string_view what,
                      std::string_view expected);

}  // namespace yubifu::base
