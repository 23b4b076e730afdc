#include "base/json.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/message.h"
#include "base/rules.h"
#include "base/utf8.h"
#include "base/word_table.h"

namespace yubifu::base {
namespace {

constexpr std::string_view kSpace = " \t\r\n";
constexpr std::string_view kBetweenTokens = " \t\r\n,:";

std::size_t after_digits(std::string_view text, std::size_t at) {
  const std::size_t end = text.find_first_not_of("0123456789", at);
  return end == std::string_view::npos ? text.size() : end;
}

std::size_t after_number(std::string_view text, std::size_t at) {
  if (text[at] == '-') ++at;
  at = text[at] == '0' ? at + 1 : after_digits(text, at);
  if (at < text.size() && text[at] == '.') at = after_digits(text, at + 1);
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    const bool sign = text[at + 1] == '+' || text[at + 1] == '-';
    at = after_digits(text, at + (sign ? 2 : 1));
  }
  return at;
}

// The end of the token that starts at `begin`, which the parser has found well formed.
std::size_t token_end(std::string_view text, std::size_t begin) {
  for (const std::string_view token : {"{", "}", "[", "]", "true", "null", "false"}) {
    if (text.substr(begin).starts_with(token)) return begin + token.size();
  }
  if (text[begin] != '"') return after_number(text, begin);
  std::size_t at = begin + 1;
  while (text[at] != '"') at += text[at] == '\\' ? 2 : 1;
  return at + 1;
}

// Builds the value from the parser's events. The parser tells no places, but it tells every token
// in order, and between two of them there is nothing but space, commas and colons.
class Builder : public nlohmann::json_sax<nlohmann::json> {
 public:
  Builder(const SourceText& source, const JsonLimits& limits)
      : text_(source.text()), limits_(limits) {
    if (text_.starts_with(kByteOrderMark)) cursor_ = kByteOrderMark.size();
  }

  Outcome<JsonValue> take() { return {std::move(root_), std::move(diagnostics_)}; }

  bool null() override { return add(JsonNull{}); }
  bool boolean(bool value) override { return add(value); }
  bool number_integer(std::int64_t value) override {
    return add(JsonNumber{static_cast<double>(value), value});
  }
  bool number_unsigned(std::uint64_t value) override {
    JsonNumber number{static_cast<double>(value), {}};
    if (std::in_range<std::int64_t>(value)) number.whole = static_cast<std::int64_t>(value);
    return add(number);
  }
  bool number_float(double value, const std::string&) override {
    return add(JsonNumber{value, {}});
  }
  bool string(std::string& value) override { return add(std::move(value)); }
  bool binary(nlohmann::json::binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(JsonObject{}); }
  bool start_array(std::size_t) override { return open(JsonArray{}); }
  bool end_array() override { return close(); }

  bool key(std::string& name) override {
    const SourceRange where = next_token();
    std::get<JsonObject>(open_.back()->data).push_back({std::move(name), where, {}});
    return true;
  }

  bool end_object() override {
    drop_duplicates(std::get<JsonObject>(open_.back()->data));
    return close();
  }

  bool parse_error(std::size_t position, const std::string&,
                   const nlohmann::detail::exception& error) override {
    root_.reset();
    diagnostics_.push_back(report(rule::json_syntax,
                                  fault_place(std::min(position, text_.size()), error.what()),
                                  message("this is not JSON: {}", told(error.what()))));
    return false;
  }

 private:
  static constexpr std::size_t kNowhere = std::string_view::npos;

  // The parser's sentence without its own code, place and quotation.
  static std::string told(std::string_view sentence) {
    for (const std::string_view before : {"syntax error while parsing ", "parsing error: "}) {
      const std::size_t at = sentence.find(before);
      if (at != kNowhere) sentence.remove_prefix(at + before.size());
    }
    if (const std::size_t code = sentence.rfind("] ");
        code != kNowhere && sentence.front() == '[') {
      sentence.remove_prefix(code + 2);
    }
    return std::string(sentence.substr(0, sentence.find("; last read")));
  }

  // The token that was not expected, or the byte that spoils one. `end` is what has been read.
  SourceRange fault_place(std::size_t end, std::string_view sentence) const {
    const std::size_t next = text_.find_first_not_of(kSpace, cursor_);
    if (next == kNowhere) return {text_.size(), text_.size()};
    const bool spoilt =
        sentence.find("parse_error") != kNowhere && sentence.find(" - unexpected ") == kNowhere;
    if (spoilt) return {end - std::min<std::size_t>(end, 1), end};
    std::size_t begin = next;
    while (begin + 1 < end && kBetweenTokens.find(text_[begin]) != kNowhere) ++begin;
    return {begin, std::max(begin + 1, end)};
  }

