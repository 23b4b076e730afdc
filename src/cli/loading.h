// From a path to what the reader of its format made of the file.
#pragma once

#include <optional>
#include <string>

#include "cli/formats.h"
#include "cli/log.h"
#include "cli/options.h"

namespace yubifu::cli {

/// A file that was read without an error.
struct Loaded {
  const Format* format = nullptr;
  base::SourceText source;  ///< places in later findings count in it
  model::Score score;
};

/// How messages call an input or an output; "-" is the standard one.
std::string input_name(const std::string& path);
std::string output_name(const std::string& path);

/// Why nothing can be written to `path`: its folder is not there, or it is a folder itself.
std::optional<std::string> unwritable_output(const std::string& path);

/// Whether a score comes with the fingers of any note.
bool has_fingers(const model::Score& score);

/// Reads a file ("-": standard input) in the format that --from, its first bytes or its name tell.
/// Tells `log` what was found; without a value the log has failed.
std::optional<Loaded> load(const std::string& input, const Options& options, Log& log);

}  // namespace yubifu::cli
