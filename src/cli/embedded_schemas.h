// The schemas of our formats, inside the program: an installed one needs no source tree.
#pragma once

#include <string_view>
#include <vector>

namespace yubifu::cli {

/// One file of schemas/.
struct EmbeddedSchema {
  std::string_view file;  ///< its name in schemas/: "score.schema.json"
  std::string_view text;
};

/// In the order of their names.
const std::vector<EmbeddedSchema>& embedded_schemas();

}  // namespace yubifu::cli
