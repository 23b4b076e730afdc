#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/message.h"
#include "scorejson/parts.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using base::JsonFields;
using base::Presence;
using model::Rational;

class MeasureReader {
 public:
  MeasureReader(model::Score& score, base::Diagnostics& diagnostics)
      : score_(score), diagnostics_(diagnostics) {}

  void read(const base::JsonArray& array) {
    for (const base::JsonValue& value : array) measure(value);
    for (const std::size_t i : without_irregular_) {
      score_.measures[i].irregular = model::needs_irregular(score_, i);
    }
    if (!numbered_) model::number_measures(score_);
  }

  std::vector<Rational> take_starts() { return std::move(starts_); }

 private:
  void measure(const base::JsonValue& value) {
    const std::size_t index = score_.measures.size();
    JsonFields fields(value, base::message("bar index {}", index), diagnostics_);
    starts_.push_back(now_);
    model::Measure here;
    here.source = value.where;
    check_place(fields, index);
    if (const std::string* number = fields.text("number")) {
      here.number = *number;
      numbered_ = true;
    }
    here.length = time_field(fields, "length", Presence::required).value_or(0);
    meter(fields, here);
    signs(fields, here);
    here.break_before = word_field(fields, "break", kLineBreaks).value_or(model::LineBreak::none);
    if (const auto irregular = fields.boolean("irregular")) {
      here.irregular = *irregular;
    } else {
      without_irregular_.push_back(index);
    }
    now_ += here.length;
    if (const auto* list = fields.array("directions")) {
      for (const base::JsonValue& one : *list) direction(one, fields.what(), here, index);
    }
    if (const auto* list = fields.array("comments")) {
      for (const base::JsonValue& one : *list) comment(one, fields.what(), here);
    }
    fields.report_unknown();
    score_.measures.push_back(std::move(here));
  }

  // What follows from the place in the array may be told too, and then has to be true.
  void check_place(JsonFields& fields, std::size_t index) {
    const auto told = fields.whole("index", 0, std::numeric_limits<std::int64_t>::max());
    if (told && static_cast<std::size_t>(*told) != index) {
      fields.report_value("index",
                          base::message("{}: its index is told as {}", fields.what(), *told));
    }
    const auto onset = time_field(fields, "onset");
    if (onset && *onset != now_) {
      fields.report_value(
          "onset", base::message("{}: it begins at {}, where the bars before it end, "
                                 "and not at {}",
                                 fields.what(), model::to_text(now_), model::to_text(*onset)));
    }
  }

  static void meter(JsonFields& fields, model::Measure& here) {
    if (const std::string* text = fields.text("meter", Presence::required)) {
      if (const auto meter = model::parse_meter(*text)) {
        here.meter = *meter;
      } else {
        fields.report_value("meter", base::message("{}: \"{}\" is no meter", fields.what(), *text),
                            base::message("write a meter such as 3/4, or free"));
      }
    }
    here.beat = time_field(fields, "beat").value_or(model::default_beat(here.meter));
  }

  void signs(JsonFields& fields, model::Measure& here) {
    here.repeat_start = word_field(fields, "left", kLeftSides).value_or(false);
    const RightSide right = word_field(fields, "right", kRightSides).value_or(RightSide{});
    here.right = right.style;
    here.repeat_end = right.repeat_end;
    here.times = static_cast<int>(fields.whole("times", 2, model::kMostTimes).value_or(2));
    const auto* list = fields.array("ending");
    if (list == nullptr) return;
    for (const base::JsonValue& one : *list) {
      const auto* number = one.as<base::JsonNumber>();
      if (number != nullptr && number->whole && *number->whole > 0 &&
          *number->whole <= model::kMostEndings) {
        here.ending.push_back(static_cast<int>(*number->whole));
      } else {
        base::report_json_kind(diagnostics_, one, fields.what() + ", \"ending\"",
                               base::catalogued("whole numbers from 1 to 99"));
      }
    }
  }

