#include "midi/header_fields.h"

#include <algorithm>
#include <string>

#include "midi/own_text.h"

namespace yubifu::midi {
namespace {

bool set_beat(const std::string& text, model::Score& score) {
  const auto beat = model::parse_beat(text);
  const model::Meter meter = score.measures.front().meter;
  if (!beat || !divides(*beat, meter)) return false;
  for (model::Measure& measure : score.measures) {
    if (measure.meter != meter) break;
    measure.beat = *beat;
  }
  return true;
}

bool set_field(const OwnField& field, model::Score& score) {
  const auto key = model::header_key(field.key);
  if (!key || std::find(kKeptFields.begin(), kKeptFields.end(), *key) == kKeptFields.end()) {
    return false;
  }
  if (*key == model::HeaderKey::beat) return set_beat(field.value, score);
  return model::set_field(score.header, *key, field.value);
}

}  // namespace

void set_header_fields(const Surroundings& surroundings, model::Score& score) {
  score.header.title = surroundings.title;
  score.header.rights = surroundings.rights;
  for (const auto& field : surroundings.own_fields) {
    const std::string& key = field.value.key;
    const bool of_the_file = key == kTicksText || key == kLyricsText || key == kMeterText;
    if (of_the_file || field.tick > 0) continue;
    if (!set_field(field.value, score)) score.header.unknown.push_back({key, field.value.value});
  }
}

}  // namespace yubifu::midi
