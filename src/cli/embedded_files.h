// Files that the program carries inside itself: a copied executable needs nothing beside it.
#pragma once

#include <string_view>
#include <vector>

namespace yubifu::cli {

/// A file as it was when the program was built.
struct EmbeddedFile {
  std::string_view name;  ///< without its folder: "score.schema.json"
  std::string_view text;  ///< its bytes
};

/// The schemas of our formats, in the order of their names.
const std::vector<EmbeddedFile>& embedded_schemas();

/// Message catalogues in gettext's binary form, named by language: "ja.mo".
const std::vector<EmbeddedFile>& embedded_catalogues();

}  // namespace yubifu::cli
