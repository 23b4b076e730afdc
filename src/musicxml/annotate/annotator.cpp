#include "musicxml/annotate/annotator.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/encoding.h"
#include "base/message.h"
#include "base/utf8.h"
#include "base/xml_writer.h"
#include "model/strokes.h"
#include "musicxml/annotate/insertions.h"
#include "musicxml/read/header_reader.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/write/note_writer.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/xml_document.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

constexpr std::string_view kCommentStart = "<!--";
constexpr std::string_view kCommentEnd = "-->";

// What may stand in an element of the annotation.
bool may_hold(std::string_view element, std::string_view inside) {
  if (element == "lyric") return is_any_of(inside, {"syllabic", "text"});
  if (element == "direction") return is_any_of(inside, {"direction-type", "words", "staff"});
  return is_any_of(inside, {"technical", "fingering", "hole", "hole-closed"});
}

class Remover {
 public:
  explicit Remover(std::string_view text) : text_(text) {}

  std::optional<std::string> run() {
    XmlScanner scanner(text_);
    while (const Tag* tag = scanner.next()) take(*tag);
    if (!home_) return std::nullopt;
    return changed(text_, std::move(cuts_));
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
    // An element of the annotation has nothing in it but what we put there.
    for (Element& around : open_) {
      around.is_ours = around.is_ours && may_hold(around.tag.name, tag.name);
    }
    if (tag.kind == TagKind::start) {
      open_.push_back({tag, begins_ours(tag), false, false, cuts_.size()});
    } else {
      tell_around(false);
    }
  }

  bool begins_ours(const Tag& tag) const {
    if (tag.name == "lyric") return attribute_in(tag.text, "name") == kFingeringLyric;
    const auto has = [&](const MarkAttribute& mark) {
      return attribute_in(tag.text, mark.name) == mark.value;
    };
    if (tag.name == "notations") return has(kNotationsMark);
    return tag.name == "direction" &&
           std::all_of(kDirectionMarks.begin(), kDirectionMarks.end(), has);
  }

