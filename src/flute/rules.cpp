#include "flute/rules.h"

namespace yubifu::flute {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::flute_ichi,  &rule::flute_sign,        &rule::flute_entry_twice, &rule::flute_pattern,
      &rule::flute_pitch, &rule::flute_temperature, &rule::flute_alike,       &rule::flute_order};
  return list;
}

}  // namespace yubifu::flute
