#include "check/rules.h"

namespace yubifu::check {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{};
  return list;
}

}  // namespace yubifu::check
