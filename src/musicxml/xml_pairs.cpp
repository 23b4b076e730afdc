#include "musicxml/xml_pairs.h"

#include <array>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "base/message.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml {
namespace {

constexpr std::size_t kNowhere = std::string_view::npos;

struct Section {
  std::string_view begin;
  std::string_view end;
};

// What holds no tags; the document type comes last, for its mark begins others.
constexpr std::array<Section, 4> kSections{
    {{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}, {"<!", ">"}}};

const Section* section_at(std::string_view rest) {
  for (const Section& section : kSections) {
    if (rest.starts_with(section.begin)) return &section;
  }
  return nullptr;
}

// The offset of the '>' that ends a tag; one in an attribute's quotes does not.
std::size_t end_of_tag(std::string_view text, std::size_t at) {
  char quote = 0;
  for (std::size_t i = at; i < text.size(); ++i) {
    const char c = text[i];
    if (quote != 0) {
      if (c == quote) quote = 0;
    } else if (c == '"' || c == '\'') {
      quote = c;
    } else if (c == '>') {
      return i;
    }
  }
  return kNowhere;
}

std::string_view name_in(std::string_view tag) {
  return tag.substr(0, tag.find_first_of(" \t\r\n/>"));
}

XmlFault wrong_end(std::size_t offset, std::string message) {
  return {&rule::xml_syntax, offset, std::move(message),
          base::message("export the file again, or mend it in a text editor")};
}

XmlFault cut_off(std::size_t offset, std::string message) {
  return {&rule::xml_syntax, offset, std::move(message),
          base::message("its end is missing: export or copy it again")};
}

struct Element {
  std::string_view name;
  std::size_t offset = 0;
};

}  // namespace

std::optional<XmlFault> find_unpaired(std::string_view text) {
  std::vector<Element> open;
  for (std::size_t at = text.find('<'); at != kNowhere; at = text.find('<', at)) {
    const std::string_view rest = text.substr(at);
    if (const Section* section = section_at(rest)) {
      const std::size_t end = text.find(section->end, at + section->begin.size());
      if (end == kNowhere) return std::nullopt;  // the parser's own sentence names what it is
      at = end + section->end.size();
      continue;
    }
    const std::size_t end = end_of_tag(text, at + 1);
    if (end == kNowhere) return std::nullopt;
    const bool ends = rest.starts_with("</");
    const std::string_view name = name_in(rest.substr(ends ? 2 : 1));
    if (ends && open.empty()) return wrong_end(at, base::message("</{}> ends nothing", name));
    if (ends && open.back().name != name) {
      return wrong_end(
          at, base::message("</{}> stands here while <{}> is open", name, open.back().name));
    }
    if (ends) {
      open.pop_back();
    } else if (text[end - 1] != '/') {
      open.push_back({name, at});
    }
    at = end + 1;
  }
  if (open.empty()) return std::nullopt;
  return cut_off(open.back().offset,
                 base::message("the file ends while <{}>, which begins here, is still open",
                               open.back().name));
}

std::optional<XmlFault> find_cut_tag(std::string_view text) {
  const std::size_t tag = text.rfind('<');
  if (tag == kNowhere || text.find('>', tag) != kNowhere) return std::nullopt;
  return cut_off(tag, base::message("the file ends inside this tag"));
}

}  // namespace yubifu::musicxml
