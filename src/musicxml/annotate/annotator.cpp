#include "musicxml/annotate/annotator.h"

#include <algorithm>
#include <array>
#include <initializer_list>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/encoding.h"
#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "base/xml_writer.h"
#include "model/strokes.h"
#include "musicxml/read/header_reader.h"
#include "musicxml/read/melody.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/write/note_writer.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/xml_document.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

using base::message;

constexpr std::string_view kCommentStart = "<!--";
constexpr std::string_view kCommentEnd = "-->";

bool is_any_of(std::string_view name, std::initializer_list<std::string_view> names) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

std::vector<pugi::xml_node> elements_in(pugi::xml_node around) {
  std::vector<pugi::xml_node> elements;
  for (const pugi::xml_node child : around.children()) {
    if (child.type() == pugi::node_element) elements.push_back(child);
  }
  return elements;
}

// Whether an element is one of the annotation, which has nothing in it but what we put there.
bool is_ours(pugi::xml_node element) {
  const std::string_view name = element.name();
  const bool is_marked = name == "lyric" ? attribute(element, "name") == kFingeringLyric
                         : name == "notations"
                             ? attribute(element, kNotationsMark.name) == kNotationsMark.value
                             : name == "direction" && is_annotation_direction(element);
  if (!is_marked || !element.first_child()) return false;
  return !element.find_node([&](pugi::xml_node inside) {
    if (inside.type() != pugi::node_element) return false;
    if (name == "lyric") return !is_any_of(inside.name(), {"syllabic", "text"});
    if (name == "notations") {
      return !is_any_of(inside.name(), {"technical", "fingering", "hole", "hole-closed"});
    }
    return !is_any_of(inside.name(), {"direction-type", "words", "staff"});
  });
}

// A text as it was before it was annotated; nothing for one that is not. What was spliced into it
// goes byte for byte; in a file that another program has saved since, what is still marked as ours
// goes.
std::optional<std::string> without_annotation(pugi::xml_node root, std::string_view text) {
  std::vector<Change> cuts;
  // All white space before it came with it.
  const auto cut = [&](pugi::xml_node element) {
    const auto [begin, end] = range_of(element, text);
    cuts.push_back({start_of_space(text, begin), end, {}});
  };
  const pugi::xml_node identification = root.child("identification");
  const pugi::xml_node miscellaneous = identification.child("miscellaneous");
  std::optional<FieldHome> home;
  std::vector<pugi::xml_node> fields = elements_in(miscellaneous);
  const std::size_t all_fields = fields.size();
  std::erase_if(fields, [&](pugi::xml_node element) {
    const std::string_view name = attribute(element, "name");
    if (name == field::kAnnotated && !home) home = kFieldHomes.value_of(word_of(element));
    return !home || !is_any_of(name, {field::kAnnotated, field::kFingering, field::kFlute,
                                      field::kTuning, field::kOctave});
  });
  if (!home) return std::nullopt;
  // What the fields brought with them goes with them, and gives back an empty element.
  if (home == FieldHome::fields || fields.size() < all_fields) {
    for (const pugi::xml_node element : fields) cut(element);
  } else {
    const bool all_ours =
        (home == FieldHome::identification || home == FieldHome::instead_of_identification) &&
        elements_in(identification).size() == 1;
    cut(all_ours ? identification : miscellaneous);
    const std::size_t at = cuts.back().end;
    const std::size_t end = text.find(kCommentEnd, at);
    const bool gives_back = home == (all_ours ? FieldHome::instead_of_identification
                                              : FieldHome::instead_of_miscellaneous);
    if (gives_back && text.substr(at).starts_with(kCommentStart) && end < text.size()) {
      cuts.push_back({at, at + kCommentStart.size(), {}});
      cuts.push_back({end, end + kCommentEnd.size(), {}});
    }
  }
  root.find_node([&](pugi::xml_node element) {
    if (is_ours(element)) cut(element);
    return false;
  });
  return changed(text, std::move(cuts));
}

// A place between two tags, and the white space that sets off an element there as its neighbours
// are set off. What stands before the place is no white space: so an element that was put there
// goes again, without a trace, with all white space before it.
struct Place {
  std::size_t offset = 0;
  std::string_view space;
};

Change inserted(const Place& place, std::string_view element) {
  return {place.offset, place.offset, std::string(place.space).append(element)};
}

std::string_view space_before(std::string_view text, std::size_t at) {
  const std::size_t begin = start_of_space(text, at);
  return text.substr(begin, at - begin);
}

