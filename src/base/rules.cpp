#include "base/rules.h"

namespace yubifu::base {

const std::vector<const Rule*>& rules() {
  static const std::vector<const Rule*> list{&rule::unreadable_file, &rule::input_too_large,
                                             &rule::unwritable_file};
  return list;
}

}  // namespace yubifu::base
