#include "midi/header_fields.h"

#include <optional>
#include <string>
#include <string_view>

#include "midi/own_text.h"
#include "model/tuning.h"
#include "model/words.h"

namespace yubifu::midi {
namespace {

std::string* text_field(model::Header& header, std::string_view key) {
  if (key == "subtitle") return &header.subtitle;
  if (key == "composer") return &header.composer;
  if (key == "lyricist") return &header.lyricist;
  if (key == "source") return &header.source;
  return nullptr;
}

// Sets `field` where there is a value; says whether there was.
template <typename Field, typename T>
bool assign(Field& field, const std::optional<T>& value) {
  if (value) field = *value;
  return value.has_value();
}

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
  model::Header& header = score.header;
  if (std::string* text = text_field(header, field.key)) {
    *text = field.value;
    return true;
  }
  if (field.key == kFluteText) return assign(header.flute, model::parse_flute_name(field.value));
  if (field.key == "tuning") return assign(header.tuning_hz, model::parse_tuning(field.value));
  if (field.key == "staff") return assign(header.staff, model::staff_mode_named(field.value));
  if (field.key == "zero") return assign(header.zero, model::zero_sign_named(field.value));
  return field.key == "beat" && set_beat(field.value, score);
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