Place place_before(pugi::xml_node element, std::string_view text) {
  const std::size_t begin = start_of(element).begin;
  const std::string_view space = space_before(text, begin);
  return {begin - space.size(), space};
}

Place place_behind(pugi::xml_node element, std::string_view text) {
  const auto [begin, end] = range_of(element, text);
  return {end, space_before(text, begin)};
}

// Behind the last element of a note that others may follow: all but these must stand before it.
Place place_in(pugi::xml_node note, std::initializer_list<std::string_view> later,
               std::string_view text) {
  pugi::xml_node last;
  for (const pugi::xml_node child : note.children()) {
    if (child.type() == pugi::node_element && !is_any_of(child.name(), later)) last = child;
  }
  return place_behind(last, text);
}

// The note that carries what belongs to the whole chord of a note.
pugi::xml_node head_of(pugi::xml_node note) {
  if (!note.child("chord")) return note;
  pugi::xml_node head = note;
  while (head.child("chord")) head = head.previous_sibling("note");
  const bool is_of_it = head.child("pitch") && !head.child("cue") &&
                        child_word(head, "voice") == child_word(note, "voice") &&
                        child_word(head, "staff") == child_word(note, "staff");
  return is_of_it ? head : note;
}

// Where the fields go, and what has to be put around them.
struct FieldPlace {
  FieldHome home = FieldHome::fields;
  Place place;
  // An empty element that ours stands in for. An element without content cannot be filled by
  // insertion, so it goes into a comment.
  std::optional<base::SourceRange> replaced = {};
};

FieldPlace field_place(pugi::xml_node root, std::string_view text) {
  const auto opening = [&](pugi::xml_node element) {
    const std::size_t begin = start_of(element).begin;
    Tag tag = *XmlScanner(text.substr(begin)).next();
    tag.begin = begin;
    return tag;
  };
  const auto inside = [&](FieldHome home, FieldHome instead, pugi::xml_node element) {
    const Tag tag = opening(element);
    if (tag.kind == TagKind::empty) {
      return FieldPlace{instead, place_before(element, text), range_of(element, text)};
    }
    const std::vector<pugi::xml_node> others = elements_in(element);
    return FieldPlace{home,
                      others.empty() ? Place{tag.end(), {}} : place_behind(others.back(), text)};
  };
  const pugi::xml_node identification = root.child("identification");
  if (const pugi::xml_node miscellaneous = identification.child("miscellaneous")) {
    return inside(FieldHome::fields, FieldHome::instead_of_miscellaneous, miscellaneous);
  }
  if (identification) {
    return inside(FieldHome::miscellaneous, FieldHome::instead_of_identification, identification);
  }
  const std::size_t start = opening(root).end();
  Place place{start, text.substr(start, end_of_space(text, start) - start)};
  for (const pugi::xml_node element : elements_in(root)) {
    // These must stand before <identification>.
    const bool is_title = is_any_of(element.name(), {"work", "movement-number", "movement-title"});
    if (is_title) place = place_behind(element, text);
  }
  return {FieldHome::identification, place};
}

// A number over those of all verses. Programs that number in words still get a line of their own.
int free_verse(const std::set<std::string_view>& numbers) {
  constexpr int kMost = 1'000'000;
  int highest = static_cast<int>(numbers.size());
  for (const std::string_view number : numbers) {
    const int value = base::whole_number(number).value_or(0);
    if (value < kMost) highest = std::max(highest, value);
  }
  return highest + 1;
}

// The text of a file with the notes that a score was read from.
struct Found {
  pugi::xml_document document;
  std::vector<pugi::xml_node> notes;  // one for each of the score
  std::string part;                   // that has them, as `part_label` names it
  int free_verse = 1;                 // over all verse numbers of that part
};

