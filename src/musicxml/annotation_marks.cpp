#include "musicxml/annotation_marks.h"

#include <charconv>
#include <cstddef>
#include <cstdlib>

#include <fmt/format.h>

namespace yubifu::musicxml {
namespace {

// In the order of the enumeration.
constexpr std::array<std::string_view, 5> kHomes{"fields", "miscellaneous", "identification",
                                                 "instead-of-miscellaneous",
                                                 "instead-of-identification"};

constexpr int kMostOctaves = 10;

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
  if (!whole || std::abs(moved.octaves) > kMostOctaves) return std::nullopt;
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
