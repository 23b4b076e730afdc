#include "musicxml/vocabulary_own.h"

#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "base/numbers.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::DirectionValue;

constexpr std::string_view kHoles = "holes";
constexpr std::string_view kIrregular = "irregular";
constexpr std::string_view kBar = "bar";
constexpr std::string_view kBarSection = "section";
constexpr std::string_view kBarFinal = "final";
constexpr std::string_view kPrint = "print";

constexpr int kMostPartOctaves = 10;

std::string own(std::string_view word) {
  return fmt::format("{}{}", kOwnPrefix, word);
}

std::string own(std::string_view word, std::string_view value) {
  return fmt::format("{}{} {}", kOwnPrefix, word, value);
}

struct OwnText {
  std::string operator()(const DirectionValue& value) const {
    const std::string_view word = model::word_of(value);
    if (std::holds_alternative<Cue>(value)) return own(word);
    const auto* change = std::get_if<model::TempoChange>(&value);
    if (change == nullptr) return own(word, model::value_text(value));
    const auto& [per_minute, unit] = change->tempo;
    return own(word, fmt::format("{} {}", to_text(unit), to_text(per_minute)));
  }
  std::string operator()(const HolesAsked& asked) const {
    return own(kHoles, printed(asked.holes));
  }
  std::string operator()(const IrregularBar&) const { return own(kIrregular); }
  std::string operator()(const BarLine& line) const {
    return own(kBar, line.style == model::BarStyle::final ? kBarFinal : kBarSection);
  }
  std::string operator()(const PrintOnly&) const { return own(kPrint); }
};

// Built in place: g++ 12 takes the moved variant inside a variant for an uninitialised one.
std::optional<OwnMeaning> direction(DirectionValue meaning) {
  return std::optional<OwnMeaning>(std::in_place, std::in_place_type<DirectionValue>,
                                   std::move(meaning));
}

std::optional<OwnMeaning> parse_tempo_text(std::string_view value) {
  const std::size_t space = value.find(' ');
  if (space == std::string_view::npos) return std::nullopt;
  const auto unit = model::parse_rational(value.substr(0, space));
  const auto per_minute = model::parse_rational(value.substr(space + 1));
  const auto is_positive = [](const auto& number) {
    return number && *number > model::Rational(0);
  };
  if (!is_positive(unit) || !is_positive(per_minute)) return std::nullopt;
  return direction(model::TempoChange{{*per_minute, *unit}});
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
  if (word == model::TempoChange::kWord) return parse_tempo_text(value);
  if (word == kHoles) {
    const auto holes = model::parse_hole_pattern(value);
    return holes ? std::optional<OwnMeaning>(HolesAsked{*holes}) : std::nullopt;
  }
  if (word == kBar && value == kBarSection) return BarLine{model::BarStyle::section};
  if (word == kBar && value == kBarFinal) return BarLine{model::BarStyle::final};
  auto said = model::parse_direction(word, std::string(value), {});
  return said ? direction(*std::move(said)) : std::nullopt;
}

std::string to_text(const PartOctaves& moved) {
  return fmt::format("{} {}", moved.part, moved.octaves);
}

std::optional<PartOctaves> parse_part_octaves(std::string_view text) {
  const std::size_t space = text.rfind(' ');
  if (space == std::string_view::npos || space == 0) return std::nullopt;
  const auto octaves = base::whole_number(text.substr(space + 1));
  if (!octaves || std::abs(*octaves) > kMostPartOctaves) return std::nullopt;
  return PartOctaves{std::string(text.substr(0, space)), *octaves};
}

std::string part_label(std::string_view id, std::size_t number) {
  const bool plain = !id.empty() && id.find_first_of("& \t\r\n") == std::string_view::npos;
  return plain ? std::string(id) : fmt::format("#{}", number);
}

}  // namespace yubifu::musicxml
