// What the completion of every shell needs to know of verbs and options.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/option_table.h"
#include "cli/verbs.h"

namespace yubifu::cli {

/// What stands behind an option.
enum class Value {
  none,    ///< it is a switch
  file,    ///< a path, perhaps beside something else
  folder,  ///< the path of a folder
  words,   ///< one of the row's values, perhaps beside something else
  rule,    ///< RULE=CHOICE
  free     ///< numbers and names that nobody can list
};

/// Found from the row's placeholder and values.
Value value_of(const OptionRow& row);

/// What stands in a command line beside the options.
enum class Inputs { none, files, schemas };

/// Found from what the verb says of its inputs.
Inputs inputs_of(const Verb& verb);

/// The names that the verb schema takes.
std::vector<std::string_view> schema_names();

/// The option that may also stand before the verb.
const OptionRow& language_row();

/// The words with `between` between them.
std::string joined(const std::vector<std::string_view>& words, std::string_view between);

/// `text` with `escape` before each character of `special`.
std::string escaped(std::string_view text, std::string_view special, std::string_view escape);

}  // namespace yubifu::cli
