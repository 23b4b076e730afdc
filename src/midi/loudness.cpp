#include "midi/loudness.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "model/dynamics.h"

namespace yubifu::midi {
namespace {

constexpr int kStep = 12;
constexpr int kAccent = 16;

}  // namespace

int Loudness::of(const model::Note& note) {
  const auto place = std::pair(note.measure, note.onset);
  int before = steps_;
  bool forced = false;
  for (; next_ < played_.directions.size(); ++next_) {
    const model::Direction& direction = played_.directions[next_];
    if (std::pair(direction.measure, direction.onset) > place) break;
    const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
    const auto meaning = dynamic == nullptr ? std::nullopt : model::dynamic_meaning(dynamic->level);
    if (!meaning) continue;
    // A level that a forced note leads to holds from the note after it.
    if (meaning->steps && !meaning->forced) before = *meaning->steps;
    if (meaning->steps) steps_ = *meaning->steps;
    forced = meaning->forced;
  }
  const bool harder = forced || note.has(model::Mark::accent);
  const int level = forced ? before : steps_;
  return std::clamp(velocity_ + kStep * level + (harder ? kAccent : 0), 1, 127);
}

}  // namespace yubifu::midi
