#include "base/json_fields.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/rules.h"
#include "base/suggest.h"
#include "base/translation.h"

namespace yubifu::base {

JsonFields::JsonFields(const JsonValue& object, std::string what, Diagnostics& diagnostics)
    : where_(object.where), what_(std::move(what)), diagnostics_(diagnostics) {
  if (object.as<JsonObject>() != nullptr) {
    object_ = &object;
  } else {
    report_json_kind(diagnostics_, object, what_, catalogued("an object"));
  }
}

const JsonValue* JsonFields::find(std::string_view key, Presence presence) {
  if (object_ == nullptr) return nullptr;
  if (std::find(asked_.begin(), asked_.end(), key) == asked_.end()) asked_.push_back(key);
  const JsonValue* value = object_->find(key);
  if (value == nullptr && presence == Presence::required) {
    const SourceRange start{where_.begin, where_.begin + 1};
    diagnostics_.push_back(
        report(rule::json_missing, start, message("{} lacks the member \"{}\"", what_, key)));
  }
  return value;
}

template <typename T>
const T* JsonFields::of_kind(std::string_view key, Presence presence, std::string_view expected) {
  const JsonValue* value = find(key, presence);
  if (value == nullptr) return nullptr;
  const T* found = value->as<T>();
  if (found == nullptr) report_kind(*value, key, expected);
  return found;
}

const std::string* JsonFields::text(std::string_view key, Presence presence) {
  return of_kind<std::string>(key, presence, catalogued("a string"));
}

std::optional<bool> JsonFields::boolean(std::string_view key, Presence presence) {
  const bool* found = of_kind<bool>(key, presence, catalogued("true or false"));
  return found == nullptr ? std::nullopt : std::optional(*found);
}

std::optional<double> JsonFields::number(std::string_view key, Presence presence) {
  const JsonNumber* found = of_kind<JsonNumber>(key, presence, catalogued("a number"));
  return found == nullptr ? std::nullopt : std::optional(found->value);
}

const JsonArray* JsonFields::array(std::string_view key, Presence presence) {
  return of_kind<JsonArray>(key, presence, catalogued("an array"));
}

std::optional<std::int64_t> JsonFields::whole(std::string_view key, std::int64_t low,
                                              std::int64_t high, Presence presence) {
  const JsonNumber* found = of_kind<JsonNumber>(key, presence, catalogued("a whole number"));
  if (found == nullptr) return std::nullopt;
  if (!found->whole || *found->whole < low || *found->whole > high) {
    report_value(key,
                 message("{}: \"{}\" must be a whole number from {} to {}", what_, key, low, high));
    return std::nullopt;
  }
  return found->whole;
}

void JsonFields::report_value(std::string_view key, std::string text, std::string hint) {
  const JsonValue* value = object_ == nullptr ? nullptr : object_->find(key);
  diagnostics_.push_back(report(rule::json_value, value == nullptr ? where_ : value->where,
                                std::move(text), std::move(hint)));
}

void JsonFields::report_unknown() {
  if (object_ == nullptr) return;
  for (const JsonMember& member : *object_->as<JsonObject>()) {
    if (std::find(asked_.begin(), asked_.end(), member.key) != asked_.end()) continue;
    const auto nearest = nearest_word(member.key, asked_);
    diagnostics_.push_back(report(
        rule::json_unknown, member.key_where,
        message("{} has a member \"{}\" that is not known here and is left out", what_, member.key),
        nearest ? message("did you mean \"{}\"?", *nearest) : std::string{}));
  }
}

void JsonFields::report_kind(const JsonValue& value, std::string_view key,
                             std::string_view expected) {
  report_json_kind(diagnostics_, value, fmt::format("{}, \"{}\"", what_, key), expected);
}

void report_json_kind(Diagnostics& diagnostics, const JsonValue& value, std::string_view what,
                      std::string_view expected) {
  diagnostics.push_back(report(rule::json_kind, value.where,
                               message("{}: expected {}, found {}", what, translated(expected),
                                       translated(kind_name(value)))));
}

}  // namespace yubifu::base
