// What the verb fit takes beside the options that it shares with others.
#pragma once

#include <optional>

#include "fingering/rank.h"

namespace yubifu::cli {

/// A table for people or JSON for programs.
enum class FitReport { text, json };

/// The options of fit alone.
struct FitOptions {
  FitReport report = FitReport::text;
  fingering::Keys keys = fingering::Keys::as_given;
  std::optional<int> pitch_number;  ///< a singer's, 1 to 12
};

}  // namespace yubifu::cli
