#include "fingering/agreement.h"

namespace yubifu::fingering {

bool agrees(const model::Pitch& said, const model::Pitch& sound, const model::Pitch& ichi) {
  return sound.key == said.key || model::pitch_at(sound.total_cents() - ichi.cents).key == said.key;
}

}  // namespace yubifu::fingering