// Nothing if the text lacks one of the notes.
std::optional<Found> find_notes(const BareFile& file, const model::Score& score) {
  auto document = load_xml(file.document.text);
  if (!document.value) return std::nullopt;
  Found found{*std::move(document.value), {}, {}};
  std::vector<std::pair<std::size_t, std::size_t>> wanted;  // notes of the score by their places
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    wanted.emplace_back(score.notes[i].source.begin, i);
  }
  std::sort(wanted.begin(), wanted.end());
  auto next = wanted.begin();
  found.notes.resize(wanted.size());
  std::map<std::string, std::set<std::string_view>> verses;  // their numbers in each part
  const auto take = [&](pugi::xml_node content, const std::string& part) {
    for (const pugi::xml_node note : content.children("note")) {
      for (const pugi::xml_node lyric : note.children("lyric")) {
        const std::string_view number = attribute(lyric, "number");
        verses[part].insert(number.empty() ? "1" : number);
      }
      for (; next != wanted.end() && next->first == start_of(note).begin; ++next) {
        found.notes[next->second] = head_of(note);
        found.part = part;
      }
    }
  };
  const pugi::xml_node root = found.document.document_element();
  const bool timewise = std::string_view(root.name()) == "score-timewise";
  std::size_t number = 0;
  for (const pugi::xml_node outer : root.children(timewise ? "measure" : "part")) {
    number = timewise ? 0 : number + 1;
    for (const pugi::xml_node inner : outer.children(timewise ? "part" : "measure")) {
      if (timewise) ++number;
      take(inner, part_label(attribute(timewise ? inner : outer, "id"), number));
    }
  }
  if (next != wanted.end()) return std::nullopt;
  found.free_verse = free_verse(verses[found.part]);
  return found;
}

base::Diagnostic already_fingered() {
  return base::report(
      rule::already_fingered, std::nullopt,
      message("the file has a fingering already that annotate has not written"),
      message("finger an export of yubifu anew with convert, or export it with --fingering none"));
}

std::string attribute_text(const MarkAttribute& attribute) {
  return fmt::format(" {}=\"{}\"", attribute.name, attribute.value);
}

// Adds the elements that say the fingering of a note, each at its place.
void add_elements(std::vector<Change>& insertions, const model::Tone& tone,
                  const std::string& fingering, const AnnotateOptions& options, pugi::xml_node note,
                  int verse, std::string_view text) {
  const std::string escaped = base::xml_escaped(fingering);
  if (options.kind == Annotation::words) {
    std::string marks;
    for (const MarkAttribute& mark : kDirectionMarks) marks += attribute_text(mark);
    const std::string_view staff = child_word(note, "staff");
    insertions.push_back(inserted(
        place_before(note, text),
        fmt::format("<direction{}><direction-type><words>{}</words></direction-type>{}</direction>",
                    marks, escaped, staff.empty() ? "" : fmt::format("<staff>{}</staff>", staff))));
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
    insertions.push_back(inserted(place_in(note, {"lyric", "play", "listen"}, text),
                                  fmt::format("<notations{}><technical>{}</technical></notations>",
                                              attribute_text(kNotationsMark), technical)));
  }
  const bool above = options.kind == Annotation::lyric_above;
  if (above || options.kind == Annotation::lyric) {
    insertions.push_back(
        inserted(place_in(note, {"play", "listen"}, text),
                 fmt::format("<lyric number=\"{}\" name=\"{}\" placement=\"{}\">"
                             "<syllabic>single</syllabic><text>{}</text></lyric>",
                             verse, kFingeringLyric, above ? "above" : "below", escaped)));
  }
}

// The fields that say how the file is annotated, with the elements around them that the place
// lacks.
std::string annotation_fields(const model::Score& score, const AnnotateOptions& options,
                              const FieldPlace& fields, const std::string& part) {
  const FieldHome home = fields.home;
  const bool among_others = home == FieldHome::fields;
  std::string out;
  const auto add = [&](std::string_view name, std::string_view value) {
    if (among_others && !out.empty()) out += fields.place.space;
    out += fmt::format("<miscellaneous-field name=\"{}\">{}</miscellaneous-field>", name,
                       base::xml_escaped(value));
  };
  add(field::kAnnotated, kFieldHomes.word_of(home));
  add(field::kFingering, annotation_name(options.kind));
  add(field::kFlute, model::to_text(score.header.flute.value_or(score.flutes.front().name)));
  if (score.header.tuning_hz) add(field::kTuning, fmt::format("{}", *score.header.tuning_hz));
  if (options.octaves != 0) {
    add(field::kOctave, to_text(PartOctaves{part, options.octaves}));
  }
  if (among_others) return out;
  out = fmt::format("<miscellaneous>{}</miscellaneous>", out);
  const bool has_identification =
      home == FieldHome::miscellaneous || home == FieldHome::instead_of_miscellaneous;
  return has_identification ? out : fmt::format("<identification>{}</identification>", out);
}

