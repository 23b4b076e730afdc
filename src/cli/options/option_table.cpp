#include "cli/options/option_table.h"

#include <algorithm>

#include "base/numbers.h"
#include "cli/options/rows.h"

namespace yubifu::cli {

const std::vector<OptionRow>& option_table() {
  static const std::vector<OptionRow> table = [] {
    std::vector<OptionRow> all;
    for (auto& rows : {file_options(), flute_options(), reading_options(), staff_options(),
                       sound_options(), layout_options(), page_options(), reporting_options(),
                       proof_options(), fit_options(), chart_options(), gauge_options()}) {
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

std::string_view next_part(std::string_view& rest) {
  const std::string_view part = rest.substr(0, rest.find(','));
  rest.remove_prefix(std::min(rest.size(), part.size() + 1));
  return part;
}

std::optional<int> whole_number(std::string_view text, int least, int most) {
  if (text.starts_with('+')) text.remove_prefix(1);
  const auto value = base::whole_number(text);
  return value && *value >= least && *value <= most ? value : std::nullopt;
}

std::optional<double> tuning_hz(std::string_view text) {
  const auto value = model::parse_decimal(text);
  if (!value || *value < model::Rational(300) || *value > model::Rational(600)) {
    return std::nullopt;
  }
  return value->as_double();
}

OptionRow row(std::string_view name, std::string_view placeholder, OptionGroup group,
              std::vector<std::string_view> verbs, std::string_view help, Taken taken,
              char letter) {
  return {name, placeholder, group, std::move(verbs), help, std::move(taken), letter};
}

bool is_given(const Options& options, std::string_view name) {
  return std::any_of(options.given.begin(), options.given.end(),
                     [&](const OptionRow* row) { return row->name == name; });
}

}  // namespace yubifu::cli
