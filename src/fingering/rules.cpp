#include "fingering/rules.h"

namespace yubifu::fingering {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{};
  return list;
}

}  // namespace yubifu::fingering
