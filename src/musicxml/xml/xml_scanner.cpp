#include "musicxml/xml/xml_scanner.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <utility>

#include "base/message.h"
#include "base/utf8.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml {
namespace {

constexpr std::size_t kNowhere = std::string_view::npos;
constexpr std::size_t kMostAttributes = 200;

// The production Char of XML 1.0.
bool is_xml_character(std::uint32_t value) {
  return value == 0x9 || value == 0xA || value == 0xD || (value >= 0x20 && value <= 0xD7FF) ||
         (value >= 0xE000 && value <= 0xFFFD) || (value >= 0x10000 && value <= 0x10FFFF);
}

constexpr std::array<std::string_view, 5> kEntities{"amp", "lt", "gt", "quot", "apos"};

// What stands between '&' and ';'.
bool names_character(std::string_view name) {
  if (!name.starts_with('#')) {
    return std::find(kEntities.begin(), kEntities.end(), name) != kEntities.end();
  }
  name.remove_prefix(1);
  const bool hexadecimal = name.starts_with('x');
  if (hexadecimal) name.remove_prefix(1);
  std::uint32_t value = 0;
  const char* end = name.data() + name.size();
  const auto [stop, error] = std::from_chars(name.data(), end, value, hexadecimal ? 16 : 10);
  return error == std::errc{} && stop == end && is_xml_character(value);
}

// Names are taken as they are beyond ASCII, as the parser takes them.
constexpr bool starts_name(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == ':' ||
         static_cast<unsigned char>(c) >= 0x80;
}

constexpr auto kIsInName = [] {
  std::array<bool, 256> is_in_name{};
  for (std::size_t byte = 0; byte < is_in_name.size(); ++byte) {
    const char c = static_cast<char>(byte);
    is_in_name[byte] = starts_name(c) || (c >= '0' && c <= '9') || c == '-' || c == '.';
  }
  return is_in_name;
}();

// What holds no tags, but for the document type.
struct Section {
  std::string_view begin;
  std::string_view end;
  std::string_view without_end;
};
constexpr std::array<Section, 3> kSections{
    {{"<!--", "-->", base::catalogued("a comment is not closed")},
     {"<![CDATA[", "]]>", base::catalogued("a CDATA section is not closed")},
     {"<?", "?>", base::catalogued("a processing instruction is not closed")}}};

std::size_t behind(std::string_view end, std::string_view text, std::size_t from) {
  const std::size_t found = text.find(end, from);
  return found == kNowhere ? kNowhere : found + end.size();
}

std::string export_again() {
  return base::message("export the file again, or mend it in a text editor");
}

std::string copy_again() {
  return base::message("its end is missing: export or copy it again");
}

}  // namespace

XmlScanner::XmlScanner(std::string_view text)
    : text_(text), at_(text.starts_with(base::kByteOrderMark) ? base::kByteOrderMark.size() : 0) {}

const Tag* XmlScanner::next() {
  if (tag_.kind == TagKind::start) around_.push_back(tag_);
  tag_.kind = TagKind::empty;
  while (!fault_) {
    const std::size_t begin = std::min(text_.find('<', at_), text_.size());
    check_text(begin);
    if (fault_) break;
    if (begin == text_.size()) {
      at_ = begin;
      check_end();
      break;
    }
    const char next = begin + 1 < text_.size() ? text_[begin + 1] : '\0';
    if (next == '!' || next == '?') {
      pass_section(begin);
    } else if (next == '/' ? read_end_tag(begin) : read_start_tag(begin)) {
      return &tag_;
    }
  }
  return nullptr;
}

bool XmlScanner::give(TagKind kind, std::string_view name, std::size_t begin, std::size_t end) {
  tag_ = {kind, name, begin, end, text_.substr(begin, end - begin)};
  at_ = end;
  return true;
}

// False so that a failed step can end what it belongs to.
bool XmlScanner::fail(const base::Rule& rule, std::size_t offset, std::string message,
                      std::string hint) {
  if (!fault_) fault_ = XmlFault{&rule, offset, std::move(message), std::move(hint)};
  return false;
}

// Where a text breaks off, nothing else is wrong with its last tag.
bool XmlScanner::malformed(std::size_t tag, std::size_t offset, std::string message) {
  if (text_.find('>', tag) != kNowhere) {
    return fail(rule::xml_syntax, offset, std::move(message), export_again());
  }
  return fail(rule::xml_syntax, tag, base::message("the file ends inside this tag"), copy_again());
}

// --- Tags

std::size_t XmlScanner::end_of_name(std::size_t at) const {
  while (at < text_.size() && kIsInName[static_cast<unsigned char>(text_[at])]) ++at;
  return at;
}

