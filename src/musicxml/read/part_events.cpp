#include "musicxml/read/part_events.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "base/word_table.h"
#include "model/words.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// Limits that no music reaches: the measures of a part, and those times parts, for a timewise score
// can leave parts out of its measures.
constexpr std::size_t kMostMeasures = 200'000;
constexpr std::size_t kMostPartMeasures = 4'000'000;
constexpr std::size_t kMostNotes = 2'000'000;

std::vector<PartSource> partwise_parts(pugi::xml_node root) {
  std::vector<PartSource> parts;
  for (const pugi::xml_node part : root.children("part")) {
    PartSource source{std::string(attribute(part, "id")), {}, {}, {}};
    for (const pugi::xml_node measure : part.children("measure")) {
      source.measures.push_back({measure, measure});
    }
    parts.push_back(std::move(source));
  }
  return parts;
}

std::vector<PartSource> timewise_parts(pugi::xml_node root) {
  std::vector<PartSource> parts;
  std::map<std::string_view, std::size_t> by_id;
  std::vector<pugi::xml_node> measures;
  for (const pugi::xml_node measure : root.children("measure")) {
    measures.push_back(measure);
    for (const pugi::xml_node content : measure.children("part")) {
      const std::string_view id = attribute(content, "id");
      if (by_id.try_emplace(id, parts.size()).second) {
        parts.push_back({std::string(id), {}, {}, {}});
      }
    }
  }
  if (measures.size() * parts.size() > kMostPartMeasures) return {};
  for (PartSource& part : parts) {
    for (const pugi::xml_node measure : measures) part.measures.push_back({measure, {}});
  }
  for (std::size_t i = 0; i < measures.size(); ++i) {
    for (const pugi::xml_node content : measures[i].children("part")) {
      pugi::xml_node& place = parts[by_id.at(attribute(content, "id"))].measures[i].content;
      if (!place) place = content;
    }
  }
  return parts;
}

void name_parts(std::vector<PartSource>& parts, pugi::xml_node part_list) {
  std::map<std::string_view, pugi::xml_node> listed;
  for (const pugi::xml_node entry : part_list.children("score-part")) {
    listed.try_emplace(attribute(entry, "id"), entry);
  }
  for (PartSource& part : parts) {
    const auto found = listed.find(part.id);
    if (found == listed.end()) continue;
    const pugi::xml_node entry = found->second;
    const pugi::xml_node instrument = entry.child("score-instrument");
    part.name = text_of(entry.child("part-name"));
    part.other_names = {text_of(entry.child("part-name-display").child("display-text")),
                        text_of(entry.child("part-abbreviation")),
                        text_of(instrument.child("instrument-name")),
                        text_of(instrument.child("instrument-sound"))};
  }
}

}  // namespace

base::Outcome<std::vector<PartSource>> find_parts(pugi::xml_node root, std::string_view text) {
  const bool timewise = std::string_view(root.name()) == "score-timewise";
  std::vector<PartSource> parts = timewise ? timewise_parts(root) : partwise_parts(root);
  const auto failed = [&](const base::Rule& rule, std::string message) {
    return base::Outcome<std::vector<PartSource>>{
        std::nullopt, {base::report(rule, range_of(root, text), std::move(message))}};
  };
  if (timewise && parts.empty() && root.child("measure").child("part")) {
    return failed(rule::staff_limits,
                  base::message("the file holds more than {} bars of parts", kMostPartMeasures));
  }
  std::size_t most = 0;
  for (const PartSource& part : parts) most = std::max(most, part.measures.size());
  if (most > kMostMeasures) {
    return failed(rule::staff_limits,
                  base::message("a part holds more than {} bars", kMostMeasures));
  }
  if (most == 0) {
    return failed(rule::no_measures, base::message("the file holds no part with a bar"));
  }
  name_parts(parts, root.child("part-list"));
  return {std::move(parts), {}};
}

std::string part_title(const std::vector<PartSource>& parts, std::size_t index) {
  const PartSource& part = parts[index];
  if (part.name.empty() && part.id.empty()) return base::message("part {}", index + 1);
  if (part.name.empty()) return base::message("part {}", part.id);
  return base::message("part '{}' ({})", part.name, part.id);
}

void PartLyrics::add(pugi::xml_node first) {
  for (pugi::xml_node lyric = first; lyric; lyric = lyric.next_sibling("lyric")) {
    all_.push_back(read(lyric));
  }
}

