#include "flute/hearing.h"

#include "base/message.h"

namespace yubifu::flute {

bool is_loud(const Flute& flute, const model::Fingering& fingering) {
  const auto entry = flute.find(fingering);
  if (!entry) return false;
  if (flute.entries()[*entry].in == model::Register::third) return true;
  return model::frequency_hz(*flute.sound(fingering), flute.tuning_hz()) >= kLoudHz;
}

std::string hearing_caution() {
  return base::message(
      "high notes are loud next to the ear: for long practice use hearing protection "
      "and take breaks, follow local noise rules and a hearing professional's advice");
}

}  // namespace yubifu::flute
