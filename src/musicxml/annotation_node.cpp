#include "musicxml/annotation_node.h"

#include <algorithm>

#include "musicxml/annotation_marks.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

bool has_mark(pugi::xml_node node, const MarkAttribute& mark) {
  return attribute(node, mark.name) == mark.value;
}

}  // namespace

bool is_annotation_direction(pugi::xml_node direction) {
  return std::all_of(kDirectionMarks.begin(), kDirectionMarks.end(),
                     [&](const MarkAttribute& mark) { return has_mark(direction, mark); });
}

bool is_in_annotation(pugi::xml_node technical_child) {
  return has_mark(technical_child.parent().parent(), kNotationsMark);
}

}  // namespace yubifu::musicxml
