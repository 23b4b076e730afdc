#include "hearing/measured_flute.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "base/numbers.h"
#include "flute/flute_file.h"

namespace yubifu::hearing {
namespace {

using base::JsonLayout;
using base::JsonWriter;

// The end of its entries where a flute does not have the sign.
auto entry_of(const flute::Flute& like, const MeasuredSign& sign) {
  return std::find_if(like.entries().begin(), like.entries().end(), [&](const flute::Entry& entry) {
    return fingering_of(entry) == sign.fingering;
  });
}

// In the order in which charts list the flute that this one is like, others behind.
std::vector<MeasuredSign> in_order(std::vector<MeasuredSign> signs, const flute::Flute& like) {
  std::stable_sort(signs.begin(), signs.end(), [&](const MeasuredSign& a, const MeasuredSign& b) {
    return entry_of(like, a) < entry_of(like, b);
  });
  return signs;
}

double ichi_hz(const MeasuredFlute& flute, const flute::Flute& like) {
  std::vector<double> over;
  for (const MeasuredSign& sign : flute.signs) {
    const auto wanted = like.total_cents(sign.fingering);
    if (!wanted) continue;
    const double hz = concert_hz(sign.hz, flute.celsius);
    over.push_back(model::total_cents_of(hz, like.tuning_hz()) - *wanted);
  }
  const double middle = over.empty() ? 0 : median(std::move(over));
  double hz =
      model::frequency_hz(model::pitch_at(like.ichi().total_cents() + middle), like.tuning_hz());
  if (flute.celsius) hz = flute::hz_at(hz, flute::kConcertCelsius, *flute.celsius);
  // Where a table holds the lowest and highest pitches that there are, it may lie beyond them.
  return std::clamp(hz, flute::kLeastHz, flute::kMostHz);
}

void write_limits(JsonWriter& json, const flute::BendLimits& limits) {
  if (limits == flute::BendLimits{}) return;
  json.key("bend-limits");
  json.begin_object();
  const auto write = [&](std::string_view key, const flute::BendLimit& limit) {
    json.key(key);
    json.begin_object(JsonLayout::one_line);
    json.key("down").number(std::int64_t{limit.down});
    json.key("up").number(std::int64_t{limit.up});
    json.end_object();
  };
  write("low", limits.low);
  write("second", limits.second);
  write("third", limits.third);
  write("half-hole", limits.half_hole);
  json.end_object();
}

void write_entry(JsonWriter& json, const MeasuredSign& sign, const flute::Entry* like) {
  json.begin_object(JsonLayout::one_line);
  json.key("sign").text(printed(sign.fingering));
  const auto standard = model::standard_place(*sign.fingering.sign);
  if (like != nullptr && (!standard || standard->in != like->in)) {
    json.key("register").text(flute::kRegisterWords.word_of(like->in));
  }
  if (sign.holes) {
    json.key("pattern").text(printed(*sign.holes));
  } else if (like != nullptr && like->patterns.size() == 1) {
    json.key("pattern").text(printed(like->patterns.front()));
  } else if (like != nullptr) {
    json.key("patterns");
    json.begin_array(JsonLayout::one_line);
    for (const model::HolePattern& pattern : like->patterns) json.text(printed(pattern));
    json.end_array();
  }
  json.key("hz").number(base::rounded(sign.hz, 100));
  if (like != nullptr && like->kind != flute::usual_kind(sign.fingering)) {
    json.key("effort").text(flute::kEffortWords.word_of(like->kind));
  }
  write_reading(json, sign);
  json.end_object();
}

}  // namespace

void write_reading(JsonWriter& json, const MeasuredSign& sign) {
  if (sign.spread_cents) json.key("spread").number(base::rounded(*sign.spread_cents, 10));
  if (!sign.seconds) return;
  json.key("seconds");
  json.begin_array(JsonLayout::one_line);
  json.number(base::rounded(sign.seconds->first, 100));
  json.number(base::rounded(sign.seconds->second, 100));
  json.end_array();
}

std::vector<MeasuredSign> measured(const std::vector<HeardSign>& heard, const flute::Flute& like) {
  std::vector<MeasuredSign> signs;
  for (const HeardSign& one : heard) {
    signs.push_back({fingering_of(like.entries()[one.entry]), one.tone.pitch.hz,
                     one.tone.pitch.spread_cents, std::pair(one.tone.begin, one.tone.end),
                     std::nullopt});
  }
  return signs;
}

std::vector<MeasuredSign> measured(const std::vector<NotedSign>& noted) {
  std::vector<MeasuredSign> signs;
  for (const NotedSign& one : noted) {
    signs.push_back({one.fingering, one.hz, std::nullopt, std::nullopt, one.holes});
  }
  return signs;
}

double concert_hz(double hz, std::optional<double> celsius) {
  return celsius ? flute::hz_at(hz, *celsius, flute::kConcertCelsius) : hz;
}

std::string flute_file_text(const MeasuredFlute& flute, const flute::Flute& like) {
  const std::vector<MeasuredSign> signs = in_order(flute.signs, like);
  const bool all_have_holes = std::all_of(
      signs.begin(), signs.end(), [](const MeasuredSign& sign) { return sign.holes.has_value(); });
  const std::size_t holes =
      all_have_holes && !signs.empty() ? signs[0].holes->holes.size() : like.hole_count();
  JsonWriter json;
  json.begin_object();
  json.key("yubifu-flute").number(std::int64_t{1});
  json.key("title").text(flute.title);
  json.key("source").text(flute.source);
  json.key("holes").number(static_cast<std::int64_t>(holes));
  const model::Sign ichi = *model::Sign::standard(model::Register::low, 1);
  const bool has_ichi = std::any_of(signs.begin(), signs.end(), [&](const MeasuredSign& sign) {
    return sign.fingering == model::Fingering{ichi, model::HalfHole::none, 0};
  });
  if (!has_ichi) json.key("ichi").number(base::rounded(ichi_hz(flute, like), 100));
  if (flute.celsius) {
    json.key("temperature").number(*flute.celsius);
    json.key("concert-temperature").number(flute::kConcertCelsius);
  }
  write_limits(json, like.bend_limits());
  json.key("entries");
  json.begin_array();
  for (const MeasuredSign& sign : signs) {
    const auto entry = entry_of(like, sign);
    write_entry(json, sign, entry == like.entries().end() ? nullptr : &*entry);
  }
  json.end_array();
  json.end_object();
  return json.take();
}

}  // namespace yubifu::hearing