  void direction(const base::JsonValue& value, const std::string& owner, const model::Measure& here,
                 std::size_t measure) {
    JsonFields fields(value, base::message("a direction of {}", owner), diagnostics_);
    const auto onset = time_field(fields, "onset", Presence::required);
    const std::string* kind = fields.text("kind", Presence::required);
    std::optional<model::DirectionValue> said;
    if (kind != nullptr) said = direction_value(fields, *kind, here);
    fields.report_unknown();
    if (!onset || !said) return;
    score_.directions.push_back({measure, *onset - starts_.back(), std::move(*said), value.where});
  }

  static std::optional<model::DirectionValue> direction_value(JsonFields& fields,
                                                              const std::string& kind,
                                                              const model::Measure& here) {
    if (const auto cue = model::cue_named(kind)) return *cue;
    if (!model::direction_kind(kind)) {
      report_word(fields, "kind", kind, model::direction_words());
      fields.find("value");
      return std::nullopt;
    }
    const std::string* text = fields.text("value", Presence::required);
    if (text == nullptr) return std::nullopt;
    auto value = model::parse_direction(kind, *text, model::felt_beat(here.meter, here.beat));
    if (!value) {
      fields.report_value("value",
                          base::message("{}: \"{}\" is no {}", fields.what(), *text, kind));
    }
    return value;
  }

  void comment(const base::JsonValue& value, const std::string& owner, model::Measure& here) {
    JsonFields fields(value, base::message("a comment of {}", owner), diagnostics_);
    model::Comment comment;
    if (const std::string* text = fields.text("text", Presence::required)) comment.text = *text;
    comment.own_line = fields.boolean("own-line").value_or(true);
    comment.blank_before = fields.boolean("blank-before").value_or(false);
    fields.report_unknown();
    here.comments.push_back(std::move(comment));
  }

  model::Score& score_;
  base::Diagnostics& diagnostics_;
  std::vector<Rational> starts_;
  Rational now_;  // where the next measure begins
  std::vector<std::size_t> without_irregular_;
  bool numbered_ = false;
};

}  // namespace

std::optional<model::Rational> time_field(base::JsonFields& fields, std::string_view key,
                                          base::Presence presence) {
  const std::string* text = fields.text(key, presence);
  if (text == nullptr) return std::nullopt;
  const auto time = model::parse_rational(*text);
  if (!time) {
    fields.report_value(
        key, base::message("{}: \"{}\" is \"{}\", which is no time", fields.what(), key, *text),
        base::message("write quarter notes such as \"2\" or \"3/2\""));
  }
  return time;
}

std::optional<double> cents_field(base::JsonFields& fields) {
  constexpr double kMostCents = 50;
  const auto cents = fields.number("cents");
  if (cents && std::abs(*cents) > kMostCents) {
    fields.report_value("cents", base::message("{}: \"cents\" must lie from -{} to {}",
                                               fields.what(), kMostCents, kMostCents));
  }
  return cents;
}

std::optional<model::HolePattern> holes_field(base::JsonFields& fields, std::string_view key,
                                              base::Presence presence) {
  const std::string* text = fields.text(key, presence);
  if (text == nullptr) return std::nullopt;
  auto pattern = model::parse_hole_pattern(*text);
  if (!pattern) {
    fields.report_value(
        key,
        base::message("{}: \"{}\" is \"{}\", which is no hole pattern", fields.what(), key, *text),
        base::message("write one of ● ○ ◐ ◎ for each hole"));
  }
  return pattern;
}

void report_word(base::JsonFields& fields, std::string_view key, const std::string& text,
                 const std::vector<std::string_view>& words) {
  const auto nearest = base::nearest_word(text, words);
  fields.report_value(
      key, base::message("{}: \"{}\" is \"{}\", which is not known", fields.what(), key, text),
      nearest ? base::message("did you mean \"{}\"?", *nearest)
              : base::message("write one of: {}", fmt::join(words, ", ")));
}

std::vector<Rational> read_measures(const base::JsonArray& array, model::Score& score,
                                    base::Diagnostics& diagnostics) {
  MeasureReader reader(score, diagnostics);
  reader.read(array);
  return reader.take_starts();
}

}  // namespace yubifu::scorejson
