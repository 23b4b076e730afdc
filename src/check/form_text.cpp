#include "check/form_text.h"

#include <array>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/message.h"
#include "model/header.h"

namespace yubifu::check {
namespace {

using base::message;
using model::Measure;
using model::Rational;
using model::Score;

// What is said of directions in messages, in the order of the variant.
using Said = std::string (*)(const std::string& value);
constexpr std::array<Said, 7> kSaid{
    [](const std::string& value) { return message("tempo {}", value); },
    [](const std::string& value) { return message("beat {}", value); },
    [](const std::string& value) { return message("key {}", value); },
    [](const std::string& value) { return message("flute {}", value); },
    [](const std::string& value) { return message("section \"{}\"", value); },
    [](const std::string& value) { return message("text \"{}\"", value); },
    [](const std::string& value) { return message("dynamic {}", value); },
};
static_assert(kSaid.size() + 1 == std::variant_size_v<model::DirectionValue>);

std::string direction_text(const model::DirectionValue& value) {
  if (std::holds_alternative<model::Cue>(value)) return std::string(model::word_of(value));
  const auto* change = std::get_if<model::TempoChange>(&value);
  const std::string text =
      change == nullptr ? model::value_text(value) : to_text(change->tempo, Rational(0));
  return kSaid[value.index()](text);
}

}  // namespace

std::vector<FormItem> form_items(const Score& score) {
  std::vector<FormItem> items;
  std::size_t next = 0;
  for (std::size_t index = 0; index < score.measures.size(); ++index) {
    const Measure& here = score.measures[index];
    const auto add = [&](Rational onset, std::string text) {
      items.push_back({index, onset, std::move(text), here.source});
    };
    if (index == 0 || score.measures[index - 1].meter != here.meter) {
      add(0, message("meter {}", to_text(here.meter)));
    }
    if (index > 0 && score.measures[index - 1].beat != here.beat) {
      add(0, message("beat {}", model::beat_text(here.beat)));
    }
    if (here.repeat_start) add(0, message("repeat from here"));
    if (ending_starts(score, index)) {
      add(0, message("ending {}", fmt::format("{}", fmt::join(here.ending, ","))));
    }
    if (!here.meter.is_free() && here.length != here.meter.length()) {
      add(0, message("a bar of {} quarters", to_text(here.length)));
    }
    for (; next < score.directions.size() && score.directions[next].measure == index; ++next) {
      const model::Direction& direction = score.directions[next];
      items.push_back({index, direction.onset, direction_text(direction.value), direction.source});
    }
    if (here.repeat_end) {
      add(here.length, here.times == 2 ? message("repeat to here")
                                       : message("repeat to here, {} times", here.times));
    }
    if (here.right == model::BarStyle::section) add(here.length, message("section bar"));
    if (here.right == model::BarStyle::final) add(here.length, message("final bar"));
    if (ending_stops(score, index)) add(here.length, message("end of ending"));
  }
  return items;
}

std::map<std::string, std::string> header_lines(const Score& score) {
  const model::Header& header = score.header;
  std::map<std::string, std::string> lines;
  const auto add = [&](const std::string& key, std::string value) {
    if (!value.empty()) lines[key] = std::move(value);
  };
  for (const model::HeaderKey key : model::header_keys()) {
    if (model::holds_any_text(key)) {
      add(std::string(word_of(key)), model::field_text(header, key).value_or(std::string()));
    }
  }
  // What is played, whether the score says so or leaves it to the default.
  if (!score.flutes.empty()) {
    add("flute", score.flutes.front().title);
    add("tuning", fmt::format("{:g} Hz", score.flutes.front().tuning_hz));
  }
  const model::Tempo tempo = header.tempo.value_or(model::kDefaultTempo);
  add("tempo", to_text(model::Tempo{tempo.quarters_per_minute(), Rational(1)}, Rational(0)));
  if (header.key) add("key", to_text(*header.key));
  for (const model::HeaderField& field : header.unknown) add(field.key, field.value);
  return lines;
}

std::string place_text(const Score& score, std::size_t measure, Rational onset) {
  const Measure& here = score.measures[measure];
  try {
    const Rational beats = onset / here.beat;
    const Rational rest = beats - beats.floor();
    std::string text = message("bar {}, beat {}", here.number, beats.floor() + 1);
    if (rest != Rational(0)) text += " " + to_text(rest);
    return text;
  } catch (const model::TimeOverflow&) {
    return message("bar {}, beat {}", here.number, onset.as_double() / here.beat.as_double() + 1);
  }
}

}  // namespace yubifu::check
