#include "midi/loudness.h"

#include <algorithm>
#include <array>
#include <utility>
#include <variant>

namespace yubifu::midi {
namespace {

constexpr int kStep = 12;
constexpr int kAccent = 16;

constexpr int kPiano = -2;
constexpr int kPianissimo = -3;

constexpr std::array<std::pair<std::string_view, DynamicMeaning>, 24> kMeanings{{
    {"pppppp", {-7}},
    {"ppppp", {-6}},
    {"pppp", {-5}},
    {"ppp", {-4}},
    {"pp", {kPianissimo}},
    {"p", {kPiano}},
    {"mp", {-1}},
    {"mf", {0}},
    {"f", {1}},
    {"ff", {2}},
    {"fff", {3}},
    {"ffff", {4}},
    {"fffff", {5}},
    {"ffffff", {6}},
    {"sf", {std::nullopt, true}},
    {"sfz", {std::nullopt, true}},
    {"sffz", {std::nullopt, true}},
    {"fz", {std::nullopt, true}},
    {"rf", {std::nullopt, true}},
    {"rfz", {std::nullopt, true}},
    {"fp", {kPiano, true}},
    {"sfp", {kPiano, true}},
    {"sfzp", {kPiano, true}},
    {"sfpp", {kPianissimo, true}},
}};

}  // namespace

std::optional<DynamicMeaning> dynamic_meaning(std::string_view level) {
  const auto* found = std::find_if(kMeanings.begin(), kMeanings.end(),
                                   [&](const auto& entry) { return entry.first == level; });
  if (found == kMeanings.end()) return std::nullopt;
  return found->second;
}

int Loudness::of(const model::Note& note) {
  const auto place = std::pair(note.measure, note.onset);
  int before = steps_;
  bool forced = false;
  for (; next_ < played_.directions.size(); ++next_) {
    const model::Direction& direction = played_.directions[next_];
    if (std::pair(direction.measure, direction.onset) > place) break;
    const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
    const auto meaning = dynamic == nullptr ? std::nullopt : dynamic_meaning(dynamic->level);
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
