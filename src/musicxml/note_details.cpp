#include "musicxml/note_details.h"

#include <string_view>

#include "musicxml/vocabulary.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Mark;

std::string number_of(pugi::xml_node span) {
  const std::string_view number = attribute(span, "number");
  return number.empty() ? "1" : std::string(number);
}

class NotationReader {
 public:
  NoteDetails run(pugi::xml_node first) {
    for (pugi::xml_node notations = first; notations;
         notations = notations.next_sibling("notations")) {
      for (pugi::xml_node child = notations.first_child(); child; child = child.next_sibling()) {
        take(child);
      }
    }
    return std::move(out_);
  }

 private:
  void take(pugi::xml_node node) {
    const std::string_view name = node.name();
    if (name == "articulations") {
      take_group(node, MarkPlace::articulations);
    } else if (name == "ornaments") {
      take_group(node, MarkPlace::ornaments);
    } else if (name == "technical") {
      take_group(node, MarkPlace::technical);
    } else if (name == "slur") {
      take_slur(node);
    } else if (name == "tied") {
      take_tied(node);
    } else if (name == "slide" || name == "glissando") {
      if (attribute(node, "type") == "start") out_.marks.add(Mark::suri);
    } else if (name == "dynamics") {
      out_.dynamics.push_back(node);
    } else if (name == "tuplet" || name == "footnote" || name == "level") {
      return;  // the brackets follow from the durations
    } else {
      take_mark(node, MarkPlace::notations);
    }
  }

  void take_group(pugi::xml_node group, MarkPlace place) {
    has_trill_ = has_trill_ || group.child("trill-mark");
    for (const pugi::xml_node child : group.children()) {
      const std::string_view name = child.name();
      if (name == "fingering") {
        out_.fingerings.push_back(child);
      } else if (name == "caesura") {
        out_.has_caesura = true;
      } else if (name == "detached-legato") {
        out_.marks.add(Mark::tenuto);
        out_.marks.add(Mark::staccato);
      } else if (name == "wavy-line" && is_part_of_trill(child)) {
        continue;
      } else {
        take_mark(child, place);
      }
    }
  }

  // A wavy line prolongs a trill; only one that starts without a trill says something else.
  bool is_part_of_trill(pugi::xml_node wavy_line) const {
    return has_trill_ || attribute(wavy_line, "type") != "start";
  }

  void take_mark(pugi::xml_node node, MarkPlace place) {
    if (node.type() != pugi::node_element) return;
    if (const auto mark = mark_of(place, node.name(), text_of(node))) {
      out_.marks.add(*mark);
    } else {
      out_.left_out.push_back(node);
    }
  }

  void take_slur(pugi::xml_node node) {
    const std::string_view type = attribute(node, "type");
    if (type == "start") out_.slur_starts.push_back(number_of(node));
    if (type == "stop") out_.slur_stops.push_back(number_of(node));
  }

  void take_tied(pugi::xml_node node) {
    const std::string_view type = attribute(node, "type");
    out_.tied_starts = out_.tied_starts || type == "start" || type == "continue";
    out_.tied_stops = out_.tied_stops || type == "stop" || type == "continue";
    if (type == "let-ring") out_.left_out.push_back(node);
  }

  NoteDetails out_;
  bool has_trill_ = false;
};

}  // namespace

std::vector<Mark> MarkSet::list() const {
  std::vector<Mark> marks;
  for (const MarkElement& entry : mark_elements()) {
    if (has(entry.mark)) marks.push_back(entry.mark);
  }
  return marks;
}

NoteDetails read_notations(pugi::xml_node first) {
  return NotationReader().run(first);
}

std::string dynamic_level(pugi::xml_node dynamics) {
  std::string level;
  for (const pugi::xml_node child : dynamics.children()) {
    if (child.type() != pugi::node_element) continue;
    const std::string_view name = child.name();
    if (!level.empty()) level += ' ';
    level += name == "other-dynamics" ? text_of(child) : std::string(name);
  }
  return level;
}

}  // namespace yubifu::musicxml
