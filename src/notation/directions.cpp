#include "notation/directions.h"

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"
#include "base/word_table.h"
#include "notation/characters.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

// Built in place: g++ 12 warns of the temporary that a conversion would need.
template <typename Value>
DirectionMeaning placed(Value value) {
  return DirectionMeaning(std::in_place_type<model::DirectionValue>, std::move(value));
}

std::optional<EndingNumbers> ending_numbers(std::string_view text) {
  EndingNumbers numbers;
  while (true) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view part = trimmed(text.substr(0, comma));
    const auto number = base::whole_number(part);
    const int last = numbers.empty() ? 0 : numbers.back();
    if (!number || *number <= last || *number > model::kMostEndings) return std::nullopt;
    numbers.push_back(*number);
    if (comma == text.size()) return numbers;
    text.remove_prefix(comma + 1);
  }
}

// The value in its quotes; full-width quotes do as well.
std::optional<std::string> quoted_value(const Brace& brace) {
  constexpr std::string_view kWideQuote = "＂";
  std::string_view value = brace.value;
  const bool wide = value.size() >= 2 * kWideQuote.size() && value.starts_with(kWideQuote) &&
                    value.ends_with(kWideQuote);
  if (!wide) return unquoted(value);
  value.remove_prefix(kWideQuote.size());
  value.remove_suffix(kWideQuote.size());
  return unquoted(fmt::format("\"{}\"", value));
}

// What a value looks like.
constexpr auto kExpected = base::word_table<std::string_view>({
    {"`{ending 1}`, `{ending 1,3}` or `{ending end}`", kEnding},
    {"`{meter 3/4}` or `{meter free}`", kMeter},
    {base::catalogued("a part of a whole note: `{beat 1/8}`"), model::BeatChange::kWord},
    {"`{flute 7}`", model::FluteChange::kWord},
    {base::catalogued("the name in quotes: `{section \"A\"}`"), model::SectionStart::kWord},
    {base::catalogued("beats a minute up to 1000: `{tempo 96}` or `{tempo 1/8=180}`"),
     model::TempoChange::kWord},
    {"`{key D}`, `{key Bb}` or `{key F# minor}`", model::KeyChange::kWord},
    {base::catalogued("the text in quotes: `{text \"slowly\"}`"), model::TextDirection::kWord},
    {"`{dyn mf}`", model::Dynamic::kWord},
});

// The text of a value, as it stands in a brace; nothing where it lacks its quotes.
std::optional<std::string> value_text(const Brace& brace) {
  auto quoted = quoted_value(brace);
  if (brace.name == model::SectionStart::kWord || brace.name == model::TextDirection::kWord) {
    return quoted;
  }
  if (brace.name == model::FluteChange::kWord) return quoted.value_or(std::string(brace.value));
  if (brace.name == model::TempoChange::kWord) return tempo_text(brace.value);
  if (brace.name != model::Dynamic::kWord) return folded(brace.value);
  const std::string level = quoted.value_or(folded(brace.value));
  return level.empty() ? std::nullopt : std::optional(level);
}

DirectionMeaning read_value(const Brace& brace, model::Rational tempo_unit) {
  const auto bad = [&](std::string_view expected) {
    return bad_value(rule::bad_direction_value, brace,
                     base::message("write {}", base::translated(expected)));
  };
  const std::optional<std::string> text = value_text(brace);
  if (brace.name == kEnding) {
    if (text == kEndingEnd) return EndingNumbers{};
    if (auto numbers = ending_numbers(*text)) return *std::move(numbers);
  } else if (brace.name == kMeter) {
    if (const auto meter = model::parse_meter(*text)) return *meter;
  } else if (brace.name == model::TempoChange::kWord) {
    const auto tempo = model::parse_tempo(*text, tempo_unit);
    if (tempo) return placed(model::TempoChange{*tempo});
    if (const auto meant = tempo_meant(*text)) return bad(fmt::format("`{{tempo {}}}`", *meant));
  } else if (text) {
    if (auto value = model::parse_direction(brace.name, *text, tempo_unit)) {
      return placed(*std::move(value));
    }
    if (brace.name == model::FluteChange::kWord && !brace.value.empty()) {
      return unknown_flute(*text);
    }
  }
  return bad(*kExpected.value_of(brace.name));
}

}  // namespace

