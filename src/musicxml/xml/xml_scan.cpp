#include "musicxml/xml/xml_scan.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>
#include <vector>

#include "base/message.h"
#include "base/utf8.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml {
namespace {

constexpr std::size_t kNowhere = std::string_view::npos;

bool is_blank(char c) {
  return c == ' ' || c == '\n' || c == '\t' || c == '\r';
}

bool is_forbidden_control(char c) {
  return static_cast<unsigned char>(c) < 0x20 && !is_blank(c);
}

// The loop has no branch, so that compilers turn it into vector instructions.
constexpr std::size_t kBlock = 64;
bool has_forbidden_control(const char* block) {
  unsigned char found = 0;
  for (std::size_t i = 0; i < kBlock; ++i) {
    const auto c = static_cast<unsigned char>(block[i]);
    found |= static_cast<unsigned char>(c < 0x20 && c != '\n' && c != '\t' && c != '\r');
  }
  return found != 0;
}

std::size_t find_forbidden_control(std::string_view text) {
  std::size_t at = 0;
  while (at + kBlock <= text.size() && !has_forbidden_control(text.data() + at)) at += kBlock;
  while (at < text.size() && !is_forbidden_control(text[at])) ++at;
  return at;
}

std::optional<XmlFault> find_bad_character(std::string_view text) {
  const std::size_t control = find_forbidden_control(text);
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

// The production Char of XML 1.0.
bool is_xml_character(std::uint32_t value) {
  return value == 0x9 || value == 0xA || value == 0xD || (value >= 0x20 && value <= 0xD7FF) ||
         (value >= 0xE000 && value <= 0xFFFD) || (value >= 0x10000 && value <= 0x10FFFF);
}

constexpr std::array<std::string_view, 5> kEntities{"amp", "lt", "gt", "quot", "apos"};

bool is_character_reference(std::string_view name) {
  name.remove_prefix(1);
  const bool hexadecimal = name.starts_with('x');
  if (hexadecimal) name.remove_prefix(1);
  std::uint32_t value = 0;
  const char* end = name.data() + name.size();
  const auto [stop, error] = std::from_chars(name.data(), end, value, hexadecimal ? 16 : 10);
  return error == std::errc{} && stop == end && is_xml_character(value);
}

class Scanner {
 public:
  explicit Scanner(std::string_view text)
      : text_(text), ampersand_(std::min(text.find('&'), text.size())) {}

  std::optional<XmlFault> run() {
    std::size_t at = text_.starts_with(base::kByteOrderMark) ? base::kByteOrderMark.size() : 0;
    while (!fault_ && at < text_.size()) {
      const std::size_t tag = std::min(text_.find('<', at), text_.size());
      if (depth_ <= 0) check_outside(at, tag);
      if (ampersand_ < tag) check_references(at, tag);
      if (tag == text_.size()) break;
      at = after_markup(tag);
    }
    return std::move(fault_);
  }

 private:
  void fail(const base::Rule& rule, std::size_t offset, std::string message,
            std::string hint = {}) {
    if (!fault_) fault_ = XmlFault{&rule, offset, std::move(message), std::move(hint)};
  }

  // An end that is missing is left to the parser, which says what is not closed.
  std::size_t after(std::string_view end, std::size_t from) const {
    const std::size_t found = text_.find(end, from);
    return found == kNowhere ? text_.size() : found + end.size();
  }

  void check_outside(std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      if (is_blank(text_[i])) continue;
      fail(rule::xml_syntax, i, base::message("text stands outside the root element"));
      return;
    }
  }

  // Most texts have few: the next one is known before it is reached.
  void check_references(std::size_t begin, std::size_t end) {
    for (; ampersand_ < end; ampersand_ = std::min(text_.find('&', ampersand_ + 1), text_.size())) {
      if (ampersand_ >= begin) check_reference(ampersand_);
    }
  }

  void check_reference(std::size_t at) {
    const std::size_t end = text_.find_first_of(";<& \n", at + 1);
    if (end == kNowhere || text_[end] != ';') {
      fail(rule::xml_syntax, at, base::message("this '&' begins no entity"),
           base::message("write '&amp;'"));
      return;
    }
    const std::string_view name = text_.substr(at + 1, end - at - 1);
    const bool known = name.starts_with('#')
                           ? is_character_reference(name)
                           : std::find(kEntities.begin(), kEntities.end(), name) != kEntities.end();
    if (!known) {
      fail(rule::xml_syntax, at, base::message("'&{};' names no character of XML", name),
           base::message("write the character itself"));
    }
  }

  std::size_t after_markup(std::size_t at) {
    if (at + 1 >= text_.size()) return text_.size();
    switch (text_[at + 1]) {
      case '/':
        // Inside the root its end is not looked for: the next tag is.
        return --depth_ > 0 ? at + 2 : after(">", at);
      case '?':
        return after("?>", at);
      case '!':
        if (text_.substr(at).starts_with("<!--")) return after("-->", at + 4);
        if (text_.substr(at).starts_with("<![CDATA[")) return after("]]>", at);
        return after_doctype(at);
      default:
        return after_start_tag(at);
    }
  }

  // The declaration is never loaded; entities declared inside are refused.
  std::size_t after_doctype(std::size_t at) {
    int brackets = 0;
    for (std::size_t i = at; i < text_.size(); ++i) {
      const char c = text_[i];
      if (c == '"' || c == '\'') {
        i = text_.find(c, i + 1);
        if (i == kNowhere) return text_.size();
      } else if (text_.substr(i).starts_with("<!--")) {
        i = after("-->", i + 4) - 1;
      } else if (text_.substr(i).starts_with("<?")) {
        i = after("?>", i) - 1;
      } else if (text_.substr(i).starts_with("<!ENTITY")) {
        fail(rule::xml_limits, i, base::message("entity declarations are not read"),
             base::message("save the file without them"));
        return text_.size();
      } else if (c == '[') {
        ++brackets;
      } else if (c == ']') {
        --brackets;
      } else if (c == '>' && brackets <= 0) {
        return i + 1;
      }
    }
    return text_.size();
  }

  std::size_t after_start_tag(std::size_t at) {
    if (depth_ == 0 && seen_root_) {
      fail(rule::xml_syntax, at, base::message("a second root element begins here"),
           base::message("a file holds one score"));
      return text_.size();
    }
    seen_root_ = true;
    std::size_t i = end_of_name(at);
    if (i < text_.size() && text_[i] == '=') i = end_of_attributes(at);
    if (i >= text_.size()) return text_.size();
    if (text_[i - 1] != '/' && ++depth_ > kDeepestNesting) {
      fail(rule::xml_limits, at, base::message("elements nest more than {} deep", kDeepestNesting));
    }
    return i + 1;
  }

  // The offset of the first '>' or '=' of a tag.
  std::size_t end_of_name(std::size_t tag) const {
    const char* const end = text_.data() + text_.size();
    const char* at = text_.data() + tag + 1;
    while (at < end && *at != '>' && *at != '=') ++at;
    return static_cast<std::size_t>(at - text_.data());
  }

  // The offset of the '>' that ends the tag.
  std::size_t end_of_attributes(std::size_t tag) {
    names_.clear();
    std::size_t i = tag + 1;
    while (i < text_.size() && !is_blank(text_[i]) && text_[i] != '>') ++i;
    while (i < text_.size() && text_[i] != '>') {
      while (i < text_.size() && (is_blank(text_[i]) || text_[i] == '/')) ++i;
      const std::size_t begin = i;
      while (i < text_.size() && !is_blank(text_[i]) && text_[i] != '=' && text_[i] != '>') ++i;
      if (i > begin) note_attribute(begin, i);
      while (i < text_.size() && (is_blank(text_[i]) || text_[i] == '=')) ++i;
      if (i < text_.size() && (text_[i] == '"' || text_[i] == '\'')) {
        const std::size_t close = text_.find(text_[i], i + 1);
        if (close == kNowhere) return text_.size();
        for (std::size_t k = i + 1; k < close; ++k) {
          if (text_[k] == '&') check_reference(k);
        }
        i = close + 1;
      }
    }
    return i;
  }

  void note_attribute(std::size_t begin, std::size_t end) {
    const std::string_view name = text_.substr(begin, end - begin);
    if (std::find(names_.begin(), names_.end(), name) != names_.end()) {
      fail(rule::xml_syntax, begin, base::message("the attribute '{}' is given twice", name),
           base::message("keep one of them"));
    }
    if (names_.size() >= kMostAttributes) {
      fail(rule::xml_limits, begin,
           base::message("an element has more than {} attributes", kMostAttributes));
      return;
    }
    names_.push_back(name);
  }

  static constexpr std::size_t kMostAttributes = 200;

  std::string_view text_;
  int depth_ = 0;
  bool seen_root_ = false;
  std::size_t ampersand_;                // the first one not yet checked
  std::vector<std::string_view> names_;  // of the attributes of one element
  std::optional<XmlFault> fault_;
};

}  // namespace

std::optional<XmlFault> find_xml_fault(std::string_view text) {
  if (auto fault = find_bad_character(text)) return fault;
  return Scanner(text).run();
}

namespace {

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
