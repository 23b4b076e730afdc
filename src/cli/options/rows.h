// What the rows of the option table are made with: readers of values, and the rows, group by group.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/message.h"
#include "cli/options/option_table.h"
#include "model/flute_name.h"
#include "model/rational.h"

namespace yubifu::cli {

/// Stores what was read, or says what was expected.
template <typename Value, typename Target>
Complaint keep(const std::optional<Value>& value, Target& target, std::string expected) {
  if (!value) return expected;
  target = *value;
  return std::nullopt;
}

/// Each of these stores in the member of Options that `members` lead to, one in the other.
///
/// A switch that makes the member `value`.
template <typename Value, typename... Members>
Taken becomes(Value value, Members... members) {
  return {[=](Options& options, const std::string&) -> Complaint {
    (options.*....*members) = value;
    return std::nullopt;
  }};
}

/// Any text.
template <typename... Members>
Taken text(Members... members) {
  return {[=](Options& options, const std::string& value) -> Complaint {
    (options.*....*members) = value;
    return std::nullopt;
  }};
}

/// What `read` makes of a text; `expected`, of the catalogue, says what can be, `values` lists it.
template <typename Read, typename... Members>
Taken read_by(Read read, std::string_view expected, std::vector<std::string_view> values,
              Members... members) {
  return {[=](Options& options, const std::string& value) {
            return keep(read(value), (options.*....*members), base::translated(expected));
          },
          std::move(values)};
}

/// One of a few words, each with its value. A single word is expected as it stands.
template <typename Value, typename... Members>
Taken one_of(std::initializer_list<std::pair<std::string_view, Value>> words,
             std::string_view expected, Members... members) {
  std::vector<std::string_view> values;
  for (const auto& [word, value] : words) values.push_back(word);
  return {[=, list = std::vector(words)](Options& options, const std::string& typed) -> Complaint {
            for (const auto& [word, value] : list) {
              if (word != typed) continue;
              (options.*....*members) = value;
              return std::nullopt;
            }
            return list.size() == 1 ? std::string(list[0].first) : base::translated(expected);
          },
          values};
}

/// Takes what stands before the next comma out of a list.
std::string_view next_part(std::string_view& rest);

/// A whole number from `least` to `most`, read to the end.
std::optional<int> whole_number(std::string_view text, int least, int most);

/// Such a number.
template <typename... Members>
Taken number(int least, int most, Members... members) {
  return {[=](Options& options, const std::string& value) {
    return keep(whole_number(value, least, most), (options.*....*members),
                base::message("a number from {} to {}", least, most));
  }};
}

/// A4 in Hz, 300 to 600.
std::optional<double> tuning_hz(std::string_view text);

/// A row; see OptionRow.
OptionRow row(std::string_view name, std::string_view placeholder, OptionGroup group,
              std::vector<std::string_view> verbs, std::string_view help, Taken taken,
              char letter = 0);

/// The rows of each group, in the order of help.
std::vector<OptionRow> file_options();
std::vector<OptionRow> flute_options();
std::vector<OptionRow> reading_options();
std::vector<OptionRow> staff_options();
std::vector<OptionRow> sound_options();
std::vector<OptionRow> layout_options();
std::vector<OptionRow> page_options();
std::vector<OptionRow> reporting_options();
std::vector<OptionRow> proof_options();
std::vector<OptionRow> task_options();

}  // namespace yubifu::cli