bool XmlScanner::read_start_tag(std::size_t begin) {
  std::size_t at = end_of_name(begin + 1);
  const std::string_view name = text_.substr(begin + 1, at - begin - 1);
  if (name.empty() || !starts_name(name.front())) {
    return malformed(begin, begin, base::message("a start tag is malformed"));
  }
  if (around_.empty() && seen_root_) {
    return fail(rule::xml_syntax, begin, base::message("a second root element begins here"),
                base::message("a file holds one score"));
  }
  seen_root_ = true;
  names_.clear();
  while (true) {
    const std::size_t gap = at;
    at = end_of_space(text_, at);
    const char c = at < text_.size() ? text_[at] : '\0';
    if (c == '>' || (c == '/' && text_.substr(at).starts_with("/>"))) {
      break;
    }
    if (at == gap || !starts_name(c)) {
      return malformed(begin, at, base::message("a start tag is malformed"));
    }
    at = behind_attribute(begin, at);
    if (fault_) return false;
  }
  const bool is_empty = text_[at] == '/';
  if (!is_empty && around_.size() >= kDeepestNesting) {
    return fail(rule::xml_limits, begin,
                base::message("elements nest more than {} deep", kDeepestNesting));
  }
  return give(is_empty ? TagKind::empty : TagKind::start, name, begin, at + (is_empty ? 2 : 1));
}

std::size_t XmlScanner::behind_attribute(std::size_t tag, std::size_t begin) {
  const std::size_t name_end = end_of_name(begin);
  if (!note_attribute(begin, name_end)) return kNowhere;
  const std::size_t equals = end_of_space(text_, name_end);
  const bool has_value = equals < text_.size() && text_[equals] == '=';
  const std::size_t open = has_value ? end_of_space(text_, equals + 1) : equals;
  const bool is_quoted =
      has_value && open < text_.size() && (text_[open] == '"' || text_[open] == '\'');
  const std::size_t close = is_quoted ? text_.find(text_[open], open + 1) : kNowhere;
  if (close == kNowhere) {
    malformed(tag, open, base::message("an attribute is malformed"));
    return kNowhere;
  }
  check_references(open + 1, close);
  return close + 1;
}

bool XmlScanner::note_attribute(std::size_t begin, std::size_t end) {
  const std::string_view name = text_.substr(begin, end - begin);
  if (std::find(names_.begin(), names_.end(), name) != names_.end()) {
    return fail(rule::xml_syntax, begin, base::message("the attribute '{}' is given twice", name),
                base::message("keep one of them"));
  }
  if (names_.size() >= kMostAttributes) {
    return fail(rule::xml_limits, begin,
                base::message("an element has more than {} attributes", kMostAttributes));
  }
  names_.push_back(name);
  return true;
}

bool XmlScanner::read_end_tag(std::size_t begin) {
  const std::size_t name_end = end_of_name(begin + 2);
  const std::string_view name = text_.substr(begin + 2, name_end - begin - 2);
  const std::size_t close = end_of_space(text_, name_end);
  if (close == text_.size() || text_[close] != '>') {
    return malformed(begin, begin, base::message("an end tag is malformed"));
  }
  if (around_.empty()) {
    return fail(rule::xml_syntax, begin, base::message("</{}> ends nothing", name), export_again());
  }
  opening_ = around_.back();
  if (opening_.name != name) {
    return fail(rule::xml_syntax, begin,
                base::message("</{}> stands here while <{}> is open", name, opening_.name),
                export_again());
  }
  around_.pop_back();
  return give(TagKind::end, name, begin, close + 1);
}

// --- What stands between the tags

void XmlScanner::pass_section(std::size_t begin) {
  const std::string_view rest = text_.substr(begin);
  for (const Section& section : kSections) {
    if (!rest.starts_with(section.begin)) continue;
    at_ = behind(section.end, text_, begin + section.begin.size());
    if (at_ == kNowhere) {
      fail(rule::xml_syntax, begin, base::translated(section.without_end), export_again());
    }
    return;
  }
  if (rest.starts_with("<!DOCTYPE")) {
    pass_document_type(begin);
  } else {
    malformed(begin, begin, base::message("the text is not well-formed XML"));
  }
}

// Entities declared inside are refused.
void XmlScanner::pass_document_type(std::size_t begin) {
  int brackets = 0;
  std::size_t at = text_.find_first_of("\"'<[]>", begin + 1);
  while (at < text_.size()) {
    const std::string_view rest = text_.substr(at);
    if (rest.starts_with("<!ENTITY")) {
      fail(rule::xml_limits, at, base::message("entity declarations are not read"),
           base::message("save the file without them"));
      return;
    }
    if (rest.front() == '"' || rest.front() == '\'') {
      at = behind(rest.substr(0, 1), text_, at + 1);
    } else if (rest.starts_with("<!--")) {
      at = behind("-->", text_, at + 4);
    } else if (rest.starts_with("<?")) {
      at = behind("?>", text_, at + 2);
    } else {
      if (rest.front() == '[') ++brackets;
      if (rest.front() == ']') --brackets;
      ++at;
      if (rest.front() == '>' && brackets <= 0) {
        at_ = at;
        return;
      }
    }
    at = text_.find_first_of("\"'<[]>", at);
  }
  fail(rule::xml_syntax, begin, base::message("the document type declaration is not closed"),
       export_again());
}

