// For those who ask the program about its own tables: shells that complete, and translators.
#pragma once

#include <string>
#include <vector>

#include "cli/options/option_table.h"

namespace yubifu::cli {

/// Verbs that no help lists; behind `complete-word` stands a command line as far as it is typed.
inline constexpr std::string_view kCompleteWord = "complete-word";
inline constexpr std::string_view kListTexts = "list-texts";

/// What may stand in place of the last of `words`, one a line: the whole word, and behind a tab
/// what it means. Words that end in "=" want more. ":files" and ":folders" stand for the paths of
/// any; what follows the tab is then what stands before the path in the same word ("--output=").
std::string completions(std::vector<std::string> words);

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

/// The English texts of all tables as lines of source code, each once and sorted: a tool that
/// gathers texts to translate finds only those that are passed to a function.
std::string listed_texts();

}  // namespace yubifu::cli
