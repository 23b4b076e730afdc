// One table of all options: the help, everything made from the help and the command line read it.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "cli/options/options.h"

namespace yubifu::cli {

/// Headings under which help shows the options.
enum class OptionGroup { files, flute, staff, sound, choice, layout, page, proof, reporting };

/// In the order of help, each as help prints it, to be translated.
inline constexpr std::array<std::pair<OptionGroup, std::string_view>, 9> kHeadings{
    {{OptionGroup::files, "Files"},
     {OptionGroup::flute, "Flute and pitch"},
     {OptionGroup::choice, "What is read"},
     {OptionGroup::staff, "Staff"},
     {OptionGroup::sound, "Sound"},
     {OptionGroup::layout, "Fingering text"},
     {OptionGroup::page, "Printed page (.svg, .html, .pdf)"},
     {OptionGroup::proof, "What is looked for"},
     {OptionGroup::reporting, "Messages"}}};

/// What was expected instead of a value; nothing when the value was good.
using Complaint = std::optional<std::string>;

/// What an option takes.
struct Taken {
  /// Stores the value (empty for a switch), or complains: "a number from 1 to 13".
  std::function<Complaint(Options& options, const std::string& value)> set;
  std::vector<std::string_view> values = {};  ///< the words among it that can be listed
};

/// One option.
struct OptionRow {
  std::string_view name;         ///< long form without dashes
  std::string_view placeholder;  ///< what the value is called; empty for a switch
  OptionGroup group;
  std::vector<std::string_view> verbs;  ///< the verbs that take it
  std::string_view help;
  Taken taken;
  char letter;  ///< short form, 0 for none
};

/// All options, group by group as their files give them.
const std::vector<OptionRow>& option_table();

/// The rows of one verb, in the order of the table.
std::vector<const OptionRow*> options_of(std::string_view verb);

/// True when the option of that name was given, whatever its value.
bool is_given(const Options& options, std::string_view name);

/// A sentence for the user that says what is wrong and what would be right.
using UsageError = std::string;

/// Reads the words after the verb. Options and inputs may be mixed; after "--" all are inputs.
std::variant<Options, UsageError> parse_command_line(std::string_view verb,
                                                     const std::vector<std::string>& words);

}  // namespace yubifu::cli
