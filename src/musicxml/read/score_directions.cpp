#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <utility>

#include "musicxml/read/melody.h"
#include "musicxml/read/note_element.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::DirectionValue;
using model::Rational;

bool is_jump(Cue cue) {
  return model::kind_of(cue).place == model::PlaceInMeasure::end;
}

bool contains(const std::vector<Cue>& cues, Cue cue) {
  return std::find(cues.begin(), cues.end(), cue) != cues.end();
}

// One <direction> or <sound> as it stands.
struct DirectionElement {
  // What a text of our own says; then nothing else of the direction is read.
  std::optional<OwnMeaning> own;
  std::optional<pugi::xml_node> unreadable_own;

  std::string words;   // all words, also those of unknown kinds of print
  int word_parts = 0;  // how many <words> they stand in
  std::vector<std::string> sections;
  std::vector<std::string> levels;  // dynamics
  bool has_segno = false;
  bool has_coda = false;
  std::optional<model::Tempo> metronome;
  std::optional<Rational> sound_tempo;     // quarters a minute
  std::vector<Cue> sound_cues;             // what <sound> plays
  bool repeats_from_here = false;          // a forward repeat that is only played
  std::vector<pugi::xml_node> left_out;    // kinds of directions with no place in the score
  std::vector<pugi::xml_node> odd_tempos;  // metronome marks that give no number
};

// Directions that only say how the page looks: lines beside words, lines that spare ledger lines
// (the pitch holds the octave already), marks of the editor.
constexpr std::array<std::string_view, 7> kLayout{
    "octave-shift", "dashes", "bracket", "principal-voice", "image", "staff-divide", "eyeglasses"};

// The number at the front of "c. 108" or "100-120".
std::optional<Rational> leading_number(std::string_view text) {
  const std::size_t begin = text.find_first_of("0123456789");
  if (begin == std::string_view::npos) return std::nullopt;
  text.remove_prefix(begin);
  const std::size_t end = std::min(text.find_first_not_of("0123456789."), text.size());
  std::string_view number = text.substr(0, end);
  if (number.ends_with('.')) number.remove_suffix(1);
  return model::parse_decimal(number);
}

std::optional<model::Tempo> read_metronome(pugi::xml_node node) {
  const pugi::xml_node unit_node = node.child("beat-unit");
  const auto unit = kNoteTypes.value_of(word_of(unit_node));
  const auto number = leading_number(child_word(node, "per-minute"));
  if (!unit || !number || *number <= Rational(0)) return std::nullopt;
  Rational length = *unit;
  Rational dot = *unit;
  for (pugi::xml_node next = unit_node.next_sibling();
       std::string_view(next.name()) == "beat-unit-dot"; next = next.next_sibling()) {
    dot = dot / 2;
    length += dot;
  }
  const model::Tempo tempo{*number, length};
  return metronome_holds(tempo) ? std::optional(tempo) : std::nullopt;
}

std::string on_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

void add_words(DirectionElement& out, const std::string& text) {
  if (!text.empty()) out.words += (out.words.empty() ? "" : " ") + on_one_line(text);
}

void take_other(DirectionElement& out, pugi::xml_node node) {
  const std::string text = text_of(node);
  if (text.starts_with(kOwnPrefix)) {
    out.own = parse_own_text(text);
    if (!out.own) out.unreadable_own = node;
  } else if (attribute(node, "print-object") == "no" || text.empty()) {
    out.left_out.push_back(node);
  } else {
    add_words(out, text);
  }
}

void take_type(DirectionElement& out, pugi::xml_node node) {
  const std::string_view name = node.name();
  if (name == "words") {
    ++out.word_parts;
    add_words(out, text_of(node));
  } else if (name == "rehearsal") {
    out.sections.push_back(on_one_line(text_of(node)));
  } else if (name == "segno") {
    out.has_segno = true;
  } else if (name == "coda") {
    out.has_coda = true;
  } else if (name == "dynamics") {
    if (std::string level = dynamic_level(node); !level.empty()) out.levels.push_back(level);
  } else if (name == "metronome") {
    const auto tempo = read_metronome(node);
    if (tempo) out.metronome = tempo;
    if (!tempo) out.odd_tempos.push_back(node);
  } else if (name == "other-direction") {
    take_other(out, node);
  } else if (std::find(kLayout.begin(), kLayout.end(), name) == kLayout.end()) {
    out.left_out.push_back(node);
  }
}