// What goes where; nothing for an export of ours that is fingered.
std::optional<std::vector<Change>> insertions_of(const BareFile& file, const model::Score& score,
                                                 const AnnotateOptions& options) {
  const std::string& text = file.document.text;
  const auto found = find_notes(file, score);
  if (!found) return std::nullopt;
  const pugi::xml_node root = found->document.document_element();
  const pugi::xml_node miscellaneous = root.child("identification").child("miscellaneous");
  const std::string kind =
      text_of(miscellaneous.find_child_by_attribute("name", field::kFingering.data()));
  if (!kind.empty() && kind != annotation_name(Annotation::none)) return std::nullopt;
  const FieldPlace fields = field_place(root, text);
  std::vector<Change> insertions{
      inserted(fields.place, annotation_fields(score, options, fields, found->part))};
  if (fields.replaced) {
    insertions.back().text += kCommentStart;
    insertions.push_back({fields.replaced->end, fields.replaced->end, std::string(kCommentEnd)});
  }
  const std::vector<std::string> strokes =
      options.strokes ? model::stroke_texts(score) : std::vector<std::string>();
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const model::Tone& tone = score.notes[i].tone;
    std::string fingering = annotation_text(tone);
    if (fingering.empty()) continue;
    if (options.strokes) fingering += strokes[i];
    add_elements(insertions, tone, fingering, options, found->notes[i], found->free_verse, text);
  }
  return insertions;
}

// With character references for what an encoding lacks. `known` keeps what was found.
std::string spelled(std::string_view text, const std::string& encoding,
                    std::map<char32_t, std::string>& known) {
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

base::Outcome<std::string> packed(const BareFile& file, std::string text) {
  auto bytes =
      encode_document({std::move(text), file.document.encoding, file.document.has_byte_order_mark});
  if (!bytes) {
    return {std::nullopt,
            {base::report(rule::encoding_not_kept, std::nullopt,
                          message("the text does not fit the encoding {} of the file",
                                  file.document.encoding))}};
  }
  if (file.container.empty()) return {std::move(bytes), {}};
  return with_score(file.container, *bytes);
}

}  // namespace

std::string changed(std::string_view text, std::vector<Change> changes) {
  std::stable_sort(changes.begin(), changes.end(),
                   [](const Change& a, const Change& b) { return a.begin < b.begin; });
  std::size_t size = text.size();
  for (const Change& change : changes) size += change.text.size();
  std::string out;
  out.reserve(size);
  std::size_t at = 0;
  for (const Change& change : changes) {
    out.append(text, at, change.begin - at).append(change.text);
    at = change.end;
  }
  return out.append(text, at);
}

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
  // UTF-8 is read as it stands.
  if (file.document.encoding != "UTF-8" && encode_document(file.document) != bytes) {
    found.push_back(base::report(
        rule::encoding_not_kept, std::nullopt,
        message("the encoding {} cannot be written back byte for byte", file.document.encoding),
        message("save the file as UTF-8")));
    return {std::nullopt, std::move(found)};
  }
  std::string& text = file.document.text;
  if (text.find(field::kAnnotated) == std::string::npos) return {std::move(file), std::move(found)};
  const auto document = parse_xml(text);
  base::append(found, document.diagnostics);
  if (!document.value) return {std::nullopt, std::move(found)};
  const pugi::xml_node root = document.value->document_element();
  if (auto bare = without_annotation(root, text)) {
    HeaderReading header = read_header(root, text);
    file.flute = std::move(header.header.flute);
    file.octaves = std::move(header.octaves);
    text = *std::move(bare);
    file.was_annotated = true;
  }
  return {std::move(file), std::move(found)};
}

base::Outcome<std::string> annotate(const BareFile& file, const model::Score& score,
                                    const AnnotateOptions& options) {
  const std::string& text = file.document.text;
  auto insertions = insertions_of(file, score, options);
  if (!insertions) return {std::nullopt, {already_fingered()}};
  const std::string& encoding = file.document.encoding;
  std::map<char32_t, std::string> known;
  for (Change& insertion : *insertions) {
    if (encoding.starts_with("UTF")) break;
    insertion.text = spelled(insertion.text, encoding, known);
  }
  std::string annotated = changed(text, *std::move(insertions));
  // What looks like ours but was there before would not survive the removal.
  const auto document = load_xml(annotated);
  const auto removed = document.value
                           ? without_annotation(document.value->document_element(), annotated)
                           : std::nullopt;
  if (!removed || *removed != text) return {std::nullopt, {already_fingered()}};
  return packed(file, std::move(annotated));
}

std::optional<int> earlier_octaves(const BareFile& file, const model::Score& score) {
  if (!file.was_annotated) return std::nullopt;
  if (!file.octaves) return 0;
  const auto found = find_notes(file, score);
  if (!found || found->part != file.octaves->part) return std::nullopt;
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
