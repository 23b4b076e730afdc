// What a reader or writer gives back: a value where there is one, and everything it has to say.
#pragma once

#include <optional>

#include "base/diagnostic.h"

namespace yubifu::base {

/// `value` is missing only when nothing usable came out. A value beside errors is the best
/// effort, good for checking further but not for converting: ask `ok()` first.
template <typename T>
struct Outcome {
  std::optional<T> value;
  Diagnostics diagnostics;

  /// A value, and no error beside it.
  bool ok() const { return value.has_value() && !has_errors(diagnostics); }
};

}  // namespace yubifu::base
