#include "cli/options/option_table.h"

#include <algorithm>
#include <charconv>

#include "base/translation.h"
#include "cli/options/rows.h"

namespace yubifu::cli {

std::string_view heading(OptionGroup group) {
  switch (group) {
    case OptionGroup::files:
      return base::catalogued("Files");
    case OptionGroup::flute:
      return base::catalogued("Flute and pitch");
    case OptionGroup::choice:
      return base::catalogued("What is read");
    case OptionGroup::staff:
      return base::catalogued("Staff");
    case OptionGroup::sound:
      return base::catalogued("Sound");
    case OptionGroup::layout:
      return base::catalogued("Fingering text");
    case OptionGroup::page:
      return base::catalogued("Printed page (.svg, .html)");
    case OptionGroup::proof:
      return base::catalogued("What is looked for");
    case OptionGroup::reporting:
      return base::catalogued("Messages");
  }
  return {};
}

const std::vector<OptionRow>& option_table() {
  static const std::vector<OptionRow> table = [] {
    std::vector<OptionRow> all;
    for (auto& rows : {file_options(), flute_options(), reading_options(), staff_options(),
                       sound_options(), layout_options(), starter_options(), page_options(),
                       reporting_options(), proof_options(), fit_options(), chart_options()}) {
      all.insert(all.end(), rows.begin(), rows.end());
    }
    return all;
  }();
  return table;
}

std::vector<const OptionRow*> options_of(std::string_view verb) {
  std::vector<const OptionRow*> rows;
  for (const OptionRow& row : option_table()) {
    if (std::find(row.verbs.begin(), row.verbs.end(), verb) != row.verbs.end()) {
      rows.push_back(&row);
    }
  }
  return rows;
}

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

bool is_given(const Options& options, std::string_view name) {
  return std::any_of(options.given.begin(), options.given.end(),
                     [&](const OptionRow* row) { return row->name == name; });
}

}  // namespace yubifu::cli
