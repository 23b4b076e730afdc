#include "musicxml/annotation_marks.h"

#include <cstddef>

namespace yubifu::musicxml {
namespace {

// In the order of the enumeration.
constexpr std::array<std::string_view, 5> kHomes{"fields", "miscellaneous", "identification",
                                                 "instead-of-miscellaneous",
                                                 "instead-of-identification"};

}  // namespace

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
