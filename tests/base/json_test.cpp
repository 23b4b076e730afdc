#include "base/json.h"

#include <algorithm>
#include <limits>
#include <random>

#include <gmock/gmock.h>

#include "base/json_writer.h"
#include "base/rules.h"
#include "base/utf8.h"
#include "support/text.h"

namespace yubifu::base {
namespace {

using support::short_forms;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<std::string> faults(const std::string& text, const JsonLimits& limits = {}) {
  const SourceText source("x.json", text);
  return short_forms(parse_json(source, limits).diagnostics, source);
}

std::string first_message(const std::string& text) {
  return parse_json(SourceText("x.json", text)).diagnostics.at(0).message;
}

JsonValue parsed(const std::string& text) {
  auto outcome = parse_json(SourceText("x.json", text));
  EXPECT_THAT(outcome.diagnostics, IsEmpty());
  return std::move(outcome.value.value());
}

TEST(Json, ReadsEveryKind) {
  const JsonValue value = parsed(
      R"({"null": null, "yes": true, "no": false, "int": -12, "real": 2.5e1, "big": 18446744073709551615, "text": "a\u00e9\n", "list": [1, []], "object": {}})");
  EXPECT_TRUE(value.find("null")->is_null());
  EXPECT_TRUE(*value.find("yes")->as<bool>());
  EXPECT_FALSE(*value.find("no")->as<bool>());
  EXPECT_EQ(value.find("int")->as<JsonNumber>()->whole, -12);
  EXPECT_EQ(value.find("int")->as<JsonNumber>()->value, -12.0);
  EXPECT_EQ(value.find("real")->as<JsonNumber>()->value, 25.0);
  EXPECT_FALSE(value.find("real")->as<JsonNumber>()->whole);
  EXPECT_FALSE(value.find("big")->as<JsonNumber>()->whole);
  EXPECT_EQ(*value.find("text")->as<std::string>(), "aé\n");
  EXPECT_EQ(value.find("list")->as<JsonArray>()->size(), 2u);
  EXPECT_THAT(*value.find("object")->as<JsonObject>(), IsEmpty());
  EXPECT_EQ(value.find("else"), nullptr);
  EXPECT_EQ(value.find("list")->find("x"), nullptr);
}

// Each value's range, cut out of the text, must be the value's own text.
TEST(Json, KnowsWhereEachValueStood) {
  const std::string text =
      "\xEF\xBB\xBF { \"a\\\"b\" : [ 1 , -2.5e-3, \"x\\\\\" ,true],\n\"é\":{\"n\" :null,\"m\":[]} "
      "} ";
  const JsonValue value = parsed(text);
  const auto cut = [&](SourceRange where) {
    return text.substr(where.begin, where.end - where.begin);
  };
  const JsonObject& object = *value.as<JsonObject>();
  EXPECT_EQ(cut(value.where), text.substr(4, text.size() - 5));
  EXPECT_EQ(cut(object[0].key_where), "\"a\\\"b\"");
  EXPECT_EQ(cut(object[0].value.where), "[ 1 , -2.5e-3, \"x\\\\\" ,true]");
  const JsonArray& list = *object[0].value.as<JsonArray>();
  EXPECT_EQ(cut(list[0].where), "1");
  EXPECT_EQ(cut(list[1].where), "-2.5e-3");
  EXPECT_EQ(cut(list[2].where), "\"x\\\\\"");
  EXPECT_EQ(cut(list[3].where), "true");
  EXPECT_EQ(cut(object[1].key_where), "\"é\"");
  EXPECT_EQ(cut(object[1].value.where), "{\"n\" :null,\"m\":[]}");
  EXPECT_EQ(cut(object[1].value.find("n")->where), "null");
  EXPECT_EQ(cut(object[1].value.find("m")->where), "[]");
  EXPECT_EQ(parsed("7").where, (SourceRange{0, 1}));
}

TEST(Json, TellsWhereItIsBroken) {
  EXPECT_THAT(faults(""), ElementsAre("1:1 error json-syntax"));
  EXPECT_THAT(faults("{\"a\": 1,}"), ElementsAre("1:9 error json-syntax"));
  EXPECT_THAT(faults("[1,\n 2,,3]"), ElementsAre("2:4 error json-syntax"));
  EXPECT_THAT(faults("[1, 2"), ElementsAre("1:6 error json-syntax"));
  EXPECT_THAT(faults("[1, 2\n\n"), ElementsAre("3:1 error json-syntax"));
  EXPECT_THAT(faults("[1 2]"), ElementsAre("1:4 error json-syntax"));
  EXPECT_THAT(faults("[1 \"long\"]"), ElementsAre("1:4 error json-syntax"));
  EXPECT_THAT(faults("{1: 2}"), ElementsAre("1:2 error json-syntax"));
  EXPECT_THAT(faults("[trux]"), ElementsAre("1:5 error json-syntax"));
  EXPECT_THAT(faults("[\"a\\x\"]"), ElementsAre("1:5 error json-syntax"));
  EXPECT_THAT(faults("[\"a\nb\"]"), ElementsAre("1:4 error json-syntax"));
  EXPECT_THAT(faults("[-0, 0.5 1]"), ElementsAre("1:10 error json-syntax"));
  EXPECT_THAT(faults("[truefalse]"), ElementsAre("1:6 error json-syntax"));
  EXPECT_THAT(faults("[01]"), ElementsAre("1:3 error json-syntax"));
  EXPECT_THAT(faults("[1] [2]"), ElementsAre("1:5 error json-syntax"));
  EXPECT_THAT(faults("[1] // no comments"), ElementsAre("1:5 error json-syntax"));
  EXPECT_THAT(faults("[\"\xFF\"]"), ElementsAre("1:3 error json-syntax"));
  EXPECT_THAT(faults("[\"\\ud800\"]").size(), 1u);
  EXPECT_THAT(faults("[1e999]"), ElementsAre("1:2 error json-syntax"));
}

TEST(Json, TellsWhatItFoundAndWhatItExpected) {
  EXPECT_EQ(first_message("[1,,2]"),
            "this is not JSON: value - unexpected ','; expected '[', '{', or a literal");
  EXPECT_THAT(first_message("[\"abc"), HasSubstr("missing closing quote"));
  EXPECT_THAT(first_message("[1e999]"), HasSubstr("1e999"));
}

TEST(Json, TellsOfMembersThatStandTwiceAndKeepsTheFirst) {
  const SourceText source("x.json", "{\"b\": 1,\n \"a\": 2, \"b\": 3, \"b\": 4}");
  const auto outcome = parse_json(source);
  EXPECT_THAT(short_forms(outcome.diagnostics, source),
              ElementsAre("2:10 error json-duplicate-key", "2:18 error json-duplicate-key"));
  EXPECT_EQ(outcome.value->as<JsonObject>()->size(), 2u);
  EXPECT_EQ(outcome.value->find("b")->as<JsonNumber>()->whole, 1);
}

TEST(Json, HasLimits) {
  const std::string nested = std::string(65, '[') + std::string(65, ']');
  EXPECT_THAT(faults(nested), ElementsAre("1:65 error json-too-large"));
  EXPECT_THAT(faults(nested.substr(1, 128)), IsEmpty());
  EXPECT_THAT(faults(std::string(1'000'000, '[')), ElementsAre("1:65 error json-too-large"));
  EXPECT_THAT(faults("[1, 2, 3]", {64, 3}), ElementsAre("1:8 error json-too-large"));
  EXPECT_THAT(faults("[1, 2, 3]", {64, 4}), IsEmpty());
}

// A damaged text must give an answer, with a place inside the text, and never crash.
TEST(Json, SurvivesDamage) {
  const std::string good = R"({"a": [1, 2.5, "x\u00e9\\"], "b": {"c": null, "d": [true, false]}})";
  std::mt19937_64 random(1);
  for (int i = 0; i < 20'000; ++i) {
    std::string bad = good;
    for (std::uint64_t n = 1 + random() % 3; n > 0; --n) {
      const std::size_t at = random() % bad.size();
      if (random() % 2 == 0) {
        bad.erase(at, 1 + random() % 3);
      } else {
        bad[at] = static_cast<char>(random() % 256);
      }
      if (bad.empty()) bad = "[";
    }
    const SourceText source("x.json", bad);
    const auto outcome = parse_json(source);
    const auto is_syntax = [](const Diagnostic& fault) { return fault.rule == &rule::json_syntax; };
    EXPECT_EQ(outcome.value.has_value(),
              std::none_of(outcome.diagnostics.begin(), outcome.diagnostics.end(), is_syntax))
        << bad;
    for (const Diagnostic& fault : outcome.diagnostics) {
      ASSERT_LE(fault.where->begin, fault.where->end) << bad;
      ASSERT_LE(fault.where->end, bad.size()) << bad;
    }
  }
}

TEST(JsonWriter, LaysOutObjectsAndArrays) {
  JsonWriter writer;
  writer.begin_object();
  writer.key("empty").begin_array();
  writer.end_array();
  writer.key("list").begin_array();
  writer.begin_object(JsonLayout::one_line);
  writer.key("a").number(std::int64_t{-1});
  writer.key("b").begin_array();
  writer.number(0.5);
  writer.null();
  writer.end_array();
  writer.end_object();
  writer.begin_object(JsonLayout::one_line);
  writer.end_object();
  writer.end_array();
  writer.key("yes").boolean(true);
  writer.end_object();
  EXPECT_EQ(
      writer.take(),
      "{\n  \"empty\": [],\n  \"list\": [\n    {\"a\": -1, \"b\": [0.5, null]},\n    {}\n  ],\n"
      "  \"yes\": true\n}\n");
}

TEST(JsonWriter, EscapesWhatMustBe) {
  std::string out;
  const std::string nul(1, '\0');
  append_json_string(out, "\"\\/\n\t\r\x01\x7F" + nul + "三\xE4\x80 é😀");
  EXPECT_EQ(out, "\"\\\"\\\\/\\n\\t\\r\\u0001\\u007f\\u0000三\xEF\xBF\xBD\xEF\xBF\xBD é😀\"");
  EXPECT_FALSE(first_invalid_utf8(out));
}

TEST(JsonWriter, WritesNumbersThatReadBack) {
  for (const double value : {0.0, -0.5, 440.0, 1.0 / 3, 1e300, 5e-324, 432.5, 1e22}) {
    JsonWriter writer;
    writer.number(value);
    EXPECT_EQ(parsed(writer.take()).as<JsonNumber>()->value, value);
  }
  JsonWriter writer;
  writer.number(std::numeric_limits<double>::infinity());
  EXPECT_EQ(writer.take(), "null\n");
}

TEST(JsonWriter, WritesStringsThatReadBack) {
  std::mt19937_64 random(2);
  for (int i = 0; i < 2000; ++i) {
    std::string text;
    for (std::uint64_t n = random() % 20; n > 0; --n) {
      char32_t value = static_cast<char32_t>(random() % (random() % 2 == 0 ? 0x100 : 0x110000));
      if (value >= 0xD800 && value < 0xE000) value = U'x';
      append_utf8(text, value);
    }
    JsonWriter writer;
    writer.text(text);
    EXPECT_EQ(*parsed(writer.take()).as<std::string>(), text);
  }
}

class JsonFieldsTest : public testing::Test {
 protected:
  void read(std::string text) {
    source_.emplace("x.json", std::move(text));
    value_ = std::move(*parse_json(*source_).value);
  }
  std::vector<std::string> reported() const { return short_forms(diagnostics_, *source_); }

