#include "musicxml/read/header_reader.h"

#include <algorithm>
#include <string>
#include <utility>

#include "model/header.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/xml_document.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

// Fields of a header are one line.
std::string one_line(const std::string& text) {
  std::string line;
  for (const char c : text) {
    const bool again = is_space(c) && (line.empty() || line.back() == ' ');
    if (!again) line += is_space(c) ? ' ' : c;
  }
  return line;
}

void add_to(std::string& field, const std::string& text, std::string_view between = ", ") {
  if (!text.empty() && !field.empty()) field += between;
  field += text;
}

class HeaderReader {
 public:
  HeaderReader(pugi::xml_node root, std::string_view text) : root_(root), text_(text) {}

  HeaderReading run() {
    titles();
    const pugi::xml_node identification = root_.child("identification");
    for (const pugi::xml_node child : identification.children()) identify(child);
    for (const pugi::xml_node field :
         identification.child("miscellaneous").children("miscellaneous-field")) {
      take_field(field);
    }
    for (const pugi::xml_node credit : root_.children("credit")) take_credit(credit);
    return std::move(out_);
  }

 private:
  void remark(pugi::xml_node node, const RemarkKind& kind, std::string detail) {
    out_.remarks.add(kind, base::kNoBar, range_of(node, text_), std::move(detail));
  }

  void titles() {
    const pugi::xml_node work = root_.child("work");
    model::Header& header = out_.header;
    header.title = one_line(text_of(work.child("work-title")));
    std::string second = one_line(text_of(root_.child("movement-title")));
    if (header.title.empty()) {
      header.title = std::move(second);
    } else if (second != header.title) {
      header.subtitle = std::move(second);
    }
    for (const pugi::xml_node number :
         {work.child("work-number"), root_.child("movement-number")}) {
      if (const std::string text = one_line(text_of(number)); !text.empty()) {
        remark(number,
               kind(rule::left_out, "number of the work left out", "numbers of the work left out",
                    Details::together),
               text);
      }
    }
  }

  void identify(pugi::xml_node node) {
    const std::string_view name = node.name();
    const std::string_view type = attribute(node, "type");
    const std::string text = one_line(text_of(node));
    if (name == "rights") {
      add_to(out_.header.rights, text);
    } else if (name == "source") {
      add_to(out_.header.source, text);
    } else if (name != "creator") {
      return;
    } else if (type == "composer" || type.empty()) {
      add_to(out_.header.composer, text);
    } else if (type == "lyricist" || type == "poet") {
      add_to(out_.header.lyricist, text);
    } else if (!text.empty()) {
      remark(node, kind(rule::left_out, "creator left out", "creators left out", Details::together),
             std::string(type) + " " + text);
    }
  }

  void take_field(pugi::xml_node node) {
    const std::string_view name = attribute(node, "name");
    const std::string value = text_of(node);
    if (name.starts_with(field::kUnknownPrefix)) {
      out_.header.unknown.push_back(
          {std::string(name.substr(field::kUnknownPrefix.size())), value});
    } else if (!name.starts_with(field::kPrefix)) {
      if (!value.empty())
        remark(node,
               kind(rule::detail_left_out, "miscellaneous field left out",
                    "miscellaneous fields left out", Details::together),
               std::string(name));
    } else if (!take_own_field(name, value)) {
      remark(node, kOwnField, std::string(name) + " " + value);
    }
  }

  // False for a field that cannot be read.
  bool take_own_field(std::string_view name, const std::string& value) {
    if (name == field::kVersion) return out_.is_ours = value == kOwnVersion;
    if (name == field::kAnnotated)
      return out_.is_annotated = kFieldHomes.value_of(value).has_value();
    if (name == field::kFingering) return set(out_.annotation, annotation_named(value));
    if (name == field::kOctave) return set(out_.octaves, parse_part_octaves(value));
    const auto key = model::header_key(name.substr(field::kPrefix.size()), field::kKept);
    return key && model::set_field(out_.header, *key, value);
  }

  template <typename Value>
  static bool set(std::optional<Value>& place, std::optional<Value> value) {
    if (!value) return false;
    place = std::move(value);
    return true;
  }

  // Text on the page usually repeats the header; what says more is told.
  void take_credit(pugi::xml_node credit) {
    std::string text;
    for (const pugi::xml_node words : credit.children("credit-words")) {
      add_to(text, one_line(text_of(words)), " ");
    }
    model::Header& header = out_.header;
    const std::string_view type = child_word(credit, "credit-type");
    const auto known = {header.title,    header.subtitle, header.composer,
                        header.lyricist, header.rights,   header.source};
    if (text.empty() || std::find(known.begin(), known.end(), text) != known.end()) return;
    if (type == "title" && header.title.empty()) {
      header.title = text;
    } else if (type == "subtitle" && header.subtitle.empty() && !header.title.empty()) {
      header.subtitle = text;
    } else {
      remark(credit,
             kind(rule::detail_left_out, "text on the page left out", "texts on the page left out",
                  Details::together),
             text);
    }
  }

  static constexpr std::string_view kOwnVersion = "1";

  pugi::xml_node root_;
  std::string_view text_;
  HeaderReading out_;
};

}  // namespace

HeaderReading read_header(pugi::xml_node root, std::string_view text) {
  return HeaderReader(root, text).run();
}

}  // namespace yubifu::musicxml
