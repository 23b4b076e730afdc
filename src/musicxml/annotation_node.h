// The marks of annotation_marks.h on parsed elements. Shows pugixml.
#pragma once

#include <pugixml.hpp>

namespace yubifu::musicxml {

/// True for a `<direction>` that annotate has written, if the file says that it was annotated.
bool is_annotation_direction(pugi::xml_node direction);

/// True for a child of a `<technical>` in such a `<notations>`.
bool is_in_annotation(pugi::xml_node technical_child);

}  // namespace yubifu::musicxml
