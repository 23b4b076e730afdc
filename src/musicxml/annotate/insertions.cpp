#include "musicxml/annotate/insertions.h"

#include <algorithm>
#include <map>
#include <set>

#include "base/numbers.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

using base::SourceRange;

/// An element whose end is known.
struct Whole {
  std::string_view name;
  Tag opening;
  SourceRange range;
  std::string_view content;  // of an element with text alone, as it stands
};

// What one <note> says, as far as it matters here.
struct NoteView {
  NotePlaces places;
  std::string_view voice;
  bool is_chord = false;
  bool has_pitch = false;
  bool is_cue = false;
};

class PlaceFinder {
 public:
  PlaceFinder(std::string_view text, const std::vector<std::size_t>& notes)
      : text_(text), scanner_(text) {
    for (std::size_t i = 0; i < notes.size(); ++i) wanted_.emplace_back(notes[i], i);
    std::sort(wanted_.begin(), wanted_.end());
    found_.resize(notes.size());
  }

  std::optional<AnnotationPlaces> run() {
    while (const Tag* tag = scanner_.next()) take(*tag);
    if (scanner_.fault()) return std::nullopt;
    for (const auto& found : found_) {
      if (!found) return std::nullopt;
      places_.notes.push_back(*found);
    }
    places_.fields = field_place();
    places_.free_verse = free_verse(verses_[places_.part]);
    return std::move(places_);
  }

 private:
  // A number over those of all verses. Programs that number in words still get a line of their own.
  static int free_verse(const std::set<std::string_view>& numbers) {
    constexpr int kMost = 1'000'000;
    int highest = static_cast<int>(numbers.size());
    for (const std::string_view number : numbers) {
      const int value = base::whole_number(number).value_or(0);
      if (value < kMost) highest = std::max(highest, value);
    }
    return highest + 1;
  }

  void take(const Tag& tag) {
    if (tag.kind != TagKind::end) open(tag);
    if (tag.kind == TagKind::start) return;
    const Tag& opening = tag.kind == TagKind::end ? scanner_.opening() : tag;
    const std::size_t content_end = tag.kind == TagKind::end ? tag.begin : tag.end();
    close({tag.name,
           opening,
           {opening.begin, tag.end()},
           text_.substr(opening.end(), content_end - opening.end())});
  }

  // How many elements stand around the one that is opened or was closed.
  std::size_t depth() const { return scanner_.around().size(); }

  bool is_inside(std::string_view name, std::size_t depth) const {
    return this->depth() > depth && scanner_.around()[depth].name == name;
  }

  void open(const Tag& tag) {
    if (tag.name == "part") {
      ++part_number_;
      here_ = part_label(attribute_in(tag.text, "id"), part_number_);
    } else if (tag.name == "measure" && depth() == 1) {
      part_number_ = 0;  // the parts of a timewise score
    } else if (tag.name == "note" && !note_depth_) {
      note_depth_ = depth();
      note_ = NoteView{};
    }
    if (depth() == 0) root_ = tag;
  }

  void close(const Whole& element) {
    if (note_depth_) {
      if (depth() == *note_depth_ + 1) take_note_child(element);
      if (depth() == *note_depth_) finish_note(element);
    } else if (depth() >= 1 && depth() <= 3) {
      take_header(element);
    }
  }

  // The place behind an element, set off as the element is.
  Place behind(const Whole& element) const {
    return {element.range.end, space_before(element.range.begin)};
  }

  // The place before an element and the white space before it.
  Place before(std::size_t begin) const {
    const std::string_view space = space_before(begin);
    return {begin - space.size(), space};
  }

  std::string_view space_before(std::size_t at) const {
    const std::size_t begin = start_of_space(text_, at);
    return text_.substr(begin, at - begin);
  }

