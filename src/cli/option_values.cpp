#include "cli/option_values.h"

#include <charconv>

namespace yubifu::cli {

std::optional<int> whole_number(std::string_view text, int least, int most) {
  if (text.starts_with('+')) text.remove_prefix(1);
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  if (!whole || value < least || value > most) return std::nullopt;
  return value;
}

std::optional<double> tuning_hz(std::string_view text) {
  const auto value = model::parse_decimal(text);
  if (!value || *value < model::Rational(300) || *value > model::Rational(600)) {
    return std::nullopt;
  }
  return value->as_double();
}

std::optional<model::Rational> quarter_notes(std::string_view text) {
  const bool negative = text.starts_with('-');
  if (negative || text.starts_with('+')) text.remove_prefix(1);
  const bool fraction = text.find('/') != std::string_view::npos;
  const auto value = text.starts_with('-') ? std::nullopt
                     : fraction            ? model::parse_rational(text)
                                           : model::parse_decimal(text);
  if (!value || *value > model::Rational(1000)) return std::nullopt;
  return negative ? -*value : *value;
}

std::optional<int> percent(std::string_view text) {
  if (text.ends_with('%')) text.remove_suffix(1);
  return whole_number(text, 1, 1000);
}

std::optional<std::vector<model::FluteName>> flute_list(std::string_view text) {
  std::vector<model::FluteName> flutes;
  while (true) {
    const std::size_t comma = text.find(',');
    const auto flute = model::parse_flute_name(text.substr(0, comma));
    if (!flute) return std::nullopt;
    flutes.push_back(*flute);
    if (comma == std::string_view::npos) return flutes;
    text.remove_prefix(comma + 1);
  }
}

}  // namespace yubifu::cli
