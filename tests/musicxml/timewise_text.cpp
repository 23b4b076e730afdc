#include "musicxml/timewise_text.h"

#include <sstream>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

namespace yubifu::musicxml {
namespace {

void copy_attributes(pugi::xml_node from, pugi::xml_node to) {
  for (const pugi::xml_attribute attribute : from.attributes()) to.append_copy(attribute);
}

}  // namespace

std::string timewise_text(const std::string& partwise) {
  pugi::xml_document from;
  from.load_buffer(partwise.data(), partwise.size());
  const pugi::xml_node old_root = from.document_element();
  pugi::xml_document to;
  pugi::xml_node root = to.append_child("score-timewise");
  copy_attributes(old_root, root);
  std::vector<pugi::xml_node> measures;
  for (const pugi::xml_node child : old_root.children()) {
    if (std::string_view(child.name()) != "part") {
      root.append_copy(child);
      continue;
    }
    std::size_t index = 0;
    for (const pugi::xml_node measure : child.children("measure")) {
      if (index == measures.size()) {
        measures.push_back(root.append_child("measure"));
        copy_attributes(measure, measures.back());
      }
      pugi::xml_node part = measures[index++].append_child("part");
      copy_attributes(child, part);
      for (const pugi::xml_node content : measure.children()) part.append_copy(content);
    }
  }
  std::ostringstream out;
  to.save(out, " ", pugi::format_default, pugi::encoding_utf8);
  return out.str();
}

}  // namespace yubifu::musicxml