LyricElement PartLyrics::read(pugi::xml_node lyric) {
  using model::SyllableKind;
  LyricElement out;
  out.node = lyric;
  out.line = line_of(lyric);
  std::optional<SyllableKind> first;
  SyllableKind last = SyllableKind::single;
  std::string joined;
  bool elided = false;
  for (pugi::xml_node child = lyric.first_child(); child; child = child.next_sibling()) {
    const std::string_view name = child.name();
    if (name == "syllabic") {
      const auto kind = model::kSyllableKindWords.value_of(word_of(child));
      if (!kind) out.has_unknown_kind = true;
      last = kind.value_or(SyllableKind::single);
      if (!first) first = last;
    } else if (name == "elision") {
      elided = true;
    } else if (name == "text") {
      const std::string_view text = child.first_child() ? kept(text_of(child)) : word_of(child);
      if (out.text.empty()) {
        out.text = text;
      } else {
        if (joined.empty()) joined = out.text;
        if (elided) joined += model::kElision;
        joined += text;
      }
      elided = false;
      if (!first) first = last;
    } else if (name == "extend") {
      const std::string_view type = attribute(child, "type");
      out.extension = out.text.empty() ? Extension::continues
                      : type.empty()   ? Extension::untyped
                                       : Extension::starts;
    } else if (name == "humming" || name == "laughing") {
      out.is_wordless = true;
    }
  }
  if (!joined.empty()) out.text = kept(std::move(joined));
  // Syllables joined on one note are to their neighbours what the outer ones are.
  out.kind = model::syllable_kind(continues_word(first.value_or(SyllableKind::single)),
                                  word_goes_on(last));
  return out;
}

std::uint32_t PartLyrics::line_of(pugi::xml_node lyric) {
  LyricLine line;
  for (pugi::xml_attribute attribute = lyric.first_attribute(); attribute;
       attribute = attribute.next_attribute()) {
    const std::string_view key = attribute.name();
    if (key == "name") line.name = attribute.value();
    if (key == "number") line.number = attribute.value();
  }
  if (!lines_.empty() && lines_[last_line_] == line) return last_line_;
  const auto [place, is_new] = index_.try_emplace(line, static_cast<std::uint32_t>(lines_.size()));
  if (is_new) lines_.push_back(line);
  last_line_ = place->second;
  return last_line_;
}

std::string_view PartLyrics::kept(std::string text) {
  return *joined_.emplace_back(std::make_unique<std::string>(std::move(text)));
}

namespace {

using model::Rational;

// A whole rest in another meter than 4/4 means the bar; more of them in one bar than this are
// taken as they stand.
constexpr std::size_t kMostWholeRests = 16;
constexpr Rational kWholeNote(4);
// In a measure with more notes than this nobody rounds durations.
constexpr std::size_t kMostKnownPlaces = 2'000;

class PartWalker {
 public:
  PartWalker(const PartSource& part, std::string_view text) : part_(part), text_(text) {}

  base::Outcome<PartEvents> run() {
    out_.measures.reserve(part_.measures.size());
    for (std::size_t i = 0; i < part_.measures.size() && !error_; ++i) {
      try {
        walk_measure(i);
      } catch (const model::TimeOverflow&) {
        fail(rule::staff_overflow, part_.measures[i].measure,
             base::message("the durations of bar {} are too fine or too long to be added up",
                           measure_number(part_.measures[i], i)));
      }
    }
    if (error_) return {std::nullopt, {*std::move(error_)}};
    return {std::move(out_), {}};
  }

 private:
  void fail(const base::Rule& rule, pugi::xml_node node, std::string message) {
    if (!error_) error_ = base::report(rule, range_of(node, text_), std::move(message));
  }

  void remark(pugi::xml_node node, const RemarkKind& kind, std::string detail = {}) {
    out_.remarks.add(kind, measure_, range_of(node, text_), std::move(detail));
  }

  void walk_measure(std::size_t index) {
    measure_ = index;
    position_ = 0;
    chord_at_ = std::nullopt;
    rounded_notes_ = 0;
    whole_rests_.clear();
    out_.measures.push_back({part_.measures[index], out_.notes.size(), {}, {}});
    const pugi::xml_node content = part_.measures[index].content;
    for (pugi::xml_node child = content.first_child(); child && !error_;
         child = child.next_sibling()) {
      if (child.type() == pugi::node_element) take(child);
    }
    fill_bars_with_whole_rests();
  }

