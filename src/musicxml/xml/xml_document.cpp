#include "musicxml/xml/xml_document.h"

#include <algorithm>
#include <charconv>
#include <future>
#include <new>
#include <utility>

#include "base/large_block.h"
#include "base/message.h"
#include "musicxml/rules.h"
#include "musicxml/xml/xml_scan.h"

namespace yubifu::musicxml {
namespace {

// The text of an element is kept in the element itself: a third of all nodes less.
constexpr unsigned kParsing = pugi::parse_default | pugi::parse_embed_pcdata;

constexpr std::size_t kWorthAThread = 1'000'000;  // in bytes

bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

bool is_text(pugi::xml_node node) {
  return node.type() == pugi::node_pcdata || node.type() == pugi::node_cdata;
}

// The first end tag of that name, not of a longer one.
std::size_t end_tag(const std::string& name, std::size_t from, std::string_view text) {
  const std::string tag = "</" + name;
  std::size_t at = text.find(tag, from);
  while (at != std::string_view::npos) {
    const std::size_t behind = at + tag.size();
    if (behind >= text.size() || text[behind] == '>' || is_space(text[behind])) break;
    at = text.find(tag, behind);
  }
  return at;
}

// The end of an element whose end tag stands right before its next sibling, the usual case and
// found without a search.
std::optional<std::size_t> end_before_sibling(pugi::xml_node element, std::string_view text) {
  const std::ptrdiff_t next_at = element.next_sibling().offset_debug();
  if (next_at <= 1) return std::nullopt;
  const std::size_t close = text.rfind('>', static_cast<std::size_t>(next_at) - 2);
  if (close == std::string_view::npos) return std::nullopt;
  const std::string_view name = element.name();
  const std::string_view before = text.substr(0, close);
  if (!before.ends_with(name)) return std::nullopt;
  if (!before.substr(0, close - name.size()).ends_with("</")) return std::nullopt;
  return close + 1;
}

std::string sentence_for(pugi::xml_parse_status status) {
  switch (status) {
    case pugi::status_no_document_element:
      return base::message("the text holds no XML element");
    case pugi::status_out_of_memory:
      return base::message("there is not enough memory for the document");
    case pugi::status_bad_pi:
      return base::message("a processing instruction is not closed");
    case pugi::status_bad_comment:
      return base::message("a comment is not closed");
    case pugi::status_bad_cdata:
      return base::message("a CDATA section is not closed");
    case pugi::status_bad_doctype:
      return base::message("the document type declaration is not closed");
    case pugi::status_bad_start_element:
      return base::message("a start tag is malformed");
    case pugi::status_bad_attribute:
      return base::message("an attribute is malformed");
    case pugi::status_bad_end_element:
      return base::message("an end tag is malformed");
    default:
      return base::message("the text is not well-formed XML");
  }
}

// The parser works on a copy and ends it with a zero.
pugi::xml_parse_result load_copy(std::string_view text, pugi::xml_document& document) {
  const std::size_t size = text.size() + 1;
  void* const copy = pugi::get_memory_allocation_function()(size);
  if (copy == nullptr) throw std::bad_alloc();
  base::expect_filling(copy, size);
  *std::copy(text.begin(), text.end(), static_cast<char*>(copy)) = '\0';
  return document.load_buffer_inplace_own(copy, size, kParsing, pugi::encoding_utf8);
}

// What can be said better than the parser does, which stopped at an offset.
std::optional<XmlFault> find_better(pugi::xml_parse_status status, std::size_t stopped_at,
                                    std::string_view text) {
  switch (status) {
    case pugi::status_end_element_mismatch:
      if (auto unpaired = find_unpaired(text)) return unpaired;
      break;
    case pugi::status_unrecognized_tag:
    case pugi::status_bad_start_element:
    case pugi::status_bad_attribute:
    case pugi::status_bad_end_element:
      break;
    default:
      return std::nullopt;
  }
  std::optional<XmlFault> cut = find_cut_tag(text);
  return cut && cut->offset <= stopped_at ? std::move(cut) : std::nullopt;
}

base::Diagnostics told(XmlFault fault) {
  return {base::report(*fault.rule, base::SourceRange{fault.offset, fault.offset + 1},
                       std::move(fault.message), std::move(fault.hint))};
}

}  // namespace

base::Outcome<pugi::xml_document> parse_xml(std::string_view text) {
  // The parser harms nobody, whatever the text, so that a large one can be looked through beside
  // it.
  #ifdef __EMSCRIPTEN__
  const auto how = std::launch::deferred;
#else
  const auto how = text.size() < kWorthAThread ? std::launch::deferred : std::launch::async;
#endif
  std::future<std::optional<XmlFault>> scan = std::async(how, find_xml_fault, text);
  pugi::xml_document document;
  const pugi::xml_parse_result result = load_copy(text, document);
  if (auto fault = scan.get()) return {std::nullopt, told(*std::move(fault))};
  if (!result) {
    const auto offset = std::min(static_cast<std::size_t>(result.offset), text.size());
    if (auto fault = find_better(result.status, offset, text)) {
      return {std::nullopt, told(*std::move(fault))};
    }
    return {std::nullopt,
            {base::report(rule::xml_syntax, base::SourceRange{offset, offset},
                          sentence_for(result.status),
                          base::message("export the file again, or mend it in a text editor"))}};
  }
  return {std::move(document), {}};
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
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

base::SourceRange start_of(pugi::xml_node element) {
  const std::ptrdiff_t name_at = element.offset_debug();
  if (name_at <= 0) return {};
  const auto begin = static_cast<std::size_t>(name_at) - 1;
  return {begin, begin + 1 + std::string_view(element.name()).size()};
}

base::SourceRange range_of(pugi::xml_node element, std::string_view text) {
  const std::ptrdiff_t name_at = element.offset_debug();
  if (name_at <= 0) return {};
  const auto begin = static_cast<std::size_t>(name_at) - 1;
  if (const auto end = end_before_sibling(element, text)) return {begin, *end};
  pugi::xml_node last = element.last_child();
  while (last && is_text(last)) last = last.previous_sibling();
  const std::ptrdiff_t last_at = last ? last.offset_debug() : name_at;
  auto end = static_cast<std::size_t>(std::max(last_at, name_at));
  if (element.first_child() || *element.value() != '\0') end = end_tag(element.name(), end, text);
  end = text.find('>', std::min(end, text.size()));
  return {begin, end == std::string_view::npos ? text.size() : end + 1};
}

}  // namespace yubifu::musicxml