void take_sound(DirectionElement& out, pugi::xml_node sound) {
  for (const pugi::xml_attribute entry : sound.attributes()) {
    const std::string_view name = entry.name();
    const std::string_view value = entry.value();
    if (value == "no") continue;
    if (const auto cue = cue_of_sound(name)) out.sound_cues.push_back(*cue);
    if (name == "forward-repeat") out.repeats_from_here = true;
    if (name != "tempo") continue;
    const auto tempo = model::parse_decimal(value);  // zero means: ask the player
    if (tempo && *tempo > Rational(0) && *tempo <= kFastest) out.sound_tempo = tempo;
  }
}

DirectionElement read_element(pugi::xml_node node) {
  DirectionElement out;
  for (const pugi::xml_node type : node.children("direction-type")) {
    for (const pugi::xml_node child : type.children()) {
      if (child.type() == pugi::node_element) take_type(out, child);
    }
  }
  take_sound(out, std::string_view(node.name()) == "sound" ? node : node.child("sound"));
  return out;
}

// Which directions of a part are wanted.
enum class Scope { all, whole_file };

class DirectionPlacer {
 public:
  DirectionPlacer(const StaffContext& context, const std::vector<model::Measure>& measures,
                  const std::vector<model::Note>& notes)
      : context_(context), measures_(measures), notes_(notes) {}

  ScoreDirections run() {
    read_part(context_.choice.part, Scope::all);
    for (std::size_t i = 0; i < context_.parts.size(); ++i) {
      if (i != context_.choice.part) read_part(i, Scope::whole_file);
    }
    // A sound beside the words, or the same jump in another part, says that they mean it.
    for (const auto& [place, jump] : jumps_) {
      if (jump.is_played) continue;
      out_.remarks.add(kind(rule::jump_in_words, "jump that only words give is taken as one",
                            "jumps that only words give are taken as such", Details::together),
                       jump.measure, range_of(jump.node, context_.text), jump.words);
    }
    std::sort(out_.own_places.begin(), out_.own_places.end());
    return std::move(out_);
  }

 private:
  void read_part(std::size_t index, Scope scope) {
    scope_ = scope;
    for (const PlacedNode& placed : context_.parts[index].directions) {
      if (placed.at.measure >= context_.part().measures.size()) break;
      if (scope == Scope::all && is_on_other_staff(placed.node)) continue;
      take(placed);
    }
  }

  bool is_on_other_staff(pugi::xml_node node) const {
    // An annotation belongs to its note, wherever the voice has taken that.
    if (context_.is_annotated && is_annotation_direction(node)) return false;
    const auto staff = whole_number(child_word(node, "staff"));
    const auto& wanted = context_.choice.voice.staff;
    return staff && *staff != (wanted ? *wanted : context_.choice.main_staff);
  }

  void remark(pugi::xml_node node, const RemarkKind& kind, std::string detail = {}) {
    if (scope_ == Scope::whole_file) return;
    out_.remarks.add(kind, at_.measure, range_of(node, context_.text), std::move(detail));
  }

  void take(const PlacedNode& placed) {
    node_ = placed.node;
    where_.reset();
    next_note_ = placed.next_note;
    at_ = placed.at;
    if (const auto offset = model::parse_decimal(child_word(node_, "offset"))) {
      at_.onset = std::max(Rational(0), at_.onset + *offset / placed.divisions);
    }
    const DirectionElement element = read_element(node_);
    if (element.unreadable_own) {
      remark(*element.unreadable_own, kind(rule::unknown_value, "text of our own cannot be read",
                                           "texts of our own cannot be read"));
    } else if (element.own) {
      take_own(*element.own);
    } else if (!take_fingering(element)) {
      take_foreign(element);
    }
  }

  void take_own(const OwnMeaning& meaning) {
    if (scope_ == Scope::whole_file) return;
    out_.own_places.push_back(at_);
    std::visit([&](const auto& value) { take_meaning(value); }, meaning);
  }

  void take_meaning(const DirectionValue& value) {
    const auto* cue = std::get_if<Cue>(&value);
    if (const auto* change = std::get_if<model::BeatChange>(&value)) {
      take_beat(change->beat);
    } else if (model::kind_of(value).place == model::PlaceInMeasure::start) {
      add({place().measure, 0}, value);
    } else {
      add(cue != nullptr && is_jump(*cue) ? end_of_bar() : place(), value);
    }
  }

  void take_beat(Rational beat) {
    const Moment here = place();
    const model::Measure& measure = measures_[here.measure];
    if (!model::divides(beat, measure.meter) || here.onset >= measure.length) {
      remark(node_, kind(rule::unknown_value, "text of our own stands where it says nothing",
                         "texts of our own stand where they say nothing"));
    } else {
      out_.beats.emplace_back(here, beat);
    }
  }

