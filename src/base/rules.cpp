#include "base/rules.h"

namespace yubifu::base {

const std::vector<const Rule*>& rules() {
  static const std::vector<const Rule*> list{
      &rule::unreadable_file,    &rule::input_too_large, &rule::unwritable_file, &rule::json_syntax,
      &rule::json_duplicate_key, &rule::json_too_large,  &rule::json_missing,    &rule::json_kind,
      &rule::json_value,         &rule::json_unknown};
  return list;
}

}  // namespace yubifu::base
