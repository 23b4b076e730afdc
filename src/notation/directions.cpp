#include "notation/directions.h"

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"
#include "base/word_table.h"
#include "model/words.h"
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

Fault bad_direction(const Brace& brace, std::string_view expected) {
  std::string hint = base::message("write {}", base::translated(expected));
  if (brace.value.empty()) {
    return {&rule::bad_direction_value,
            base::message("{} needs a value", shown(braced(brace.name))), std::move(hint)};
  }
  return {&rule::bad_direction_value,
          base::message("{} is no value of {}", shown(brace.value), shown(braced(brace.name))),
          std::move(hint)};
}

std::optional<std::vector<int>> ending_numbers(std::string_view text) {
  std::vector<int> numbers;
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

DirectionMeaning read_ending(const Brace& brace) {
  const std::string value = folded(brace.value);
  if (value == kEndingEnd) return SetEnding{};
  auto numbers = ending_numbers(value);
  if (!numbers) return bad_direction(brace, "`{ending 1}`, `{ending 1,3}` or `{ending end}`");
  return SetEnding{*std::move(numbers)};
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

DirectionMeaning read_flute(const Brace& brace) {
  const auto path = quoted_value(brace);
  const std::string text = path ? *path : std::string(brace.value);
  if (auto flute = model::parse_flute_name(text)) {
    return placed(model::FluteChange{*std::move(flute)});
  }
  if (brace.value.empty()) return bad_direction(brace, "`{flute 7}`");
  return unknown_flute(text);
}

DirectionMeaning read_dynamic(const Brace& brace) {
  std::string level = quoted_value(brace).value_or(folded(brace.value));
  if (level.empty()) return bad_direction(brace, "`{dyn mf}`");
  return placed(model::Dynamic{std::move(level)});
}

DirectionMeaning read_valued(const Brace& brace, DirectionWord word, model::Rational tempo_unit) {
  switch (word) {
    case DirectionWord::irregular:
      if (!brace.value.empty()) break;
      return SetIrregular{};
    case DirectionWord::ending:
      return read_ending(brace);
    case DirectionWord::meter:
      if (const auto meter = model::parse_meter(folded(brace.value))) return SetMeter{*meter};
      return bad_direction(brace, "`{meter 3/4}` or `{meter free}`");
    case DirectionWord::beat:
      if (const auto beat = model::parse_beat(folded(brace.value))) {
        return placed(model::BeatChange{*beat});
      }
      return bad_direction(brace, base::catalogued("a part of a whole note: `{beat 1/8}`"));
    case DirectionWord::flute:
      return read_flute(brace);
    case DirectionWord::section:
      if (auto name = quoted_value(brace)) {
        return placed(model::SectionStart{*std::move(name)});
      }
      return bad_direction(brace, base::catalogued("the name in quotes: `{section \"A\"}`"));
    case DirectionWord::tempo:
      if (const auto tempo = read_tempo(folded(brace.value), tempo_unit)) {
        return placed(model::TempoChange{*tempo});
      }
      if (const auto meant = tempo_meant(folded(brace.value))) {
        return bad_direction(brace, fmt::format("`{{tempo {}}}`", *meant));
      }
      return bad_direction(
          brace, base::catalogued("beats a minute up to 1000: `{tempo 96}` or `{tempo 1/8=180}`"));
    case DirectionWord::key:
      if (const auto key = model::parse_key(folded(brace.value))) {
        return placed(model::KeyChange{*key});
      }
      return bad_direction(brace, "`{key D}`, `{key Bb}` or `{key F# minor}`");
    case DirectionWord::text:
      if (auto text = quoted_value(brace)) {
        return placed(model::TextDirection{*std::move(text)});
      }
      return bad_direction(brace, base::catalogued("the text in quotes: `{text \"slowly\"}`"));
    case DirectionWord::dynamic:
      return read_dynamic(brace);
  }
  return Fault{&rule::bad_direction_value,
               base::message("{} takes no value", shown(braced(brace.name))),
               base::message("take {} out", shown(brace.value))};
}

}  // namespace

DirectionMeaning read_direction(const Brace& brace, model::Rational tempo_unit) {
  if (const auto cue = model::cue_named(brace.name)) {
    if (brace.value.empty()) return placed(*cue);
    return Fault{&rule::bad_direction_value,
                 base::message("{} takes no value", shown(braced(brace.name))),
                 base::message("take {} out", shown(brace.value))};
  }
  if (const auto word = direction_word(brace.name)) return read_valued(brace, *word, tempo_unit);
  if (mark(brace.name) || valued_mark(brace.name)) {
    return Fault{&rule::free_mark,
                 base::message("the mark {} stands free", shown(braced(brace.name))),
                 base::message("write it directly after its sign, without a space")};
  }
  if (brace.name.empty()) {
    return Fault{&rule::unknown_direction, base::message("this brace is empty"),
                 base::message("write a direction in it, or take it out")};
  }
  if (ending_numbers(brace.name)) {
    return Fault{&rule::unknown_direction,
                 base::message("{} is no direction", shown(braced(brace.name))),
                 base::message("an ending is `{{ending {}}}`", brace.name)};
  }
  const auto near = base::nearest_word(brace.name, direction_words());
  const auto attached = near ? std::nullopt : base::nearest_word(brace.name, mark_words());
  return Fault{&rule::unknown_direction,
               base::message("{} is no direction", shown(braced(brace.name))),
               near       ? base::message("did you mean {}?", shown(braced(*near)))
               : attached ? base::message("did you mean the mark {}? It stands directly after its "
                                          "sign, without a space",
                                          shown(braced(*attached)))
                          : base::message("a comment begins with `#`; a remark for the player is "
                                          "`{{text \"…\"}}`")};
}

std::optional<model::PlaceInMeasure> place_of_word(std::string_view name) {
  if (const auto cue = model::cue_named(name)) return model::place_in_measure(*cue);
  const auto word = direction_word(name);
  if (!word) return std::nullopt;
  switch (*word) {
    case DirectionWord::irregular:
    case DirectionWord::ending:
    case DirectionWord::meter:
    case DirectionWord::flute:
    case DirectionWord::section:
      return model::PlaceInMeasure::start;
    case DirectionWord::beat:
    case DirectionWord::tempo:
    case DirectionWord::key:
    case DirectionWord::text:
    case DirectionWord::dynamic:
      return model::PlaceInMeasure::anywhere;
  }
  return std::nullopt;
}

std::optional<Fault> unusual_dynamic(const model::DirectionValue& value) {
  const auto* dynamic = std::get_if<model::Dynamic>(&value);
  if (dynamic == nullptr) return std::nullopt;
  const std::vector<std::string_view> levels = model::dynamic_words();
  if (std::find(levels.begin(), levels.end(), dynamic->level) != levels.end()) return std::nullopt;
  const auto near = base::nearest_word(dynamic->level, levels);
  return Fault{&rule::unknown_dynamic,
               base::message("{} is no usual dynamic; it is kept as text", shown(dynamic->level)),
               near ? base::message("did you mean `{}`?", *near)
                    : base::message("usual levels are pp, p, mp, mf, f and ff")};
}

Fault unknown_flute(std::string_view text) {
  const std::string note = folded(text);
  const auto size = model::size_with_ichi(note);
  return {&rule::unknown_flute, base::message("there is no flute {}", shown(text)),
          size ? base::message("a flute is named by its size: 一 is {} on size {}", note, *size)
               : base::message("sizes are 1 to 13 and the halves between them, also with cents "
                               "(`6+15c`); the path of a flute file ends in .json")};
}

std::optional<model::Tempo> read_tempo(std::string_view text, model::Rational unit) {
  std::string compact(text);
  std::erase(compact, ' ');
  return model::parse_tempo(compact, unit);
}

std::optional<std::string> tempo_meant(std::string_view text) {
  std::string compact(text);
  std::erase(compact, ' ');
  const std::size_t equals = compact.find('=');
  if (equals == std::string::npos) return std::nullopt;
  std::string_view value = std::string_view(compact).substr(0, equals);
  const bool dotted = value.ends_with('.');
  if (dotted) value.remove_suffix(1);
  auto unit = value == "♩"   ? std::optional(model::Rational(1))
              : value == "♪" ? std::optional(model::Rational(1, 2))
                             : model::parse_beat(value);
  if (!unit) return std::nullopt;
  if (dotted) unit = *unit * model::Rational(3, 2);
  std::string meant = model::beat_text(*unit) + compact.substr(equals);
  return read_tempo(meant, 1) ? std::optional(std::move(meant)) : std::nullopt;
}

}  // namespace yubifu::notation
