// Reading the values of options.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/flute_name.h"
#include "model/rational.h"

namespace yubifu::cli {

/// A whole number from `least` to `most`, read to the end.
std::optional<int> whole_number(std::string_view text, int least, int most);

/// A4 in Hz, 300 to 600.
std::optional<double> tuning_hz(std::string_view text);

/// Quarter notes as a fraction or a decimal, with a sign or without: "1/16", "-0.1"; at most 1000.
std::optional<model::Rational> quarter_notes(std::string_view text);

/// "60%" or "60": 1 to 1000.
std::optional<int> percent(std::string_view text);

/// Sizes and files of flutes, parted by commas.
std::optional<std::vector<model::FluteName>> flute_list(std::string_view text);

}  // namespace yubifu::cli
