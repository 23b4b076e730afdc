// A ranking of flutes as a table and as JSON.
#pragma once

#include <string>
#include <vector>

#include "fingering/rank.h"

namespace yubifu::cli {

/// What was ranked.
struct FitHead {
  std::string input;
  fingering::Keys keys = fingering::Keys::as_given;
  fingering::Origin origin = fingering::Origin::fingers;
};

/// A line that names the columns, one line a flute, what the columns mean. Ends with a line end.
std::string fit_table(const FitHead& head, const std::vector<fingering::Fit>& fits);

/// schemas/fit.schema.json. Ends with a line end.
std::string fit_json(const FitHead& head, const std::vector<fingering::Fit>& fits);

}  // namespace yubifu::cli
