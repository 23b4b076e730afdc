// Reading the members of JSON objects by name, with one wording for everything that can be wrong.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/json.h"

namespace yubifu::base {

/// Whether a member has to be there.
enum class Presence { required, optional };

/// The members of one object. Each look-up reports `json-missing` or `json-kind` where the member
/// lacks or is of another kind, and then gives nothing; `report_unknown` reports `json-unknown`
/// for the members that nobody asked for. A null is never what was asked for, except by `find`.
class JsonFields {
 public:
  /// `what` names the object in sentences: "the score", "note 3". Reports `json-kind` when the
  /// value is no object. Both references must outlive this.
  JsonFields(const JsonValue& object, std::string what, Diagnostics& diagnostics);

  /// False when the value is no object.
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

  /// Reports the members that none of the look-ups named, with the nearest name that one did.
  void report_unknown();

  /// "of note 3" for sentences that a caller makes.
  const std::string& what() const { return what_; }

 private:
  // The member as one kind of value; `expected` says it in words.
  template <typename T>
  const T* of_kind(std::string_view key, Presence presence, std::string_view expected);
  void report_kind(const JsonValue& value, std::string_view key, std::string_view expected);

  const JsonValue* object_ = nullptr;
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
