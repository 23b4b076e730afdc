// What the rows of the option table are made with: reading the values of options, and the rows, one
// file a group.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/options/option_table.h"
#include "model/flute_name.h"
#include "model/rational.h"

namespace yubifu::cli {

/// What was expected instead of a value; nothing when the value was good.
using Complaint = std::optional<std::string>;

/// Stores what was read, or says what was expected.
template <typename Value, typename Target>
Complaint keep(const std::optional<Value>& value, Target& target, std::string expected) {
  if (!value) return expected;
  target = *value;
  return std::nullopt;
}

/// The rows of each file, in the order of help.
std::vector<OptionRow> file_options();
std::vector<OptionRow> flute_options();
std::vector<OptionRow> reading_options();
std::vector<OptionRow> staff_options();
std::vector<OptionRow> sound_options();
std::vector<OptionRow> layout_options();
std::vector<OptionRow> starter_options();
std::vector<OptionRow> page_options();
std::vector<OptionRow> reporting_options();
std::vector<OptionRow> proof_options();
std::vector<OptionRow> fit_options();
std::vector<OptionRow> chart_options();

/// A whole number from `least` to `most`, read to the end.
std::optional<int> whole_number(std::string_view text, int least, int most);

/// A4 in Hz, 300 to 600.
std::optional<double> tuning_hz(std::string_view text);

/// Quarter notes as a fraction or a decimal, with a sign or without: "1/16", "-0.1"; at most 1000.
std::optional<model::Rational> quarter_notes(std::string_view text);

/// "60%" or "60": 1 to 1000.
std::optional<int> percent(std::string_view text);

/// Sizes and files of flutes, parted by commas.
std::optional<std::vector<model::FluteName>> flute_list(std::string_view text);

}  // namespace yubifu::cli