  // The children of <measure> in the MusicXML 4.0 schema. What has no list carries no music: page
  // links, and what listening and playing programs keep for themselves.
  void take(pugi::xml_node child) {
    using List = std::vector<PlacedNode> PartEvents::*;
    static constexpr auto kLists = base::word_table<List>({
        {&PartEvents::directions, "direction"},
        {&PartEvents::attributes, "attributes"},
        {&PartEvents::others, "harmony"},
        {&PartEvents::others, "figured-bass"},
        {&PartEvents::prints, "print"},
        {&PartEvents::directions, "sound"},
        {&PartEvents::barlines, "barline"},
        {nullptr, "listening"},
        {nullptr, "grouping"},
        {nullptr, "link"},
        {nullptr, "bookmark"},
    });
    const std::string_view name = child.name();
    if (name == "note") return take_note(child);
    if (name == "backup" || name == "forward") return take_move(child, name == "forward");
    if (name == "attributes" && child.child("divisions")) set_divisions(child.child("divisions"));
    const List list = kLists.value_of(name).value_or(&PartEvents::others);
    if (list != nullptr) (out_.*list).push_back(placed(child));
  }

  PlacedNode placed(pugi::xml_node node) const {
    return {node, {measure_, position_}, out_.notes.size(), divisions_.value_or(1)};
  }

  void set_divisions(pugi::xml_node node) {
    const auto value = divisions_in(word_of(node));
    if (!value || *value <= Rational(0)) {
      remark(node,
             kind(rule::odd_duration, "value of divisions cannot be used",
                  "values of divisions cannot be used", Details::together),
             std::string(word_of(node)));
    } else if (*value > Rational(kMostDivisions)) {
      too_many_divisions(node);
    } else {
      divisions_ = value;
    }
  }

  void too_many_divisions(pugi::xml_node node) {
    fail(rule::staff_limits, node,
         base::message("a quarter has more than {} divisions", kMostDivisions));
  }

  // Without divisions the first note that has both a duration and a type tells them.
  Rational divisions_for(const NoteReading& note) {
    if (divisions_) return *divisions_;
    const auto duration = divisions_in(note.timing.duration);
    if (!duration || *duration <= Rational(0)) return 1;
    const auto written = written_length(note.timing);
    divisions_ = written ? *duration / *written : Rational(1);
    if (*divisions_ > Rational(kMostDivisions)) {
      too_many_divisions(note.element.node);
      divisions_ = 1;
    }
    remark(note.element.node,
           kind(rule::odd_duration, "duration comes before any divisions, which are guessed",
                "durations come before any divisions, which are guessed"));
    return *divisions_;
  }

  void take_note(pugi::xml_node node) {
    if (out_.notes.size() >= kMostNotes) {
      return fail(rule::staff_limits, node,
                  base::message("a part holds more than {} notes", kMostNotes));
    }
    const NoteReading reading = read_note(node);
    PlacedNote& note =
        out_.notes.emplace_back(PlacedNote{reading.element, {measure_, position_}, Rational()});
    note.element.voice = voice_named(reading.voice);
    note.element.first_lyric = lyric_count();
    out_.lyrics.add(reading.lyric);
    note.element.lyric_count = lyric_count() - note.element.first_lyric;
    if (note.element.is_chord && !chord_at_) {
      remark(node,
             kind(rule::odd_position, "chord note follows no note", "chord notes follow no note"));
      note.element.is_chord = false;
    }
    if (note.element.is_chord) note.at.onset = *chord_at_;
    if (!note.element.is_grace) {
      note.duration = duration_of(reading, note.element.is_chord);
      if (!note.element.is_chord) advance(note);
    }
    if (!note.element.is_chord) chord_at_ = note.at.onset;
  }

  // Mostly that of the note before.
  std::uint32_t voice_named(std::string_view name) {
    if (out_.voices.empty() || out_.voices[last_voice_] != name) {
      const auto [place, is_new] =
          voices_.try_emplace(name, static_cast<std::uint32_t>(out_.voices.size()));
      if (is_new) out_.voices.push_back(name);
      last_voice_ = place->second;
    }
    return last_voice_;
  }

  std::uint32_t lyric_count() const { return static_cast<std::uint32_t>(out_.lyrics.all().size()); }

  // Of the last of the notes.
  Rational duration_of(const NoteReading& note, bool is_chord) {
    const NoteLength length = length_of(note.timing, divisions_for(note));
    if (length.source == LengthSource::rounded) ++rounded_notes_;
    if (length.source == LengthSource::none) {
      // A chord note lasts as long as the note it joins; a rest may stand for its bar.
      if (is_chord) return out_.notes[out_.notes.size() - 2].duration;
      if (!note.element.fills_bar)
        remark_length(
            note, kind(rule::odd_duration, "note without a usable duration or type is left out",
                       "notes without a usable duration or type are left out", Details::together));
    }
    if (length.source == LengthSource::type && !is_chord && !note.element.fills_bar) {
      remark_length(
          note,
          kind(rule::odd_duration, "note without a usable duration lasts what its type says",
               "notes without a usable duration last what their types say", Details::together));
    }
    return length.quarters;
  }

