#include "musicxml/xml/xml_document.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "base/numbers.h"
#include "musicxml/rules.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

// The text of an element is kept in the element itself: a third of all nodes less.
constexpr unsigned kParsing = pugi::parse_default | pugi::parse_embed_pcdata;

bool is_text(pugi::xml_node node) {
  return node.type() == pugi::node_pcdata || node.type() == pugi::node_cdata;
}

}  // namespace

base::Outcome<pugi::xml_document> parse_xml(std::string_view text) {
  if (auto fault = find_xml_fault(text)) {
    return {std::nullopt,
            {base::report(*fault->rule, base::SourceRange{fault->offset, fault->offset + 1},
                          std::move(fault->message), std::move(fault->hint))}};
  }
  return load_xml(text);
}

base::Outcome<pugi::xml_document> load_xml(std::string_view text) {
  pugi::xml_document document;
  const pugi::xml_parse_result result =
      document.load_buffer(text.data(), text.size(), kParsing, pugi::encoding_utf8);
  if (result) return {std::move(document), {}};
  const auto offset = std::min(static_cast<std::size_t>(result.offset), text.size());
  return {std::nullopt,
          {base::report(rule::xml_syntax, base::SourceRange{offset, offset},
                        result.status == pugi::status_out_of_memory
                            ? base::message("there is not enough memory for the document")
                            : base::message("the text is not well-formed XML"),
                        base::message("export the file again, or mend it in a text editor"))}};
}

std::string text_of(pugi::xml_node element) {
  pugi::xml_node child = element.first_child();
  if (!child) return std::string(trimmed(element.value()));
  std::string text = element.value();
  for (; child; child = child.next_sibling()) {
    if (is_text(child)) text += child.value();
  }
  return std::string(trimmed(text));
}

std::string_view word_of(pugi::xml_node element) {
  const std::string_view own = element.value();
  if (!own.empty()) return trimmed(own);
  const pugi::xml_node first = element.first_child();
  return is_text(first) ? trimmed(first.value()) : std::string_view();
}

std::string_view child_word(pugi::xml_node element, const char* child) {
  return word_of(element.child(child));
}

std::string_view attribute(pugi::xml_node element, const char* name) {
  return element.attribute(name).value();
}

std::optional<int> whole_number(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  return base::whole_number(text);
}

base::SourceRange start_of(pugi::xml_node element) {
  const std::ptrdiff_t name_at = element.offset_debug();
  if (name_at <= 0) return {};
  const auto begin = static_cast<std::size_t>(name_at) - 1;
  return {begin, begin + 1 + std::string_view(element.name()).size()};
}

base::SourceRange range_of(pugi::xml_node element, std::string_view text) {
  const auto [begin, name_end] = start_of(element);
  if (name_end == 0) return {};
  XmlScanner scanner(text.substr(begin));
  while (const Tag* tag = scanner.next()) {
    const bool is_whole = tag->kind != TagKind::start && scanner.around().empty();
    if (is_whole) return {begin, begin + tag->end()};
  }
  return {begin, text.size()};
}

}  // namespace yubifu::musicxml
