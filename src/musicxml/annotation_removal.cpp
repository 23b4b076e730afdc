#include "musicxml/annotation_removal.h"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "musicxml/annotation_marks.h"
#include "musicxml/splice.h"
#include "musicxml/vocabulary.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml_tags.h"

namespace yubifu::musicxml {
namespace {

using base::SourceRange;

constexpr std::string_view kCommentStart = "<!--";
constexpr std::string_view kCommentEnd = "-->";

// What may stand in an element of the annotation.
constexpr std::array<std::string_view, 2> kInLyric{"syllabic", "text"};
constexpr std::array<std::string_view, 4> kInNotations{"technical", "fingering", "hole",
                                                       "hole-closed"};
constexpr std::array<std::string_view, 3> kInDirection{"direction-type", "words", "staff"};

// The fields that follow the first one of the annotation.
constexpr std::array<std::string_view, 4> kOtherFields{field::kFingering, field::kFlute,
                                                       field::kTuning, field::kOctave};

template <std::size_t N>
bool contains(const std::array<std::string_view, N>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

class Remover {
 public:
  explicit Remover(std::string_view text) : text_(text) {}

  std::optional<std::string> run() {
    TagScanner scanner(text_);
    while (const auto tag = scanner.next()) take(*tag);
    if (!home_) return std::nullopt;
    return without(text_, std::move(cuts_));
  }

 private:
  struct Element {
    Tag tag;
    bool is_ours = false;       // an element of the annotation, as far as it was read
    bool has_others = false;    // something else than fields of ours stands inside
    bool holds_fields = false;  // fields of ours stand inside
    std::size_t cuts = 0;       // made before it
  };

  void take(const Tag& tag) {
    if (tag.kind == TagKind::end) {
      if (!open_.empty()) close(tag);
      return;
    }
    note_content(tag);
    if (tag.kind == TagKind::start) {
      open_.push_back({tag, begins_ours(tag), false, false, cuts_.size()});
    } else {
      tell_around(false);
    }
  }

  std::string_view value(const Tag& tag, std::string_view attribute) const {
    return attribute_in(text_.substr(tag.begin, tag.end - tag.begin), attribute);
  }

  bool begins_ours(const Tag& tag) const {
    if (tag.name == "lyric") return value(tag, "name") == kFingeringLyric;
    if (tag.name == "notations") return value(tag, kNotationsMark.name) == kNotationsMark.value;
    if (tag.name != "direction") return false;
    return std::all_of(
        kDirectionMarks.begin(), kDirectionMarks.end(),
        [&](const MarkAttribute& mark) { return value(tag, mark.name) == mark.value; });
  }

  // An element of the annotation has nothing in it but what we put there.
  void note_content(const Tag& tag) {
    for (Element& around : open_) {
      if (!around.is_ours) continue;
      const std::string_view name = around.tag.name;
      around.is_ours = name == "lyric"       ? contains(kInLyric, tag.name)
                       : name == "notations" ? contains(kInNotations, tag.name)
                                             : contains(kInDirection, tag.name);
    }
  }

  void close(const Tag& end) {
    const Element element = open_.back();
    open_.pop_back();
    const std::string_view name = element.tag.name;
    if (element.is_ours) {
      cut(element.tag.begin, end.end);
    } else if (name == "miscellaneous-field") {
      close_field(element, end);
    } else if (element.holds_fields && !element.has_others && is_added(name)) {
      cuts_.resize(element.cuts);
      cut(element.tag.begin, end.end);
      if (gives_back(name)) bring_back(end.end);
      tell_around(true);
    } else {
      tell_around(false);
    }
  }

  void tell_around(bool is_ours) {
    if (open_.empty()) return;
    (is_ours ? open_.back().holds_fields : open_.back().has_others) = true;
  }

  void close_field(const Element& element, const Tag& end) {
    const std::string_view name = value(element.tag, "name");
    const std::string_view content = text_.substr(element.tag.end, end.begin - element.tag.end);
    if (name == field::kAnnotated && !home_) home_ = field_home_named(content);
    const bool is_ours = home_ && (name == field::kAnnotated || contains(kOtherFields, name));
    if (is_ours) cut(element.tag.begin, end.end);
    tell_around(is_ours);
  }

  // Whether the fields brought this element with them.
  bool is_added(std::string_view name) const {
    if (name == "miscellaneous") return home_ != FieldHome::fields;
    return name == "identification" &&
           (home_ == FieldHome::identification || home_ == FieldHome::instead_of_identification);
  }

  // Whether it stands in for an empty one.
  bool gives_back(std::string_view name) const {
    return home_ == (name == "miscellaneous" ? FieldHome::instead_of_miscellaneous
                                             : FieldHome::instead_of_identification);
  }

  void bring_back(std::size_t at) {
    if (!text_.substr(at).starts_with(kCommentStart)) return;
    const std::size_t end = text_.find(kCommentEnd, at);
    if (end == std::string_view::npos) return;
    cuts_.push_back({at, at + kCommentStart.size()});
    cuts_.push_back({end, end + kCommentEnd.size()});
  }

  // All white space before it came with it.
  void cut(std::size_t begin, std::size_t end) {
    cuts_.push_back({start_of_space(text_, begin), end});
  }

  std::string_view text_;
  std::vector<Element> open_;
  std::vector<SourceRange> cuts_;
  std::optional<FieldHome> home_;
};

}  // namespace

std::optional<std::string> without_annotation(std::string_view text) {
  if (text.find(field::kAnnotated) == std::string_view::npos) return std::nullopt;
  return Remover(text).run();
}

}  // namespace yubifu::musicxml
