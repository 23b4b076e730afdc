#include "musicxml/rules.h"

namespace yubifu::musicxml {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{};
  return list;
}

}  // namespace yubifu::musicxml