  void close(const Tag& end) {
    const Element element = open_.back();
    open_.pop_back();
    const std::string_view name = element.tag.name;
    if (element.is_ours) {
      cut(element.tag.begin, end.end());
    } else if (name == "miscellaneous-field") {
      close_field(element, end);
    } else if (element.holds_fields && !element.has_others && is_added(name)) {
      cuts_.resize(element.cuts);
      cut(element.tag.begin, end.end());
      if (gives_back(name)) bring_back(end.end());
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
    const std::string_view name = attribute_in(element.tag.text, "name");
    const std::string_view content = text_.substr(element.tag.end(), end.begin - element.tag.end());
    if (name == field::kAnnotated && !home_) home_ = field_home_named(content);
    const bool is_ours = home_ && is_any_of(name, {field::kAnnotated, field::kFingering,
                                                   field::kFlute, field::kTuning, field::kOctave});
    if (is_ours) cut(element.tag.begin, end.end());
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
    cuts_.push_back({at, at + kCommentStart.size(), {}});
    cuts_.push_back({end, end + kCommentEnd.size(), {}});
  }

  // All white space before it came with it.
  void cut(std::size_t begin, std::size_t end) {
    cuts_.push_back({start_of_space(text_, begin), end, {}});
  }

  std::string_view text_;
  std::vector<Element> open_;
  std::vector<Change> cuts_;
  std::optional<FieldHome> home_;
};

// A text as it was before it was annotated; nothing for one that is not. The text must be
// well-formed. What was spliced into it goes byte for byte; in a file that another program has
// saved since, what is still marked as ours goes.
std::optional<std::string> without_annotation(std::string_view text) {
  if (text.find(field::kAnnotated) == std::string_view::npos) return std::nullopt;
  return Remover(text).run();
}

using base::message;

base::Diagnostic already_fingered() {
  return base::report(
      rule::already_fingered, std::nullopt,
      message("the file has a fingering already that annotate has not written"),
      message("finger an export of yubifu anew with convert, or export it with --fingering none"));
}

std::string attribute_text(const MarkAttribute& attribute) {
  return fmt::format(" {}=\"{}\"", attribute.name, attribute.value);
}

// The elements that say the fingering of a note, each at its place.
std::vector<std::pair<Place, std::string>> note_elements(const model::Tone& tone,
                                                         const std::string& text,
                                                         const AnnotateOptions& options,
                                                         const NotePlaces& places, int verse) {
  std::vector<std::pair<Place, std::string>> elements;
  const std::string escaped = base::xml_escaped(text);
  if (options.kind == Annotation::words) {
    std::string marks;
    for (const MarkAttribute& mark : kDirectionMarks) marks += attribute_text(mark);
    elements.emplace_back(
        places.direction,
        fmt::format("<direction{}><direction-type><words>{}</words></direction-type>{}</direction>",
                    marks, escaped,
                    places.staff.empty() ? "" : fmt::format("<staff>{}</staff>", places.staff)));
  }
  std::string technical;
  if (options.kind == Annotation::technical) {
    technical = fmt::format("<fingering>{}</fingering>", escaped);
  }
  if (options.holes && tone.holes) {
    for (const model::Hole hole : tone.holes->holes) {
      technical +=
          fmt::format("<hole><hole-closed>{}</hole-closed></hole>", hole_closed_name(hole));
    }
  }
  if (!technical.empty()) {
    elements.emplace_back(places.notations,
                          fmt::format("<notations{}><technical>{}</technical></notations>",
                                      attribute_text(kNotationsMark), technical));
  }
  const bool above = options.kind == Annotation::lyric_above;
  if (above || options.kind == Annotation::lyric) {
    elements.emplace_back(places.lyric,
                          fmt::format("<lyric number=\"{}\" name=\"{}\" placement=\"{}\">"
                                      "<syllabic>single</syllabic><text>{}</text></lyric>",
                                      verse, kFingeringLyric, above ? "above" : "below", escaped));
  }
  return elements;
}

// The fields that say how the file is annotated, with the elements around them that the place
// lacks.
std::string annotation_fields(const model::Score& score, const AnnotateOptions& options,
                              const AnnotationPlaces& places) {
  const FieldHome home = places.fields.home;
  const bool among_others = home == FieldHome::fields;
  std::string out;
  const auto add = [&](std::string_view name, std::string_view value) {
    if (among_others && !out.empty()) out += places.fields.place.space;
    out += fmt::format("<miscellaneous-field name=\"{}\">{}</miscellaneous-field>", name,
                       base::xml_escaped(value));
  };
  add(field::kAnnotated, field_home_name(home));
  add(field::kFingering, annotation_name(options.kind));
  add(field::kFlute, model::to_text(score.header.flute.value_or(score.flutes.front().name)));
  if (score.header.tuning_hz) add(field::kTuning, fmt::format("{}", *score.header.tuning_hz));
  if (options.octaves != 0) {
    add(field::kOctave, to_text(PartOctaves{places.part, options.octaves}));
  }
  if (among_others) return out;
  out = fmt::format("<miscellaneous>{}</miscellaneous>", out);
  const bool has_identification =
      home == FieldHome::miscellaneous || home == FieldHome::instead_of_miscellaneous;
  return has_identification ? out : fmt::format("<identification>{}</identification>", out);
}

// What goes where.
std::vector<Change> insertions_of(const model::Score& score, const AnnotateOptions& options,
                                  const AnnotationPlaces& places) {
  std::vector<Change> insertions;
  const auto add = [&](const Place& place, const std::string& element) {
    insertions.push_back({place.offset, place.offset, std::string(place.space) + element});
  };
  add(places.fields.place, annotation_fields(score, options, places));
  if (const auto& replaced = places.fields.replaced) {
    insertions.back().text += kCommentStart;
    insertions.push_back({replaced->end, replaced->end, std::string(kCommentEnd)});
  }
  const std::vector<std::string> strokes =
      options.strokes ? model::stroke_texts(score) : std::vector<std::string>();
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const model::Tone& tone = score.notes[i].tone;
    std::string text = annotation_text(tone);
    if (text.empty()) continue;
    if (options.strokes) text += strokes[i];
    for (const auto& [place, element] :
         note_elements(tone, text, options, places.notes[i], places.free_verse)) {
      add(place, element);
    }
  }
  return insertions;
}

// With character references for what an encoding lacks. `known` keeps what was found.
std::string spelled(std::string_view text, const std::string& encoding,
                    std::map<char32_t, std::string>& known) {
  if (encoding.starts_with("UTF")) return std::string(text);
  std::string out;
  while (!text.empty()) {
    const auto [value, size] = base::first_code_point(text);
    const auto [spelling, fresh] = known.try_emplace(value, text.substr(0, size));
    if (fresh && base::from_utf8(spelling->second, encoding).stopped_at) {
      spelling->second = fmt::format("&#x{:X};", static_cast<std::uint32_t>(value));
    }
    out += spelling->second;
    text.remove_prefix(size);
  }
  return out;
}

