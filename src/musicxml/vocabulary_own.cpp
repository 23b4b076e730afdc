#include "musicxml/vocabulary_own.h"

#include <charconv>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "model/words.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::DirectionValue;

constexpr std::string_view kTempo = "tempo";
constexpr std::string_view kBeat = "beat";
constexpr std::string_view kKey = "key";
constexpr std::string_view kFlute = "flute";
constexpr std::string_view kSection = "section";
constexpr std::string_view kTextWord = "text";
constexpr std::string_view kDynamic = "dyn";
constexpr std::string_view kHoles = "holes";
constexpr std::string_view kIrregular = "irregular";
constexpr std::string_view kBar = "bar";
constexpr std::string_view kBarSection = "section";
constexpr std::string_view kBarFinal = "final";
constexpr std::string_view kPrint = "print";

std::string with_value(std::string_view word, std::string_view value) {
  return fmt::format("{}{} {}", kOwnPrefix, word, value);
}

struct DirectionText {
  std::string operator()(const model::TempoChange& change) const {
    return with_value(
        kTempo, fmt::format("{} {}", to_text(change.tempo.unit), to_text(change.tempo.per_minute)));
  }
  std::string operator()(const model::BeatChange& change) const {
    return with_value(kBeat, model::beat_text(change.beat));
  }
  std::string operator()(const model::KeyChange& change) const {
    return with_value(kKey, to_text(change.key));
  }
  std::string operator()(const model::FluteChange& change) const {
    return with_value(kFlute, to_text(change.flute));
  }
  std::string operator()(const model::SectionStart& section) const {
    return with_value(kSection, section.name);
  }
  std::string operator()(const model::TextDirection& text) const {
    return with_value(kTextWord, text.text);
  }
  std::string operator()(const model::Dynamic& dynamic) const {
    return with_value(kDynamic, dynamic.level);
  }
  std::string operator()(Cue cue) const {
    return fmt::format("{}{}", kOwnPrefix, model::word_of(cue));
  }
};

struct OwnText {
  std::string operator()(const DirectionValue& value) const {
    return std::visit(DirectionText{}, value);
  }
  std::string operator()(const HolesAsked& asked) const {
    return with_value(kHoles, printed(asked.holes));
  }
  std::string operator()(const IrregularBar&) const {
    return fmt::format("{}{}", kOwnPrefix, kIrregular);
  }
  std::string operator()(const BarLine& line) const {
    return with_value(kBar, line.style == model::BarStyle::final ? kBarFinal : kBarSection);
  }
  std::string operator()(const PrintOnly&) const { return fmt::format("{}{}", kOwnPrefix, kPrint); }
};

// Built in place: g++ 12 takes the moved variant inside a variant for an uninitialised one.
template <typename Meaning>
std::optional<OwnMeaning> direction(Meaning meaning) {
  return std::optional<OwnMeaning>(std::in_place, std::in_place_type<DirectionValue>,
                                   std::move(meaning));
}

template <typename Meaning, typename Value>
std::optional<OwnMeaning> direction_of(const std::optional<Value>& value) {
  if (!value) return std::nullopt;
  return direction(Meaning{*value});
}

std::optional<OwnMeaning> parse_tempo_text(std::string_view value) {
  const std::size_t space = value.find(' ');
  if (space == std::string_view::npos) return std::nullopt;
  const auto unit = model::parse_rational(value.substr(0, space));
  const auto per_minute = model::parse_rational(value.substr(space + 1));
  const bool positive =
      unit && per_minute && *unit > model::Rational(0) && *per_minute > model::Rational(0);
  if (!positive) return std::nullopt;
  return direction(model::TempoChange{{*per_minute, *unit}});
}

std::optional<OwnMeaning> parse_bar_text(std::string_view value) {
  if (value == kBarSection) return BarLine{model::BarStyle::section};
  if (value == kBarFinal) return BarLine{model::BarStyle::final};
  return std::nullopt;
}

std::optional<OwnMeaning> parse_holes_text(std::string_view value) {
  const auto holes = model::parse_hole_pattern(value);
  if (!holes) return std::nullopt;
  return HolesAsked{*holes};
}

}  // namespace

std::string own_text(const OwnMeaning& meaning) {
  return std::visit(OwnText{}, meaning);
}

std::optional<OwnMeaning> parse_own_text(std::string_view text) {
  if (!text.starts_with(kOwnPrefix)) return std::nullopt;
  text.remove_prefix(kOwnPrefix.size());
  if (text == kIrregular) return IrregularBar{};
  if (text == kPrint) return PrintOnly{};
  if (const auto cue = model::cue_named(text)) return direction(*cue);
  const std::size_t space = text.find(' ');
  if (space == std::string_view::npos) return std::nullopt;
  const std::string_view word = text.substr(0, space);
  const std::string_view value = text.substr(space + 1);
  if (word == kTempo) return parse_tempo_text(value);
  if (word == kBeat) return direction_of<model::BeatChange>(model::parse_beat(value));
  if (word == kKey) return direction_of<model::KeyChange>(model::parse_key(value));
  if (word == kFlute) return direction_of<model::FluteChange>(model::parse_flute_name(value));
  if (word == kSection) return direction(model::SectionStart{std::string(value)});
  if (word == kTextWord) return direction(model::TextDirection{std::string(value)});
  if (word == kDynamic) return direction(model::Dynamic{std::string(value)});
  if (word == kHoles) return parse_holes_text(value);
  if (word == kBar) return parse_bar_text(value);
  return std::nullopt;
}

namespace {

// In the order of the enumeration.
constexpr std::array<std::string_view, 5> kHomes{"fields", "miscellaneous", "identification",
                                                 "instead-of-miscellaneous",
                                                 "instead-of-identification"};

constexpr int kMostPartOctaves = 10;

}  // namespace

std::string to_text(const PartOctaves& moved) {
  return fmt::format("{} {}", moved.part, moved.octaves);
}

std::optional<PartOctaves> parse_part_octaves(std::string_view text) {
  const std::size_t space = text.rfind(' ');
  if (space == std::string_view::npos || space == 0) return std::nullopt;
  const std::string_view number = text.substr(space + 1);
  PartOctaves moved{std::string(text.substr(0, space)), 0};
  const auto [end, error] =
      std::from_chars(number.data(), number.data() + number.size(), moved.octaves);
  const bool whole = error == std::errc{} && end == number.data() + number.size();
  if (!whole || std::abs(moved.octaves) > kMostPartOctaves) return std::nullopt;
  return moved;
}

std::string part_label(std::string_view id, std::size_t number) {
  const bool plain = !id.empty() && id.find_first_of("& \t\r\n") == std::string_view::npos;
  return plain ? std::string(id) : fmt::format("#{}", number);
}

std::string_view field_home_name(FieldHome home) {
  return kHomes[static_cast<std::size_t>(home)];
}

std::optional<FieldHome> field_home_named(std::string_view name) {
  for (std::size_t i = 0; i < kHomes.size(); ++i) {
    if (kHomes[i] == name) return static_cast<FieldHome>(i);
  }
  return std::nullopt;
}

}  // namespace yubifu::musicxml
