// The rows of the option table, one file a group.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/option_table.h"

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

}  // namespace yubifu::cli