  void take_meaning(const HolesAsked& asked) { out_.holes.emplace_back(next_note_, asked.holes); }
  void take_meaning(const IrregularBar&) {}  // the length of the bar says it
  void take_meaning(const BarLine& line) {
    out_.bar_styles.emplace_back(context_.map.end_at(at_).measure, line.style);
  }
  void take_meaning(const PrintOnly&) {}

  Moment end_of_bar() const {
    const std::size_t bar = context_.map.end_at(at_).measure;
    return {bar, context_.map.length_of_bar(bar)};
  }

  void add(const Moment& place, DirectionValue value) {
    by_place_[place].push_back(out_.directions.size());
    if (!where_) where_ = range_of(node_, context_.text);
    out_.directions.push_back({place.measure, place.onset, std::move(value), *where_});
  }

  // True for words that are the annotation of the next note.
  bool take_fingering(const DirectionElement& element) {
    if (context_.annotation != Annotation::words || scope_ == Scope::whole_file) return false;
    if (element.word_parts != 1 || element.words.empty()) return false;
    const bool marked = context_.is_annotated
                            ? is_annotation_direction(node_)
                            : context_.is_ours && attribute(node_, "placement") == "below";
    if (!marked && (context_.is_annotated || !parse_annotation(element.words))) return false;
    out_.fingerings.push_back({next_note_, {at_.measure, node_, element.words}});
    return true;
  }

  void take_foreign(const DirectionElement& element) {
    for (const pugi::xml_node node : element.left_out) {
      remark(node, kind(rule::left_out, "direction left out", "directions left out"), node.name());
    }
    for (const pugi::xml_node node : element.odd_tempos) {
      if (!element.sound_tempo)
        remark(node, kind(rule::left_out, "metronome mark without a plain number left out",
                          "metronome marks without a plain number left out"));
    }
    if (element.repeats_from_here) out_.repeat_starts.push_back(context_.map.boundary_at(at_));
    const auto words_cue = cue_of_words(element.words);
    const std::vector<Cue> cues = cues_of(element, words_cue);
    const auto tempo = tempo_of(element, words_cue);
    for (const std::string& name : element.sections) add_section(name);
    if (!element.words.empty() && !words_cue && (scope_ == Scope::all || tempo)) {
      add_unless_known(place(), model::TextDirection{element.words});
    }
    if (tempo) add_unless_known(place(), model::TempoChange{*tempo});
    if (scope_ == Scope::all) {
      for (const std::string& level : element.levels) add(place(), model::Dynamic{level});
    }
    for (const Cue cue : cues) {
      add_cue(cue);
      if (!is_jump(cue)) continue;
      Jump& jump = jumps_[{end_of_bar().measure, cue}];
      if (!jump.node) jump = {at_.measure, node_, element.words};
      jump.is_played |= contains(element.sound_cues, cue);
    }
  }

  Moment place() const { return context_.map.start_at(at_); }

  // A sign that is also played, or printed twice, is one cue. A coda sign at the end of a bar is
  // where one leaves for the coda, unless the sound says otherwise.
  std::vector<Cue> cues_of(const DirectionElement& element, std::optional<Cue> words_cue) const {
    std::vector<Cue> cues = element.sound_cues;
    if (words_cue && !contains(cues, *words_cue)) cues.push_back(*words_cue);
    if (element.has_segno && !contains(cues, Cue::dal_segno) && !contains(cues, Cue::segno)) {
      cues.push_back(Cue::segno);
    }
    if (element.has_coda && !contains(cues, Cue::to_coda) && !contains(cues, Cue::coda) &&
        !contains(cues, Cue::da_capo) && !contains(cues, Cue::dal_segno)) {
      const Moment here = place();
      const bool ends_bar = here.onset > Rational(0) && !attack_from(here);
      cues.push_back(ends_bar ? Cue::to_coda : Cue::coda);
    }
    return cues;
  }

  // The tempo beside rit., accel. and a tempo is only how a program plays them.
  std::optional<model::Tempo> tempo_of(const DirectionElement& element,
                                       std::optional<Cue> words_cue) const {
    const bool changes_speed =
        words_cue == Cue::rit || words_cue == Cue::accel || words_cue == Cue::a_tempo;
    if (changes_speed) return std::nullopt;
    if (element.metronome) return element.metronome;
    if (!element.sound_tempo) return std::nullopt;
    const model::Measure& measure = measures_[place().measure];
    const Rational felt = model::felt_beat(measure.meter, 1);
    const Rational felt_number = *element.sound_tempo / felt;
    if (felt_number.is_whole()) return model::Tempo{felt_number, felt};
    return model::Tempo{*element.sound_tempo, 1};
  }

