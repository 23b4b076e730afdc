// One table of all options: the command line, the help and everything made from the help read it.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/options/options.h"

namespace yubifu::cli {

/// Headings under which help shows the options.
enum class OptionGroup { files, flute, staff, sound, choice, layout, page, proof, reporting };

/// The order in which help shows them.
inline constexpr std::array kGroupOrder{
    OptionGroup::files, OptionGroup::flute, OptionGroup::choice,
    OptionGroup::staff, OptionGroup::sound, OptionGroup::layout,
    OptionGroup::page,  OptionGroup::proof, OptionGroup::reporting};

/// As help prints it, to be translated.
std::string_view heading(OptionGroup group);

/// What was expected instead of a value; nothing when the value was good.
using Complaint = std::optional<std::string>;

/// Stores a value of the command line.
using Setter = std::function<Complaint(Options& options, const std::string& value)>;

/// One option. `set` stores the value and returns a complaint ("a number from 1 to 13") when the
/// text is no value of this kind; for a switch the text is empty.
struct OptionRow {
  std::string_view name;         ///< long form without dashes
  char letter;                   ///< short form, 0 for none
  std::string_view placeholder;  ///< what the value is called; empty for a switch
  OptionGroup group;
  std::vector<std::string_view> verbs;  ///< the verbs that take it
  std::string_view help;
  Setter set;
  /// What it takes, where that is a short list of words.
  std::vector<std::string_view> values = {};
};

/// All options, group by group as their files give them.
const std::vector<OptionRow>& option_table();

/// The rows of one verb, in the order of the table.
std::vector<const OptionRow*> options_of(std::string_view verb);

/// True when the option of that name was given, whatever its value.
bool is_given(const Options& options, std::string_view name);

}  // namespace yubifu::cli
