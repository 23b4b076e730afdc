#include "cli/completion_parts.h"

#include <algorithm>
#include <stdexcept>

#include "cli/embedded_files.h"

namespace yubifu::cli {

Value value_of(const OptionRow& row) {
  if (row.placeholder.empty()) return Value::none;
  if (row.name == "rule") return Value::rule;
  if (row.placeholder == "DIR") return Value::folder;
  if (row.placeholder.find("FILE") != std::string_view::npos) return Value::file;
  return row.values.empty() ? Value::free : Value::words;
}

Inputs inputs_of(const Verb& verb) {
  if (verb.name == "schema") return Inputs::schemas;
  return verb.inputs.empty() || verb.name == "new" ? Inputs::none : Inputs::files;
}

std::vector<std::string_view> schema_names() {
  std::vector<std::string_view> names;
  for (const EmbeddedFile& schema : embedded_schemas()) {
    names.push_back(schema.name.substr(0, schema.name.find('.')));
  }
  return names;
}

const OptionRow& language_row() {
  const auto& table = option_table();
  const auto row = std::find_if(table.begin(), table.end(),
                                [](const OptionRow& each) { return each.name == "language"; });
  if (row == table.end()) throw std::logic_error("the option table has no language");
  return *row;
}

std::string joined(const std::vector<std::string_view>& words, std::string_view between) {
  std::string text;
  for (const std::string_view word : words) {
    if (!text.empty()) text += between;
    text += word;
  }
  return text;
}

std::string escaped(std::string_view text, std::string_view special, std::string_view escape) {
  std::string out;
  for (const char c : text) {
    if (special.find(c) != std::string_view::npos) out += escape;
    out += c;
  }
  return out;
}

}  // namespace yubifu::cli
