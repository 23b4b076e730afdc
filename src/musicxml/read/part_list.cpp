#include "musicxml/read/part_list.h"

#include <algorithm>
#include <map>
#include <utility>

#include "base/message.h"
#include "musicxml/rules.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

std::vector<PartSource> partwise_parts(pugi::xml_node root) {
  std::vector<PartSource> parts;
  for (const pugi::xml_node part : root.children("part")) {
    PartSource source{std::string(attribute(part, "id")), {}, {}, {}};
    for (const pugi::xml_node measure : part.children("measure")) {
      source.measures.push_back({measure, measure});
    }
    parts.push_back(std::move(source));
  }
  return parts;
}

std::vector<PartSource> timewise_parts(pugi::xml_node root) {
  std::vector<PartSource> parts;
  std::map<std::string_view, std::size_t> by_id;
  std::vector<pugi::xml_node> measures;
  for (const pugi::xml_node measure : root.children("measure")) {
    measures.push_back(measure);
    for (const pugi::xml_node content : measure.children("part")) {
      const std::string_view id = attribute(content, "id");
      if (by_id.try_emplace(id, parts.size()).second)
        parts.push_back({std::string(id), {}, {}, {}});
    }
  }
  if (measures.size() * parts.size() > kMostPartMeasures) return {};
  for (PartSource& part : parts) {
    for (const pugi::xml_node measure : measures) part.measures.push_back({measure, {}});
  }
  for (std::size_t i = 0; i < measures.size(); ++i) {
    for (const pugi::xml_node content : measures[i].children("part")) {
      pugi::xml_node& place = parts[by_id.at(attribute(content, "id"))].measures[i].content;
      if (!place) place = content;
    }
  }
  return parts;
}

void name_parts(std::vector<PartSource>& parts, pugi::xml_node part_list) {
  std::map<std::string_view, pugi::xml_node> listed;
  for (const pugi::xml_node entry : part_list.children("score-part")) {
    listed.try_emplace(attribute(entry, "id"), entry);
  }
  for (PartSource& part : parts) {
    const auto found = listed.find(part.id);
    if (found == listed.end()) continue;
    const pugi::xml_node entry = found->second;
    const pugi::xml_node instrument = entry.child("score-instrument");
    part.name = text_of(entry.child("part-name"));
    part.other_names = {text_of(entry.child("part-name-display").child("display-text")),
                        text_of(entry.child("part-abbreviation")),
                        text_of(instrument.child("instrument-name")),
                        text_of(instrument.child("instrument-sound"))};
  }
}

base::Outcome<std::vector<PartSource>> failed(const base::Rule& rule, base::SourceRange where,
                                              std::string message) {
  return {std::nullopt, {base::report(rule, where, std::move(message))}};
}

}  // namespace

base::Outcome<std::vector<PartSource>> find_parts(pugi::xml_node root, std::string_view text) {
  const bool timewise = std::string_view(root.name()) == "score-timewise";
  std::vector<PartSource> parts = timewise ? timewise_parts(root) : partwise_parts(root);
  if (timewise && parts.empty() && root.child("measure").child("part")) {
    return failed(rule::staff_limits, range_of(root, text),
                  base::message("the file holds more than {} bars of parts", kMostPartMeasures));
  }
  std::size_t most = 0;
  for (const PartSource& part : parts) most = std::max(most, part.measures.size());
  if (most > kMostMeasures) {
    return failed(rule::staff_limits, range_of(root, text),
                  base::message("a part holds more than {} bars", kMostMeasures));
  }
  if (most == 0) {
    return failed(rule::no_measures, range_of(root, text),
                  base::message("the file holds no part with a bar"));
  }
  name_parts(parts, root.child("part-list"));
  return {std::move(parts), {}};
}

std::string part_title(const std::vector<PartSource>& parts, std::size_t index) {
  const PartSource& part = parts[index];
  if (part.name.empty() && part.id.empty()) return base::message("part {}", index + 1);
  if (part.name.empty()) return base::message("part {}", part.id);
  return base::message("part '{}' ({})", part.name, part.id);
}

}  // namespace yubifu::musicxml
