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
constexpr std::size_t kUsualNesting = 10;

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
    : text_(text), at_(text.starts_with(base::kByteOrderMark) ? base::kByteOrderMark.size() : 0) {
  open_.reserve(kUsualNesting);
}

const Tag* XmlScanner::next() {
  if (inside_next_) ++depth_;
  inside_next_ = false;
  while (!fault_) {
    const std::size_t begin = std::min(text_.find('<', at_), text_.size());
    if (depth_ == 0 || begin > no_reference_before_) check_text(begin);
    if (fault_) break;
    if (begin == text_.size()) {
      at_ = begin;
      check_end();
      break;
    }
    const char next = begin + 1 < text_.size() ? text_[begin + 1] : '\0';
    if (next == '/') return read_end_tag(begin);
    if (next != '!' && next != '?') return read_start_tag(begin);
    pass_section(begin);
  }
  return nullptr;
}

const Tag* XmlScanner::fail(const base::Rule& rule, std::size_t offset, std::string message,
                            std::string hint) {
  if (!fault_) fault_ = XmlFault{&rule, offset, std::move(message), std::move(hint)};
  return nullptr;
}

// Where a text breaks off, nothing else is wrong with its last tag.
const Tag* XmlScanner::malformed(std::size_t tag, std::size_t offset, std::string message) {
  if (text_.find('>', tag) != kNowhere) {
    return fail(rule::xml_syntax, offset, std::move(message), export_again());
  }
  return fail(rule::xml_syntax, tag, base::message("the file ends inside this tag"), copy_again());
}

std::size_t XmlScanner::end_of_name(std::size_t at) const {
  while (at < text_.size() && kIsInName[static_cast<unsigned char>(text_[at])]) ++at;
  return at;
}

const Tag* XmlScanner::read_start_tag(std::size_t begin) {
  std::size_t at = end_of_name(begin + 1);
  const std::string_view name = piece(begin + 1, at);
  if (name.empty() || !starts_name(name.front())) {
    return malformed(begin, begin, base::message("a start tag is malformed"));
  }
  if (depth_ == 0 && seen_root_) {
    return fail(rule::xml_syntax, begin, base::message("a second root element begins here"),
                base::message("a file holds one score"));
  }
  seen_root_ = true;
  names_.clear();
  const auto ends_here = [&] {
    return at < text_.size() && (text_[at] == '>' || (text_[at] == '/' && at + 1 < text_.size() &&
                                                      text_[at + 1] == '>'));
  };
  while (!ends_here()) {
    const std::size_t gap = at;
    at = end_of_space(text_, at);
    if (ends_here()) break;
    if (at == gap || at == text_.size() || !starts_name(text_[at])) {
      return malformed(begin, at, base::message("a start tag is malformed"));
    }
    at = behind_attribute(begin, at);
    if (fault_) return nullptr;
  }
  const bool has_content = text_[at] == '>';
  if (has_content && depth_ >= kDeepestNesting) {
    return fail(rule::xml_limits, begin,
                base::message("elements nest more than {} deep", kDeepestNesting));
  }
  inside_next_ = has_content;
  at_ = at + (has_content ? 1 : 2);
  if (depth_ == open_.size()) open_.emplace_back();
  Tag& tag = open_[depth_];
  tag.kind = has_content ? TagKind::start : TagKind::empty;
  tag.name = name;
  tag.text = piece(begin, at_);
  tag.begin = begin;
  return &tag;
}

std::size_t XmlScanner::behind_attribute(std::size_t tag, std::size_t begin) {
  const std::size_t name_end = end_of_name(begin);
  note_attribute(begin, name_end);
  if (fault_) return kNowhere;
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

void XmlScanner::note_attribute(std::size_t begin, std::size_t end) {
  const std::string_view name = piece(begin, end);
  if (std::find(names_.begin(), names_.end(), name) != names_.end()) {
    fail(rule::xml_syntax, begin, base::message("the attribute '{}' is given twice", name),
         base::message("keep one of them"));
  } else if (names_.size() >= kMostAttributes) {
    fail(rule::xml_limits, begin,
         base::message("an element has more than {} attributes", kMostAttributes));
  }
  names_.push_back(name);
}

const Tag* XmlScanner::read_end_tag(std::size_t begin) {
  const std::string_view open = depth_ > 0 ? open_[depth_ - 1].name : std::string_view();
  const std::size_t usual_end = begin + 2 + open.size();
  if (depth_ > 0 && usual_end < text_.size() && text_[usual_end] == '>' &&
      piece(begin + 2, usual_end) == open) {
    return end_element(begin, usual_end + 1);
  }
  const std::size_t name_end = end_of_name(begin + 2);
  const std::string_view name = piece(begin + 2, name_end);
  const std::size_t close = end_of_space(text_, name_end);
  if (close == text_.size() || text_[close] != '>') {
    return malformed(begin, begin, base::message("an end tag is malformed"));
  }
  if (depth_ == 0) {
    return fail(rule::xml_syntax, begin, base::message("</{}> ends nothing", name), export_again());
  }
  if (name != open) {
    return fail(rule::xml_syntax, begin,
                base::message("</{}> stands here while <{}> is open", name, open), export_again());
  }
  return end_element(begin, close + 1);
}

const Tag* XmlScanner::end_element(std::size_t begin, std::size_t end) {
  --depth_;
  at_ = end;
  end_tag_ = {TagKind::end, open_[depth_].name, piece(begin, end), begin};
  return &end_tag_;
}

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
  const std::size_t seen = depth_ == 0 ? end_of_space(text_, at_) : end;
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
  if (depth_ > 0) {
    const Tag& open = open_[depth_ - 1];
    fail(rule::xml_syntax, open.begin,
         base::message("the file ends while <{}>, which begins here, is still open", open.name),
         copy_again());
  } else if (!seen_root_) {
    fail(rule::xml_syntax, text_.size(), base::message("the text holds no XML element"),
         export_again());
  }
}

namespace {

// Control characters that XML forbids, and what is not ASCII: below zero as a signed number.
constexpr bool is_odd(signed char c) {
  return (c < 0x20) & (c != '\t') & (c != '\n') & (c != '\r');
}

constexpr std::size_t kBlock = 32;

// Without a branch in the loop, so that compilers turn it into vector instructions.
bool is_plain_block(const char* block) {
  unsigned char found = 0;  // of bool compilers make no vectors
  for (std::size_t i = 0; i < kBlock; ++i) {
    found |= static_cast<unsigned char>(is_odd(static_cast<signed char>(block[i])));
  }
  return found == 0;
}

std::optional<XmlFault> find_bad_character(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(at + kBlock, text.size());
    if (end - at == kBlock && is_plain_block(text.data() + at)) at = end;
    while (at < end) {
      const auto byte = static_cast<unsigned char>(text[at]);
      const std::size_t size = byte < 0x80 ? 1 : base::first_code_point(text.substr(at)).size;
      if (byte < 0x80 && is_odd(static_cast<signed char>(byte))) {
        return XmlFault{&rule::xml_syntax, at,
                        base::message("the control character U+{:04X} is not allowed in XML", byte),
                        base::message("delete it")};
      }
      if (byte >= 0x80 && size == 1) {
        return XmlFault{&rule::unreadable_text, at,
                        base::message("byte {:02X} is not part of a UTF-8 character", byte),
                        base::message("save the file as UTF-8, or let its XML declaration name the "
                                      "encoding it really has")};
      }
      at += size;
    }
  }
  return std::nullopt;
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