  // With the duration that cannot be used, if the note has one.
  void remark_length(const NoteReading& note, const RemarkKind& kind) {
    remark(note.element.node, kind, std::string(note.timing.duration));
  }

  void advance(const PlacedNote& note) {
    position_ += note.duration;
    if (note.element.fills_bar) {
      note_whole_bar_rest(note.duration);
      return;
    }
    const bool could_mean_bar = note.element.kind == NoteKind::rest &&
                                note.at.onset == Rational(0) && note.duration == kWholeNote;
    if (could_mean_bar && whole_rests_.size() < kMostWholeRests) {
      whole_rests_.push_back(out_.notes.size() - 1);
      return;
    }
    fill_to(position_);
  }

  void fill_to(Rational end) {
    Rational& filled = out_.measures.back().filled;
    filled = std::max(filled, end);
  }

  void note_whole_bar_rest(Rational length) {
    auto& longest = out_.measures.back().whole_bar_rest;
    longest = std::max(longest, std::optional(length));
  }

  // A whole rest that is alone in its voice stands for the bar, whatever the meter.
  void fill_bars_with_whole_rests() {
    for (const std::size_t index : whole_rests_) {
      const std::uint32_t voice = out_.notes[index].element.voice;
      bool alone = true;
      for (std::size_t i = out_.measures.back().first_note; i < out_.notes.size() && alone; ++i) {
        alone = i == index || out_.notes[i].element.voice != voice;
      }
      if (alone) {
        out_.notes[index].element.fills_bar = true;
        note_whole_bar_rest(out_.notes[index].duration);
      } else {
        fill_to(out_.notes[index].duration);
      }
    }
  }

  void take_move(pugi::xml_node node, bool is_forward) {
    const std::string_view duration = child_word(node, "duration");
    auto ticks = divisions_in(duration);
    if (!ticks) {
      ticks = divisions_in(word_of(node));
      if (ticks)
        remark(node, kind(rule::odd_position,
                          "backup or forward has its number without a duration element",
                          "backups or forwards have their number without a duration element"));
    }
    if (!ticks || *ticks < Rational(0)) {
      return remark(node,
                    kind(rule::odd_position, "backup or forward has no usable duration",
                         "backups or forwards have no usable duration", Details::together),
                    std::string(duration));
    }
    const Rational length = *ticks / divisions_.value_or(1);
    position_ = near_known_place(is_forward ? position_ + length : position_ - length);
    chord_at_ = std::nullopt;
    if (is_forward) fill_to(position_);
    if (position_ < Rational(0)) {
      remark(node, kind(rule::odd_position, "backup leads to before its bar",
                        "backups lead to before their bars"));
      position_ = 0;
    }
  }

  // Rounded durations do not add up to the places that their notes mean. After a move the nearest
  // onset of the measure is meant, if it is no farther than the rounding can have led.
  Rational near_known_place(Rational place) const {
    const std::size_t first = out_.measures.back().first_note;
    if (rounded_notes_ == 0 || out_.notes.size() - first > kMostKnownPlaces) return place;
    const Rational reach = Rational(rounded_notes_) / divisions_.value_or(1);
    Rational best = place;
    Rational best_distance = reach;
    const auto consider = [&](Rational known) {
      const Rational distance = known > place ? known - place : place - known;
      if (distance < best_distance) {
        best = known;
        best_distance = distance;
      }
    };
    consider(0);
    for (std::size_t i = first; i < out_.notes.size(); ++i) {
      consider(out_.notes[i].at.onset);
      consider(out_.notes[i].at.onset + out_.notes[i].duration);
    }
    return best;
  }

  const PartSource& part_;
  std::string_view text_;
  PartEvents out_;
  std::optional<base::Diagnostic> error_;
  std::optional<Rational> divisions_;
  std::map<std::string_view, std::uint32_t> voices_;  // by name
  std::uint32_t last_voice_ = 0;

  std::size_t measure_ = 0;
  Rational position_;
  std::optional<Rational> chord_at_;  // the onset that a chord note would join
  std::int64_t rounded_notes_ = 0;
  std::vector<std::size_t> whole_rests_;
};

}  // namespace

base::Outcome<PartEvents> lay_out(const PartSource& part, std::string_view text) {
  return PartWalker(part, text).run();
}

std::string measure_number(const MeasureSource& measure, std::size_t index) {
  const std::string_view number = attribute(measure.measure, "number");
  return number.empty() ? std::to_string(index + 1) : std::string(number);
}

}  // namespace yubifu::musicxml