  std::optional<SourceText> source_;
  JsonValue value_;
  Diagnostics diagnostics_;
};

TEST_F(JsonFieldsTest, GivesWhatIsThere) {
  read(R"({"t": "x", "b": true, "n": 2.5, "w": 7, "a": [1]})");
  JsonFields fields(value_, "the thing", diagnostics_);
  EXPECT_EQ(*fields.text("t"), "x");
  EXPECT_EQ(fields.boolean("b"), true);
  EXPECT_EQ(fields.number("n"), 2.5);
  EXPECT_EQ(fields.whole("w", 7, 7), 7);
  EXPECT_EQ(fields.array("a")->size(), 1u);
  EXPECT_EQ(fields.text("none"), nullptr);
  fields.report_unknown();
  EXPECT_THAT(diagnostics_, IsEmpty());
}

TEST_F(JsonFieldsTest, ReportsMissingWrongAndUnknownMembers) {
  read("{\"t\": 1,\n \"w\": 8, \"v\": 1.5, \"tilte\": 0}");
  JsonFields fields(value_, "the thing", diagnostics_);
  EXPECT_EQ(fields.text("title", Presence::required), nullptr);
  EXPECT_EQ(fields.text("t"), nullptr);
  EXPECT_EQ(fields.whole("w", 0, 7), std::nullopt);
  EXPECT_EQ(fields.whole("v", 0, 7), std::nullopt);
  fields.report_unknown();
  EXPECT_THAT(reported(),
              ElementsAre("1:1 error json-missing", "1:7 error json-kind", "2:7 error json-value",
                          "2:15 error json-value", "2:20 warning json-unknown"));
  EXPECT_EQ(diagnostics_[0].message, "the thing lacks the member \"title\"");
  EXPECT_EQ(diagnostics_[1].message, "the thing, \"t\": expected a string, found a number");
  EXPECT_EQ(diagnostics_[2].message, "the thing: \"w\" must be a whole number from 0 to 7");
  EXPECT_EQ(diagnostics_[4].hint, "did you mean \"title\"?");
}

TEST_F(JsonFieldsTest, OfSomethingThatIsNoObject) {
  read("[1]");
  JsonFields fields(value_, "the thing", diagnostics_);
  EXPECT_FALSE(fields.is_object());
  EXPECT_EQ(fields.text("title", Presence::required), nullptr);
  fields.report_unknown();
  EXPECT_THAT(reported(), ElementsAre("1:1 error json-kind"));
}

}  // namespace
}  // namespace yubifu::base
