// The elements that `annotate` puts into a staff file, each in one line.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/fingering.h"
#include "musicxml/annotation_marks.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {

/// Texts are given as they are and escaped here.
std::string fingering_lyric(int verse, Annotation kind, std::string_view fingering);

/// `<notations>` with a fingering, hole signs or both; not for neither.
std::string fingering_notations(std::string_view fingering,
                                const std::optional<model::HolePattern>& holes);

/// `staff` is that of the note, empty where it names none.
std::string fingering_direction(std::string_view staff, std::string_view fingering);

/// The fields, name and value, with the elements around them that the place lacks. `space` sets
/// fields off from each other where they stand among others.
std::string annotation_fields(FieldHome home, std::string_view space,
                              const std::vector<std::pair<std::string_view, std::string>>& fields);

}  // namespace yubifu::musicxml
