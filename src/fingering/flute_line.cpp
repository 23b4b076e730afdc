#include "fingering/flute_line.h"

#include <algorithm>
#include <map>

#include "base/message.h"
#include "fingering/rules.h"
#include "flute/flute.h"

namespace yubifu::fingering {
namespace {

// The size `size` as far from `to` as it was from `from`; offsets of a semitone and more are
// carried over to the size.
model::FluteSize moved(const model::FluteSize& size, const model::FluteSize& from,
                       const model::FluteSize& to) {
  model::FluteSize result{size.size + (to.size - from.size), size.cents + (to.cents - from.cents)};
  const int semitones = result.cents / model::kSemitoneCents;
  result.size += model::Rational(semitones);
  result.cents -= semitones * model::kSemitoneCents;
  return result;
}

base::Diagnostic at_change(const base::Rule& rule, const model::Score& score,
                           const NamedFlute& named, std::string message, std::string hint) {
  return base::report(rule, named.source, std::move(message), std::move(hint),
                      {score.measures[named.measure].number});
}

}  // namespace

base::Outcome<flute::Flute> built_in_size(const model::FluteName& name, double tuning_hz) {
  const auto* size = std::get_if<model::FluteSize>(&name);
  if (size && flute::is_built_in(*size)) return {flute::built_in_flute(*size, tuning_hz), {}};
  return {
      std::nullopt,
      {size ? base::report(rule::flute_not_built_in, {},
                           base::message("there is no built-in flute of size {}", to_text(name)),
                           base::message("sizes are 1 to 13 with half sizes between them"))
            : base::report(rule::flute_file_not_read, {},
                           base::message("the flute file {} is not read here", to_text(name)),
                           base::message("name a size from 1 to 13"))}};
}

std::vector<NamedFlute> named_flutes(const model::Score& score, const model::FluteName& unnamed) {
  std::vector<NamedFlute> line{{0, score.header.flute.value_or(unnamed), std::nullopt}};
  for (const model::Direction& direction : score.directions) {
    const auto* change = std::get_if<model::FluteChange>(&direction.value);
    if (!change) continue;
    // Two changes in one place: the last one counts.
    if (line.back().measure == direction.measure) line.pop_back();
    line.push_back({direction.measure, change->flute, direction.source});
  }
  return line;
}

base::Outcome<std::vector<NamedFlute>> replaced(const std::vector<NamedFlute>& line,
                                                const model::FluteName& first,
                                                const model::Score& score) {
  base::Outcome<std::vector<NamedFlute>> outcome;
  outcome.value = line;
  const model::FluteName before = line.front().name;
  for (NamedFlute& named : *outcome.value) {
    const auto* size = std::get_if<model::FluteSize>(&named.name);
    const auto* from = std::get_if<model::FluteSize>(&before);
    const auto* to = std::get_if<model::FluteSize>(&first);
    if (named.name == before) {
      named.name = first;
    } else if (!size || !from || !to) {
      outcome.diagnostics.push_back(at_change(
          rule::flute_not_moved, score, named,
          base::message(
              "the change to flute {} stays, because {} is not so many sizes away from {}",
              to_text(named.name), to_text(first), to_text(before)),
          base::message("change the flute in the score itself")));
    } else if (const model::FluteSize there = moved(*size, *from, *to); flute::is_built_in(there)) {
      named.name = there;
    } else {
      outcome.diagnostics.push_back(at_change(
          rule::flute_not_built_in, score, named,
          base::message("with flute {} for {}, the change to {} would need size {}", to_text(first),
                        to_text(before), to_text(named.name), to_text(model::FluteName(there))),
          base::message("sizes are 1 to 13 with half sizes between them")));
    }
  }
  return outcome;
}

void write_names(model::Score& score, const std::vector<NamedFlute>& line) {
  score.header.flute = line.front().name;
  std::map<std::size_t, const model::FluteName*> by_measure;
  for (const NamedFlute& named : line) by_measure[named.measure] = &named.name;
  for (model::Direction& direction : score.directions) {
    auto* change = std::get_if<model::FluteChange>(&direction.value);
    if (change) change->flute = *by_measure.at(direction.measure);
  }
}

base::Outcome<FluteLine> load_flutes(const std::vector<NamedFlute>& line, const FluteSupply& supply,
                                     double tuning_hz) {
  base::Outcome<FluteLine> outcome;
  FluteLine loaded;
  std::map<std::string, std::size_t> known;
  for (const NamedFlute& named : line) {
    const auto [at, is_new] = known.try_emplace(to_text(named.name), loaded.flutes.size());
    loaded.stretches.push_back({named.measure, at->second});
    if (!is_new) continue;
    base::Outcome<flute::Flute> flute = supply(named.name, tuning_hz);
    base::append(outcome.diagnostics, std::move(flute.diagnostics));
    if (!flute.value) return outcome;
    loaded.flutes.push_back(std::make_shared<const flute::Flute>(*std::move(flute.value)));
  }
  outcome.value = std::move(loaded);
  return outcome;
}

std::size_t FluteLine::index_at(std::size_t measure) const {
  const auto after =
      std::partition_point(stretches.begin(), stretches.end(),
                           [&](const Stretch& stretch) { return stretch.measure <= measure; });
  return std::prev(after)->flute;
}

std::string called(const flute::Flute& flute) {
  if (std::holds_alternative<model::FluteSize>(flute.name())) {
    return base::message("the size {} flute", flute.title());
  }
  return base::message("the flute {}", flute.title());
}

bool agrees(const model::Pitch& said, const model::Pitch& sound, const model::Pitch& ichi) {
  return sound.key == said.key || model::pitch_at(sound.total_cents() - ichi.cents).key == said.key;
}

}  // namespace yubifu::fingering
