// The verb schema: what our formats hold, for other programs.
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "base/file.h"
#include "base/message.h"
#include "base/word_table.h"
#include "cli/embedded_files.h"
#include "cli/report/messages.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;

// "score" of score.schema.json.
std::string_view short_name(const EmbeddedFile& schema) {
  return schema.name.substr(0, schema.name.find('.'));
}

std::string list_of_names() {
  std::string names;
  for (const EmbeddedFile& schema : embedded_schemas()) {
    names += fmt::format("{:<16} {}\n", short_name(schema), schema.name);
  }
  return names;
}

const EmbeddedFile* find_schema(std::string_view name) {
  for (const EmbeddedFile& schema : embedded_schemas()) {
    if (name == schema.name || name == short_name(schema)) return &schema;
  }
  return nullptr;
}

ExitStatus write(const Options& options, std::string_view text) {
  const base::Diagnostics placed = base::write_file(options.output, text);
  print_message(printed(placed, base::SourceText(options.output, {})));
  return placed.empty() ? ExitStatus::done : ExitStatus::unusable;
}

}  // namespace

ExitStatus run_schema(const Options& options) {
  if (options.inputs.empty()) return write(options, list_of_names());
  if (options.inputs.size() > 1) return refuse(message("schema prints one at a time"));
  const std::string& name = options.inputs.front();
  if (const EmbeddedFile* schema = find_schema(name)) return write(options, schema->text);
  std::vector<std::string_view> known;
  for (const EmbeddedFile& schema : embedded_schemas()) known.push_back(short_name(schema));
  const auto meant = base::nearest_word(name, known);
  return refuse(meant ? message("there is no schema {}: did you mean {}?", name, *meant)
                      : message("there is no schema {}; 'yubifu schema' lists them", name));
}

}  // namespace yubifu::cli