  SourceRange next_token() {
    const std::size_t begin = text_.find_first_not_of(kBetweenTokens, cursor_);
    cursor_ = token_end(text_, begin);
    return {begin, cursor_};
  }

  // Gives a value its place in the object or array that is open; nothing past the limit.
  template <typename T>
  JsonValue* place(T data) {
    const SourceRange where = next_token();
    if (++count_ > limits_.values) {
      refuse(where, message("this JSON holds more than {} values", limits_.values));
      return nullptr;
    }
    JsonValue value{std::move(data), where};
    if (open_.empty()) return &root_.emplace(std::move(value));
    if (auto* array = std::get_if<JsonArray>(&open_.back()->data)) {
      array->push_back(std::move(value));
      return &array->back();
    }
    JsonMember& member = std::get<JsonObject>(open_.back()->data).back();
    member.value = std::move(value);
    return &member.value;
  }

  template <typename T>
  bool add(T data) {
    return place(std::move(data)) != nullptr;
  }

  template <typename T>
  bool open(T data) {
    JsonValue* value = place(std::move(data));
    if (value == nullptr) return false;
    open_.push_back(value);
    if (open_.size() <= limits_.depth) return true;
    refuse(value->where, message("this JSON is nested more than {} deep", limits_.depth));
    return false;
  }

  bool close() {
    open_.back()->where.end = next_token().end;
    open_.pop_back();
    return true;
  }

  void refuse(SourceRange where, std::string why) {
    root_.reset();
    diagnostics_.push_back(report(rule::json_too_large, where, std::move(why)));
  }

  void drop_duplicates(JsonObject& object) {
    std::set<std::string> known;
    std::erase_if(object, [&](const JsonMember& member) {
      if (known.insert(member.key).second) return false;
      diagnostics_.push_back(report(rule::json_duplicate_key, member.key_where,
                                    message("the member \"{}\" stands here twice", member.key),
                                    message("take one of them out")));
      return true;
    });
  }

  std::string_view text_;
  JsonLimits limits_;
  std::size_t cursor_ = 0;  // after the last token
  std::size_t count_ = 0;
  std::optional<JsonValue> root_;  // nothing after a fault
  // The objects and arrays around the next value. Only the innermost grows, so they stay in place.
  std::vector<JsonValue*> open_;
  Diagnostics diagnostics_;
};

}  // namespace

const JsonValue* JsonValue::find(std::string_view key) const {
  const auto* object = as<JsonObject>();
  if (object == nullptr) return nullptr;
  const auto found = std::find_if(object->begin(), object->end(),
                                  [&](const JsonMember& member) { return member.key == key; });
  return found == object->end() ? nullptr : &found->value;
}

std::string_view kind_name(const JsonValue& value) {
  constexpr std::array<std::string_view, 6> kNames{
      catalogued("null"),     catalogued("true or false"), catalogued("a number"),
      catalogued("a string"), catalogued("an array"),      catalogued("an object")};
  return kNames[value.data.index()];
}

Outcome<JsonValue> parse_json(const SourceText& source, const JsonLimits& limits) {
  Builder builder(source, limits);
  const std::string_view text = source.text();
  nlohmann::json::sax_parse(text.begin(), text.end(), &builder);
  return builder.take();
}

JsonFields::JsonFields(const JsonValue& object, std::string what, Diagnostics& diagnostics)
    : object_(object.as<JsonObject>() != nullptr ? &object : nullptr),
      where_(object.where),
      what_(std::move(what)),
      diagnostics_(diagnostics) {
  if (!is_object()) report_json_kind(diagnostics_, object, what_, catalogued("an object"));
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
  if (found == nullptr) {
    report_json_kind(diagnostics_, *value, fmt::format("{}, \"{}\"", what_, key), expected);
  }
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

void report_json_kind(Diagnostics& diagnostics, const JsonValue& value, std::string_view what,
                      std::string_view expected) {
  diagnostics.push_back(report(rule::json_kind, value.where,
                               message("{}: expected {}, found {}", what, translated(expected),
                                       translated(kind_name(value)))));
}

}  // namespace yubifu::base
