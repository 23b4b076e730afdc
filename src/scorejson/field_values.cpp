#include "scorejson/field_values.h"

#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/message.h"
#include "base/word_table.h"

namespace yubifu::scorejson {

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

}  // namespace yubifu::scorejson