  void add_section(const std::string& name) {
    if (name.empty()) return;
    if (const auto start = start_of_bar()) {
      add_unless_known(*start, model::SectionStart{name});
    } else {
      remark(node_, kind(rule::misplaced_sign, "section inside a bar read as text",
                         "sections inside a bar read as text"));
      add_unless_known(place(), model::TextDirection{name});
    }
  }

  void add_cue(Cue cue) {
    const Moment here = place();
    if (is_jump(cue)) {
      const Moment end = end_of_bar();
      const bool is_inside = here.measure == end.measure && attack_from(here, false);
      if (is_inside)
        remark(node_, kind(rule::misplaced_sign, "sign inside a bar moved to the bar's end",
                           "signs inside a bar moved to the bar's end"));
      add_unless_known(end, cue);
    } else if (model::kind_of(cue).place == model::PlaceInMeasure::start) {
      const auto start = start_of_bar();
      if (!start)
        remark(node_, kind(rule::misplaced_sign, "sign inside a bar moved to the bar's start",
                           "signs inside a bar moved to the bar's start"));
      add_unless_known(start.value_or(Moment{here.measure, 0}), cue);
    } else {
      add_unless_known(here, cue);
    }
  }

  // The start of the bar here, or of the next one from the end of this; nothing inside.
  std::optional<Moment> start_of_bar() const {
    const Moment here = place();
    const auto attack = attack_from({here.measure, 0});
    if (!attack || *attack >= here) return Moment{here.measure, 0};
    const bool is_end = here.onset >= context_.map.length_of_bar(here.measure);
    if (!is_end || here.measure + 1 >= measures_.size()) return std::nullopt;
    return Moment{here.measure + 1, 0};
  }

  // The same sign in another part, or printed and played apart, counts once.
  void add_unless_known(const Moment& at, const DirectionValue& value) {
    for (const std::size_t index : by_place_[at]) {
      if (says_same(out_.directions[index].value, value)) return;
    }
    add(at, value);
  }

  // Of other parts any tempo and any section at the same place will do.
  bool says_same(const DirectionValue& known, const DirectionValue& value) const {
    const auto* tempo = std::get_if<model::TempoChange>(&value);
    const auto* known_tempo = std::get_if<model::TempoChange>(&known);
    if (tempo != nullptr && known_tempo != nullptr) {
      return scope_ == Scope::whole_file ||
             tempo->tempo.quarters_per_minute() == known_tempo->tempo.quarters_per_minute();
    }
    if (std::holds_alternative<model::SectionStart>(value) && scope_ == Scope::whole_file) {
      return std::holds_alternative<model::SectionStart>(known);
    }
    return known == value;
  }

  // The first note of the melody from here on, if it lies in the bar.
  std::optional<Moment> attack_from(const Moment& moment, bool or_here = true) const {
    const auto begins_before = [&](const model::Note& note, const Moment& at) {
      const Moment start{note.measure, note.onset};
      return or_here ? start < at : start <= at;
    };
    const auto note = std::lower_bound(notes_.begin(), notes_.end(), moment, begins_before);
    if (note == notes_.end() || note->measure != moment.measure) return std::nullopt;
    return Moment{note->measure, note->onset};
  }

  struct Jump {
    std::size_t measure = 0;  // in the file
    pugi::xml_node node;
    std::string words;
    bool is_played = false;
  };

  const StaffContext& context_;
  const std::vector<model::Measure>& measures_;
  const std::vector<model::Note>& notes_;
  ScoreDirections out_;
  std::map<std::pair<std::size_t, Cue>, Jump> jumps_;  // by the bar at whose end they stand
  Scope scope_ = Scope::all;
  std::map<Moment, std::vector<std::size_t>> by_place_;  // into the directions
  pugi::xml_node node_;
  std::optional<base::SourceRange> where_;  // that stands, once it is asked for
  std::size_t next_note_ = 0;
  Moment at_;  // in the file
};

}  // namespace

ScoreDirections read_directions(const StaffContext& context,
                                const std::vector<model::Measure>& measures,
                                const std::vector<model::Note>& notes) {
  return DirectionPlacer(context, measures, notes).run();
}

}  // namespace yubifu::musicxml
