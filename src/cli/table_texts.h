// The English texts that stand in tables, for the catalogue of translations: a tool that gathers
// texts from source code finds only those that are passed to a function.
#pragma once

#include <string>
#include <vector>

namespace yubifu::cli {

/// Sentences of rules, options, verbs and formats, and the headings of help; each once, sorted.
std::vector<std::string> table_texts();

}  // namespace yubifu::cli
