#include "model/tuning.h"

#include <charconv>
#include <system_error>

namespace yubifu::model {

std::optional<double> parse_tuning(std::string_view text) {
  double hertz = 0;
  const char* const last = text.data() + text.size();
  const auto [end, error] = std::from_chars(text.data(), last, hertz, std::chars_format::fixed);
  const bool whole = error == std::errc{} && end == last;
  return whole && is_tuning(hertz) ? std::optional(hertz) : std::nullopt;
}

}  // namespace yubifu::model