  void take_note_child(const Whole& child) {
    const std::string_view name = child.name;
    if (name == "chord") note_.is_chord = true;
    if (name == "pitch") note_.has_pitch = true;
    if (name == "cue") note_.is_cue = true;
    if (name == "voice") note_.voice = trimmed(child.content);
    if (name == "staff") note_.places.staff = trimmed(child.content);
    if (name == "lyric") {
      const std::string_view number = attribute_in(child.opening.text, "number");
      verses_[here_].insert(number.empty() ? "1" : number);
    }
    // These must stand behind every <lyric>.
    if (is_any_of(name, {"play", "listen"})) return;
    note_.places.lyric = behind(child);
    if (name != "lyric") note_.places.notations = note_.places.lyric;
  }

  void finish_note(const Whole& element) {
    note_.places.direction = before(element.range.begin);
    if (!note_.is_chord) head_ = note_;
    const bool head_stands_for_it = note_.is_chord && head_.has_pitch && !head_.is_cue &&
                                    head_.voice == note_.voice &&
                                    head_.places.staff == note_.places.staff;
    auto wanted = std::lower_bound(wanted_.begin(), wanted_.end(),
                                   std::pair(element.range.begin, std::size_t{0}));
    for (; wanted != wanted_.end() && wanted->first == element.range.begin; ++wanted) {
      found_[wanted->second] = head_stands_for_it ? head_.places : note_.places;
      places_.part = here_;
    }
    note_depth_.reset();
  }

  void take_header(const Whole& element) {
    if (depth() == 1) {
      // These must stand before <identification>.
      const bool is_title = is_any_of(element.name, {"work", "movement-number", "movement-title"});
      if (is_title) after_titles_ = behind(element);
      if (element.name == "identification" && !identification_) identification_ = element;
      return;
    }
    if (!is_inside("identification", 1) || identification_) return;
    if (depth() == 2) {
      last_in_identification_ = behind(element);
      if (element.name == "miscellaneous" && !miscellaneous_) miscellaneous_ = element;
    } else if (is_inside("miscellaneous", 2) && !miscellaneous_) {
      last_field_ = behind(element);
      const bool says = attribute_in(element.opening.text, "name") == field::kFingering;
      if (says && !places_.fingering) places_.fingering = element.content;
    }
  }

  FieldPlace field_place() const {
    const auto start_of = [](const Whole& element) { return Place{element.opening.end(), {}}; };
    const auto instead = [&](FieldHome home, const Whole& element) {
      return FieldPlace{home, before(element.range.begin), element.range};
    };
    if (!identification_) {
      const std::size_t start = root_.end();
      const std::string_view space = text_.substr(start, end_of_space(text_, start) - start);
      return {FieldHome::identification, after_titles_.value_or(Place{start, space}), std::nullopt};
    }
    if (identification_->opening.kind == TagKind::empty) {
      return instead(FieldHome::instead_of_identification, *identification_);
    }
    if (!miscellaneous_) {
      return {FieldHome::miscellaneous,
              last_in_identification_.value_or(start_of(*identification_)), std::nullopt};
    }
    if (miscellaneous_->opening.kind == TagKind::empty) {
      return instead(FieldHome::instead_of_miscellaneous, *miscellaneous_);
    }
    return {FieldHome::fields, last_field_.value_or(start_of(*miscellaneous_)), std::nullopt};
  }

  std::string_view text_;
  XmlScanner scanner_;
  AnnotationPlaces places_;
  std::vector<std::pair<std::size_t, std::size_t>> wanted_;  // offset, place in the list; sorted
  std::vector<std::optional<NotePlaces>> found_;
  std::size_t part_number_ = 0;
  std::string here_;                                          // the part that is open
  std::map<std::string, std::set<std::string_view>> verses_;  // their numbers in each part

  std::optional<std::size_t> note_depth_;  // of the note that is open
  NoteView note_;
  NoteView head_;  // the last note that was no chord note

  Tag root_;
  std::optional<Place> after_titles_;
  std::optional<Whole> identification_;
  std::optional<Whole> miscellaneous_;
  std::optional<Place> last_in_identification_;
  std::optional<Place> last_field_;
};

}  // namespace

std::optional<AnnotationPlaces> find_places(std::string_view text,
                                            const std::vector<std::size_t>& notes) {
  return PlaceFinder(text, notes).run();
}

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

bool is_any_of(std::string_view name, std::initializer_list<std::string_view> names) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace yubifu::musicxml
