// Flutes by name, their files read from the folder they are named in.
#pragma once

#include <string>

#include "fingering/flute_line.h"

namespace yubifu::cli {

/// Built-in sizes, and flute files: a path that an option gave counts from the working folder,
/// any other from the folder of `score_path`. What is wrong with a file is added to `messages` as
/// complete lines. `messages` must outlive the supply.
fingering::FluteSupply flute_supply(const std::string& score_path,
                                    const std::optional<model::FluteName>& option,
                                    std::string& messages);

}  // namespace yubifu::cli
