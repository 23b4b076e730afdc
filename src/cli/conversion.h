// One input to one output: reading, resolving, writing.
#pragma once

#include <optional>
#include <string>

#include "cli/batch.h"
#include "cli/formats.h"
#include "cli/found_files.h"
#include "cli/options.h"

namespace yubifu::cli {

/// What one conversion needs beyond the options: where from, where to, and which flute.
struct Conversion {
  FoundFile input;
  std::string output;
  const Format* to = nullptr;
  std::optional<model::FluteName> flute;
};

/// Does it. Messages are complete lines: what was found, then one line that sums up.
JobResult convert(const Conversion& conversion, const Options& options);

}  // namespace yubifu::cli
