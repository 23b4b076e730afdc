#include "musicxml/read/reader.h"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/message.h"
#include "base/word_table.h"
#include "model/note.h"
#include "model/strokes.h"
#include "musicxml/read/bar_map.h"
#include "musicxml/read/header_reader.h"
#include "musicxml/read/melody.h"
#include "musicxml/read/melody_choice.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/remarks.h"
#include "musicxml/read/staff_attributes.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// How far 一 lies over the nearest size.
double offset_of(const model::FluteName& name) {
  const auto* size = std::get_if<model::FluteSize>(&name);
  if (size == nullptr) return 0;
  return model::pitch_at(100 * size->size.as_double() + size->cents).cents;
}

// A pitch without cents is the plain note of the flute. One that lies on its semitone because a
// bend takes the offset away is so little beside it that nobody hears it.
constexpr double kBesideSemitone = 1e-6;

constexpr RemarkKind kOtherStrokes =
    kind(rule::strokes_differ, "fingering has strokes that do not count the held beats of its note",
         "fingerings have strokes that do not count the held beats of their notes");

// For a staff of our own writing and flutes that have an offset (half sizes, 6+15c). In C, pitches
// with a fraction of a semitone count from the nearest size: adds the offset to them. Whole
// pitches stay as they are written, and resolving takes them for notes of the flute; but where the
// staff shows that it has fractions, a bend that takes away the whole offset leaves one that is no
// such note, and gets an inaudible fraction. Flutes of a file are left alone, for nobody here
// knows them.
void add_offsets(const model::Header& header, const std::vector<model::Direction>& directions,
                 std::vector<model::Note>& notes) {
  std::vector<std::pair<std::size_t, double>> changes;  // from a measure on
  changes.emplace_back(0, offset_of(header.flute.value_or(model::kDefaultFluteSize)));
  for (const model::Direction& direction : directions) {
    if (const auto* change = std::get_if<model::FluteChange>(&direction.value)) {
      changes.emplace_back(direction.measure, offset_of(change->flute));
    }
  }
  std::stable_sort(changes.begin(), changes.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  auto next = changes.begin();
  double now = 0;
  std::vector<std::pair<model::Pitch*, double>> pitches;  // on a flute with an offset, and that
  for (model::Note& note : notes) {
    for (; next != changes.end() && next->first <= note.measure; ++next) now = next->second;
    if (now == 0) continue;
    for_each_tone(note, [&](model::Tone& tone) {
      if (tone.pitch) pitches.emplace_back(&*tone.pitch, now);
    });
  }
  const bool is_sounding = header.staff == model::StaffMode::sounding;
  const bool has_fractions = std::any_of(
      pitches.begin(), pitches.end(), [](const auto& beside) { return beside.first->cents != 0; });
  if (!has_fractions) return;
  for (const auto& [pitch, offset] : pitches) {
    if (!is_sounding && pitch->cents == 0) continue;
    if (!is_sounding) *pitch = model::pitch_at(pitch->total_cents() + offset);
    if (pitch->cents == 0) pitch->cents = kBesideSemitone;
  }
}

using model::Rational;

class StaffReader {
 public:
  StaffReader(std::string_view text, const MusicXmlReadOptions& options)
      : text_(text), options_(options) {}

  base::Outcome<model::Score> run() {
    try {
      if (parse() && lay_out_parts()) build();
    } catch (const model::TimeOverflow&) {
      fail(base::report(rule::staff_overflow, std::nullopt,
                        base::message("the durations are too fine or too long to be added up")));
    }
    return std::move(out_);
  }

 private:
  // False so that a failed step can end the run.
  bool fail(base::Diagnostic diagnostic) {
    out_.value.reset();
    out_.diagnostics.push_back(std::move(diagnostic));
    return false;
  }

  template <typename Value>
  std::optional<Value> taken(base::Outcome<Value> outcome) {
    base::append(out_.diagnostics, std::move(outcome.diagnostics));
    return std::move(outcome.value);
  }

  bool parse() {
    auto document = taken(parse_xml(text_));
    if (!document) return false;
    document_ = *std::move(document);
    root_ = document_.document_element();
    const std::string_view name = root_.name();
    if (name == "score-partwise" || name == "score-timewise") return true;
    return fail(base::report(
        rule::not_a_staff_file, range_of(root_, text_),
        base::message("the root element is '{}', not a score of MusicXML", name),
        name == "opus" || name == "container"
            ? base::message("this file only names scores; read one of them")
            : base::message("give a file that a notation program has exported as MusicXML")));
  }

  bool lay_out_parts() {
    auto parts = taken(find_parts(root_, text_));
    if (!parts) return false;
    parts_ = *std::move(parts);
    for (const PartSource& part : parts_) {
      auto events = taken(lay_out(part, text_));
      if (!events) return false;
      events_.push_back(*std::move(events));
    }
    auto choice = taken(choose_melody(parts_, events_, options_, text_));
    if (!choice) return false;
    choice_ = *std::move(choice);
    return true;
  }

  const PartEvents& part() const { return events_[choice_.part]; }

  void build() {
    HeaderReading header = read_header(root_, text_);
    StaffAttributes attributes = read_attributes(part(), choice_.main_staff, text_);
    const BarMap map(measure_extents(events_, choice_, attributes));
    std::vector<model::Measure> measures = plain_measures(map, attributes, header.is_ours);
    BarLineSigns lines = apply_bar_lines(part(), map, text_, measures);
    const auto annotation = options_.read_fingering ? options_.read_fingering : header.annotation;
    const StaffContext context{events_,    choice_, map, header.is_ours, header.is_annotated,
                               annotation, text_};
    MelodyNotes melody = read_melody(context, attributes);
    const std::vector<std::size_t> silent = silent_measures(part(), choice_);
    if (melody.overflow) {
      const MeasureSource& measure = part().measures[*melody.overflow].source;
      fail(base::report(rule::staff_overflow, range_of(measure.measure, text_),
                        base::message("the durations up to bar {} are too fine or too long to be "
                                      "added up",
                                      measure_number(measure, *melody.overflow))));
      return;
    }
    ScoreDirections directions = read_directions(context, measures, melody.notes);
    if (header.is_ours) add_offsets(header.header, directions.directions, melody.notes);
    model::Score score;
    NoteTexts at_notes = add_note_texts(melody, directions, context);
    // Their places in the document are known, and a long part has many.
    for (PartEvents& events : events_) events.notes = {};
    score.verses = std::move(at_notes.verses);
    score.header = std::move(header.header);
    score.measures = std::move(measures);
    score.notes = std::move(melody.notes);
    if (header.octaves) move_to_fingers(*header.octaves, header.remarks, score);
    score.rests = std::move(melody.rests);
    apply_directions(directions, score);
    add_keys(attributes, map, header.is_ours, directions.own_places, score);
    for (auto* list : {&lines.directions, &directions.directions, &melody.directions}) {
      std::move(list->begin(), list->end(), std::back_inserter(score.directions));
    }
    finish(score, header.is_ours);
    check_lengths(score, map, melody.remarks);
    check_strokes(score, map, at_notes, melody.remarks);
    tell(attributes, silent,
         {&header.remarks, &attributes.remarks, &lines.remarks, &melody.remarks,
          &directions.remarks});
    out_.value = std::move(score);
  }

  std::vector<model::Measure> plain_measures(const BarMap& map, const StaffAttributes& attributes,
                                             bool is_ours) const {
    const std::vector<model::Meter> meters = measure_meters(attributes, part().measures.size());
    std::vector<model::Measure> measures(map.bar_count());
    for (std::size_t i = 0; i < measures.size(); ++i) {
      const std::size_t source = map.source_of_bar(i);
      const MeasureSource& from = part().measures[source].source;
      measures[i].number = measure_number(from, source);
      measures[i].length = map.length_of_bar(i);
      measures[i].meter = meters[source];
      measures[i].source = start_of(from.measure);
    }
    for (const PlacedNode& print : part().prints) {
      const bool breaks = attribute(print.node, "new-system") == "yes" ||
                          attribute(print.node, "new-page") == "yes";
      const std::size_t bar = map.boundary_at(print.at);
      if (breaks && bar > 0 && bar < measures.size()) {
        measures[bar].break_before = is_ours ? model::LineBreak::line : model::LineBreak::system;
      }
    }
    return measures;
  }

  // Annotate has moved the fingers and left the notes alone.
  void move_to_fingers(const PartOctaves& moved, Remarks& remarks, model::Score& score) {
    const std::string& id = parts_[choice_.part].id;
    if (moved.part != id && moved.part != part_label({}, choice_.part + 1)) return;
    if (!model::move_octaves(score.notes, moved.octaves)) {
      remarks.add(kOwnField, base::kNoBar, {},
                  fmt::format("{} {}", field::kOctave, to_text(moved)));
    } else if (moved.octaves != 0) {
      const std::string far = model::octaves_text(moved.octaves);
      out_.diagnostics.push_back(base::report(
          rule::annotated_octave, std::nullopt,
          moved.octaves > 0
              ? base::message("the fingering lies {} above the written notes, and so it sounds",
                              far)
              : base::message("the fingering lies {} below the written notes, and so it sounds",
                              far)));
    }
  }

  // What directions say of the bars themselves: styles, repeats, beats.
  static void apply_directions(const ScoreDirections& directions, model::Score& score) {
    for (const auto& [bar, style] : directions.bar_styles) score.measures[bar].right = style;
    for (const std::size_t bar : directions.repeat_starts) {
      if (bar < score.measures.size()) score.measures[bar].repeat_start = true;
    }
    std::vector<std::pair<Moment, Rational>> beats = directions.beats;
    std::stable_sort(beats.begin(), beats.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    auto next = beats.begin();
    Rational beat = 1;
    for (std::size_t i = 0; i < score.measures.size(); ++i) {
      model::Measure& measure = score.measures[i];
      const bool new_meter = i == 0 || score.measures[i - 1].meter != measure.meter;
      if (new_meter) beat = model::default_beat(measure.meter);
      if (i == 0 && score.header.beat && divides(*score.header.beat, measure.meter)) {
        beat = *score.header.beat;
      }
      for (; next != beats.end() && next->first == Moment{i, 0}; ++next) beat = next->second;
      measure.beat = beat;
      for (; next != beats.end() && next->first.measure == i; ++next) {
        beat = next->second;
        score.directions.push_back({i, next->first.onset, model::BeatChange{beat}, {}});
      }
      // A beat that the last measure took over may not divide this one's meter.
      if (!divides(measure.beat, measure.meter)) measure.beat = model::default_beat(measure.meter);
    }
  }

  // In a file of ours the first key is only print unless the header names it, and so is a change
  // beside a text of our own.
  static void add_keys(const StaffAttributes& attributes, const BarMap& map, bool is_ours,
                       const std::vector<Moment>& own_places, model::Score& score) {
    for (const From<model::Key>& change : attributes.keys) {
      const bool at_start = change.at == Moment{0, 0};
      const bool told = std::binary_search(own_places.begin(), own_places.end(), change.at);
      if (is_ours && (at_start || told)) continue;
      const Moment place = map.start_at(change.at);
      score.directions.push_back({place.measure, place.onset, model::KeyChange{change.value}, {}});
    }
  }

  void finish(model::Score& score, bool is_ours) const {
    std::stable_sort(score.directions.begin(), score.directions.end(),
                     [](const model::Direction& a, const model::Direction& b) {
                       return Moment{a.measure, a.onset} < Moment{b.measure, b.onset};
                     });
    model::mark_irregular(score);
    if (!is_ours && !score.header.staff) score.header.staff = model::StaffMode::sounding;
    model::gather_start_into_header(score);
  }

  // Bars of another length than their meter, where the file does not say that they are meant so.
  void check_lengths(const model::Score& score, const BarMap& map, Remarks& remarks) const {
    for (std::size_t i = 0; i < score.measures.size(); ++i) {
      const model::Measure& bar = score.measures[i];
      const std::size_t source = map.source_of_bar(i);
      const auto& [measure, content] = part().measures[source].source;
      if (!bar.irregular || attribute(measure, "implicit") == "yes") continue;
      if (is_said_irregular(content)) continue;
      remarks.add(
          kind(rule::uneven_bar, "bar does not fill its meter", "bars do not fill their meter"),
          source, bar.source,
          base::message("{} of {} quarters", to_text(bar.length), to_text(bar.meter.length())));
    }
  }

  // In words of our own.
  static bool is_said_irregular(pugi::xml_node content) {
    for (const pugi::xml_node direction : content.children("direction")) {
      for (const pugi::xml_node type : direction.children("direction-type")) {
        const auto own = parse_own_text(text_of(type.child("other-direction")));
        if (own && std::holds_alternative<IrregularBar>(*own)) return true;
      }
    }
    return false;
  }

  // In a file that has strokes, each fingering has those of its note.
  void check_strokes(const model::Score& score, const BarMap& map, const NoteTexts& texts,
                     Remarks& remarks) const {
    if (texts.stroked.empty()) return;
    const std::vector<std::string> strokes = model::stroke_texts(score);
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      const model::Note& note = score.notes[i];
      if (!note.tone.fingering) continue;
      const std::string& due = strokes[i];
      if (const auto found = texts.stroked.find(i); found != texts.stroked.end()) {
        const PlacedText& written = found->second;
        const std::size_t signs = model::without_strokes(written.text).size();
        if (std::string_view(written.text).substr(signs) == due) continue;
        remarks.add(kOtherStrokes, written.measure, range_of(written.node, text_), written.text);
      } else if (!due.empty()) {
        const bool is_gap = note.tone.fingering->is_gap();
        remarks.add(kOtherStrokes, map.source_of_bar(note.measure), note.source,
                    is_gap ? std::string(model::kGapSign) : printed(*note.tone.fingering));
      }
    }
  }

  void tell(const StaffAttributes& attributes, const std::vector<std::size_t>& silent,
            const std::vector<const Remarks*>& lists) {
    Remarks remarks = part().remarks;
    static constexpr auto kKnown = base::word_table<RemarkKind>(
        {{kind(rule::left_out, "chord symbol left out", "chord symbols left out"), "harmony"},
         {kind(rule::left_out, "figured bass left out", "figured basses left out"),
          "figured-bass"}});
    for (const PlacedNode& other : part().others) {
      const std::string_view name = other.node.name();
      const auto known = kKnown.value_of(name);
      remarks.add(known.value_or(kUnknownElement), other.at.measure, range_of(other.node, text_),
                  known ? std::string() : std::string(name));
    }
    for (const Passage& passage : choice_.following.passages) {
      remarks.add(kind(rule::voice_followed, "bar read from another voice, where the line goes on",
                       "bars read from another voice, where the line goes on", Details::together),
                  passage.measure, range_of(part().measures[passage.measure].source.measure, text_),
                  base::message("voice {}", part().voices[passage.voice]));
    }
    for (const std::size_t measure : silent) {
      remarks.add(kind(rule::silent_voice, "bar has notes in other voices only",
                       "bars have notes in other voices only"),
                  measure, range_of(part().measures[measure].source.measure, text_));
    }
    for (const Remarks* list : lists) remarks.append(*list);
    base::append(out_.diagnostics, remarks.diagnostics([this](std::size_t measure) {
      return measure_number(part().measures[measure].source, measure);
    }));
    if (attributes.meters.empty()) {
      out_.diagnostics.push_back(
          base::report(rule::no_meter, std::nullopt,
                       base::message("the file has no meter and is read in free time"),
                       base::message("give it one in a notation program")));
    }
  }

  std::string_view text_;
  const MusicXmlReadOptions& options_;
  base::Outcome<model::Score> out_;
  pugi::xml_document document_;
  pugi::xml_node root_;
  std::vector<PartSource> parts_;
  std::vector<PartEvents> events_;
  MelodyChoice choice_;
};

}  // namespace

base::Outcome<model::Score> read_musicxml(const base::SourceText& source,
                                          const MusicXmlReadOptions& options) {
  return StaffReader(source.text(), options).run();
}

}  // namespace yubifu::musicxml
