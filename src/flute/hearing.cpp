#include "flute/hearing.h"

#include "base/message.h"

namespace yubifu::flute {

bool is_loud(const Entry& entry) {
  return entry.in == model::Register::third;
}

std::string hearing_caution() {
  return base::message(
      "third-register notes are loud next to the ear: for long practice use hearing protection "
      "and take breaks, follow local noise rules and a hearing professional's advice");
}

}  // namespace yubifu::flute