DirectionMeaning read_direction(const Brace& brace, model::Rational tempo_unit) {
  const auto cue = model::cue_named(brace.name);
  if ((cue || brace.name == kIrregular) && !brace.value.empty()) {
    return needless_value(rule::bad_direction_value, brace);
  }
  if (cue) return placed(*cue);
  if (brace.name == kIrregular) return SetIrregular{};
  if (kExpected.value_of(brace.name)) return read_value(brace, tempo_unit);
  if (mark(brace.name) || kValuedMarks.value_of(brace.name)) {
    return Fault{&rule::free_mark,
                 base::message("the mark {} stands free", shown(braced(brace.name))),
                 base::message("write it directly after its sign, without a space")};
  }
  if (brace.name.empty()) {
    return Fault{&rule::unknown_direction, base::message("this brace is empty"),
                 base::message("write a direction in it, or take it out")};
  }
  const auto near = base::nearest_word(brace.name, direction_words());
  const auto attached = near ? std::nullopt : base::nearest_word(brace.name, mark_words());
  return Fault{
      &rule::unknown_direction, base::message("{} is no direction", shown(braced(brace.name))),
      ending_numbers(brace.name) ? base::message("an ending is `{{ending {}}}`", brace.name)
      : near                     ? base::message("did you mean {}?", shown(braced(*near)))
      : attached ? base::message("did you mean the mark {}? It stands directly after its sign, "
                                 "without a space",
                                 shown(braced(*attached)))
                 : base::message("a comment begins with `#`; a remark for the player is "
                                 "`{{text \"…\"}}`")};
}

std::optional<model::PlaceInMeasure> place_of_word(std::string_view name) {
  if (name == kIrregular || name == kEnding || name == kMeter) return model::PlaceInMeasure::start;
  const auto kind = model::direction_kind(name);
  if (!kind) return std::nullopt;
  if (kind->word == model::BeatChange::kWord) return model::PlaceInMeasure::anywhere;
  return kind->place;
}

Fault bad_value(const base::Rule& rule, const Brace& brace, std::string hint) {
  const std::string name = shown(braced(brace.name));
  return {&rule,
          brace.value.empty() ? base::message("{} needs a value", name)
                              : base::message("{} is no value of {}", shown(brace.value), name),
          std::move(hint)};
}

Fault needless_value(const base::Rule& rule, const Brace& brace) {
  return {&rule, base::message("{} takes no value", shown(braced(brace.name))),
          base::message("take {} out", shown(brace.value))};
}

std::optional<Fault> unfit_beat(model::Rational beat, const model::Meter& meter) {
  if (model::divides(beat, meter)) return std::nullopt;
  return Fault{&rule::beat_meter,
               base::message("a beat of {} does not divide a meter of {}", model::beat_text(beat),
                             model::to_text(meter)),
               base::message("take a beat that fits into the bar a whole number of times")};
}

Fault unknown_flute(std::string_view text) {
  const std::string note = folded(text);
  const auto size = model::size_with_ichi(note);
  return {&rule::unknown_flute, base::message("there is no flute {}", shown(text)),
          size ? base::message("a flute is named by its size: 一 is {} on size {}", note, *size)
               : base::message("sizes are 1 to 13 and the halves between them, also with cents "
                               "(`6+15c`); the path of a flute file ends in .json")};
}

std::string tempo_text(std::string_view text) {
  std::string compact = folded(text);
  std::erase(compact, ' ');
  return compact;
}

std::optional<std::string> tempo_meant(std::string_view text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos) return std::nullopt;
  std::string_view value = text.substr(0, equals);
  const bool dotted = value.ends_with('.');
  if (dotted) value.remove_suffix(1);
  auto unit = value == "♩"   ? std::optional(model::Rational(1))
              : value == "♪" ? std::optional(model::Rational(1, 2))
                             : model::parse_beat(value);
  if (!unit) return std::nullopt;
  if (dotted) unit = *unit * model::Rational(3, 2);
  std::string meant = model::beat_text(*unit).append(text.substr(equals));
  return model::parse_tempo(meant, 1) ? std::optional(std::move(meant)) : std::nullopt;
}

}  // namespace yubifu::notation