base::Outcome<std::string> packed(const BareFile& file, std::string_view text) {
  auto bytes = encode_document(
      {std::string(text), file.document.encoding, file.document.has_byte_order_mark});
  if (!bytes) {
    return {std::nullopt,
            {base::report(rule::encoding_not_kept, std::nullopt,
                          message("the text does not fit the encoding {} of the file",
                                  file.document.encoding))}};
  }
  if (file.container.empty()) return {std::move(bytes), {}};
  return with_score(file.container, *bytes);
}

std::optional<AnnotationPlaces> places_of(const BareFile& file, const model::Score& score) {
  std::vector<std::size_t> notes;
  for (const model::Note& note : score.notes) notes.push_back(note.source.begin);
  return find_places(file.document.text, notes);
}

}  // namespace

base::Outcome<BareFile> open_bare(std::string bytes) {
  BareFile file;
  base::Diagnostics found;
  if (is_container(bytes)) {
    base::Outcome<std::string> unpacked = score_in_container(bytes);
    if (!unpacked.ok()) return {std::nullopt, std::move(unpacked.diagnostics)};
    found = std::move(unpacked.diagnostics);
    file.container = std::exchange(bytes, *std::move(unpacked.value));
  }
  base::Outcome<DocumentText> decoded = decode_document(bytes);
  base::append(found, std::move(decoded.diagnostics));
  if (!decoded.value) return {std::nullopt, std::move(found)};
  file.document = *std::move(decoded.value);
  if (encode_document(file.document) != bytes) {
    found.push_back(base::report(
        rule::encoding_not_kept, std::nullopt,
        message("the encoding {} cannot be written back byte for byte", file.document.encoding),
        message("save the file as UTF-8")));
    return {std::nullopt, std::move(found)};
  }
  if (auto bare = without_annotation(file.document.text)) {
    auto document = parse_xml(file.document.text);
    base::append(found, std::move(document.diagnostics));
    if (!document.value) return {std::nullopt, std::move(found)};
    HeaderReading header = read_header(document.value->document_element(), file.document.text);
    file.flute = std::move(header.header.flute);
    file.octaves = std::move(header.octaves);
    file.document.text = *std::move(bare);
    file.was_annotated = true;
  }
  return {std::move(file), std::move(found)};
}

base::Outcome<std::string> annotate(const BareFile& file, const model::Score& score,
                                    const AnnotateOptions& options) {
  const std::string& text = file.document.text;
  const auto places = places_of(file, score);
  const std::string_view unfingered = annotation_name(Annotation::none);
  if (!places || places->fingering.value_or(unfingered) != unfingered) {
    return {std::nullopt, {already_fingered()}};
  }
  std::vector<Change> insertions = insertions_of(score, options, *places);
  std::map<char32_t, std::string> known;
  for (Change& insertion : insertions) {
    insertion.text = spelled(insertion.text, file.document.encoding, known);
  }
  const std::string annotated = changed(text, std::move(insertions));
  // What looks like ours but was there before would not survive the removal.
  const auto removed = without_annotation(annotated);
  if (!removed || *removed != text) return {std::nullopt, {already_fingered()}};
  return packed(file, annotated);
}

std::optional<int> earlier_octaves(const BareFile& file, const model::Score& score) {
  if (!file.was_annotated) return std::nullopt;
  if (!file.octaves) return 0;
  const auto places = places_of(file, score);
  if (!places || places->part != file.octaves->part) return std::nullopt;
  return file.octaves->octaves;
}

base::Outcome<std::string> bytes_of(const BareFile& file) {
  if (!file.was_annotated && !file.container.empty()) return {file.container, {}};
  return packed(file, file.document.text);
}

bool concerns_annotation(const base::Diagnostic& diagnostic) {
  constexpr std::array kRules{&rule::declared_encoding,   &rule::container_without_rootfile,
                              &rule::tie_without_partner, &rule::overlapping_notes,
                              &rule::octave_twice,        &rule::voice_chosen,
                              &rule::voice_followed,      &rule::silent_voice};
  return diagnostic.severity == base::Severity::error ||
         std::find(kRules.begin(), kRules.end(), diagnostic.rule) != kRules.end();
}

}  // namespace yubifu::musicxml