void XmlScanner::check_text(std::size_t end) {
  const std::size_t seen = around_.empty() ? end_of_space(text_, at_) : end;
  if (seen < end) {
    fail(rule::xml_syntax, seen, base::message("text stands outside the root element"));
  }
  check_references(at_, end);
}

// Looks a little ahead, so that most calls find their answer there.
void XmlScanner::check_references(std::size_t begin, std::size_t end) {
  constexpr std::size_t kAhead = 1024;
  if (end <= no_reference_before_) return;
  const std::string_view near = text_.substr(0, end + kAhead);
  for (std::size_t at = std::max(begin, no_reference_before_);; ++at) {
    at = no_reference_before_ = std::min(near.find('&', at), near.size());
    if (at >= end) return;
    const std::size_t stop = std::min(text_.find_first_of(";<& \n", at + 1), text_.size());
    const std::string_view name = text_.substr(at + 1, stop - at - 1);
    if (stop == text_.size() || text_[stop] != ';') {
      fail(rule::xml_syntax, at, base::message("this '&' begins no entity"),
           base::message("write '&amp;'"));
    } else if (!names_character(name)) {
      fail(rule::xml_syntax, at, base::message("'&{};' names no character of XML", name),
           base::message("write the character itself"));
    }
  }
}

void XmlScanner::check_end() {
  if (!around_.empty()) {
    fail(rule::xml_syntax, around_.back().begin,
         base::message("the file ends while <{}>, which begins here, is still open",
                       around_.back().name),
         copy_again());
  } else if (!seen_root_) {
    fail(rule::xml_syntax, text_.size(), base::message("the text holds no XML element"),
         export_again());
  }
}

// --- The text as a whole

namespace {

// Without a branch, for the loop over blocks.
constexpr bool is_forbidden_control(char c) {
  return (static_cast<unsigned char>(c) < 0x20) & (c != '\t') & (c != '\n') & (c != '\r');
}

// Whole blocks first, without a branch inside, so that compilers turn them into vector
// instructions.
std::size_t first_forbidden_control(std::string_view text) {
  constexpr std::size_t kBlock = 32;
  std::size_t at = 0;
  for (; at + kBlock <= text.size(); at += kBlock) {
    unsigned char found = 0;  // of bool compilers make no vectors
    for (std::size_t i = 0; i < kBlock; ++i) {
      found |= static_cast<unsigned char>(is_forbidden_control(text[at + i]));
    }
    if (found != 0) break;
  }
  const auto rest = text.substr(at);
  return at + static_cast<std::size_t>(
                  std::find_if(rest.begin(), rest.end(), is_forbidden_control) - rest.begin());
}

std::optional<XmlFault> find_bad_character(std::string_view text) {
  const std::size_t control = first_forbidden_control(text);
  const std::size_t invalid = base::first_invalid_utf8(text).value_or(text.size());
  const std::size_t at = std::min(control, invalid);
  if (at == text.size()) return std::nullopt;
  const auto byte = static_cast<unsigned char>(text[at]);
  if (at == control) {
    return XmlFault{&rule::xml_syntax, at,
                    base::message("the control character U+{:04X} is not allowed in XML", byte),
                    base::message("delete it")};
  }
  return XmlFault{&rule::unreadable_text, at,
                  base::message("byte {:02X} is not part of a UTF-8 character", byte),
                  base::message("save the file as UTF-8")};
}

}  // namespace

std::optional<XmlFault> find_xml_fault(std::string_view text) {
  if (auto fault = find_bad_character(text)) return fault;
  XmlScanner scanner(text);
  while (scanner.next()) continue;
  return scanner.fault();
}

std::string_view attribute_in(std::string_view tag, std::string_view name) {
  std::size_t at = 0;
  while (at < tag.size() && !is_space(tag[at])) ++at;
  while (true) {
    at = end_of_space(tag, at);
    const std::size_t equals = tag.find('=', at);
    if (at >= tag.size() || equals == kNowhere) return {};
    const std::size_t open = tag.find_first_of("\"'", equals);
    if (open == kNowhere) return {};
    const std::size_t close = tag.find(tag[open], open + 1);
    if (close == kNowhere) return {};
    if (trimmed(tag.substr(at, equals - at)) == name) {
      return tag.substr(open + 1, close - open - 1);
    }
    at = close + 1;
  }
}

std::size_t start_of_space(std::string_view text, std::size_t at) {
  while (at > 0 && is_space(text[at - 1])) --at;
  return at;
}

std::size_t end_of_space(std::string_view text, std::size_t at) {
  while (at < text.size() && is_space(text[at])) ++at;
  return at;
}

std::string_view trimmed(std::string_view text) {
  text.remove_suffix(text.size() - start_of_space(text, text.size()));
  text.remove_prefix(end_of_space(text, 0));
  return text;
}

}  // namespace yubifu::musicxml
