#include "model/tuning.h"

#include "base/numbers.h"

namespace yubifu::model {

std::optional<double> parse_tuning(std::string_view text) {
  const auto hertz = base::decimal_number(text);
  return hertz && is_tuning(*hertz) ? hertz : std::nullopt;
}

}  // namespace yubifu::model
