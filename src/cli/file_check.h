// One file, checked by everything that knows something about it.
#pragma once

#include "cli/batch.h"
#include "cli/found_files.h"
#include "cli/options.h"

namespace yubifu::cli {

/// True for names whose endings belong to a readable format.
bool is_checkable(const std::string& path);

/// Reads the file in its format, resolves the score for its flute, applies the rules and the
/// comments that allow something; reads a flute file as such. A JSON or XML file from a folder
/// that is no music at all is passed over: then there is no report.
JobResult check_file(const FoundFile& file, const Options& options);

}  // namespace yubifu::cli
