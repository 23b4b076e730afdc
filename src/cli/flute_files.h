// Flutes that files describe, and the paths by which scores name them.
#pragma once

#include <filesystem>

#include "cli/log.h"
#include "fingering/flute_line.h"
#include "model/flute_name.h"
#include "model/score.h"

namespace yubifu::cli {

/// The folder that the flute paths of a score are relative to: that of the score's file, the
/// current one for standard input and output.
std::filesystem::path folder_of(const std::string& path);

/// Built-in sizes, and flute files relative to `folder`. Faults of a file are told to `log`, which
/// must outlive the supply.
fingering::FluteSupply flute_supply(std::filesystem::path folder, Log& log);

/// The same for a score, whose text tells the place at which it names a flute that cannot be used
/// (`flute-file-not-read`). The text must outlive the supply too.
fingering::FluteSupply flute_supply(std::filesystem::path folder, const base::SourceText& source,
                                    Log& log);

/// A flute named relative to the folder `from`, as a score in the folder `to` names it. Sizes and
/// absolute paths stay.
model::FluteName moved(const model::FluteName& name, const std::filesystem::path& from,
                       const std::filesystem::path& to);

/// Renames the flute files of a score on its way from one folder to another.
void move_flutes(model::Score& score, const std::filesystem::path& from,
                 const std::filesystem::path& to);

}  // namespace yubifu::cli
