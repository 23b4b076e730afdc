// The verb schema: what our formats hold, for other programs.
#include <fmt/format.h>

#include "base/message.h"
#include "base/word_table.h"
#include "cli/embedded_files.h"
#include "cli/report/log.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;

// "score" of score.schema.json.
std::string_view short_name(const EmbeddedFile& schema) {
  return schema.name.substr(0, schema.name.find('.'));
}

}  // namespace

ExitStatus run_schema(const Options& options) {
  Log log(Strictness::lenient);
  const auto write = [&](std::string_view text) {
    log.write(options.output, text);
    return log.finish();
  };
  if (options.inputs.size() > 1) return refuse(message("schema prints one at a time"));
  std::string list;
  std::vector<std::string_view> known;
  for (const EmbeddedFile& schema : embedded_schemas()) {
    known.push_back(short_name(schema));
    list += fmt::format("{:<16} {}\n", known.back(), schema.name);
  }
  if (options.inputs.empty()) return write(list);
  const std::string& name = options.inputs.front();
  for (const EmbeddedFile& schema : embedded_schemas()) {
    if (name == schema.name || name == short_name(schema)) return write(schema.text);
  }
  const auto meant = base::nearest_word(name, known);
  return refuse(meant ? message("there is no schema {}: did you mean {}?", name, *meant)
                      : message("there is no schema {}; 'yubifu schema' lists them", name));
}

}  // namespace yubifu::cli
