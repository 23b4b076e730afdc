#include "musicxml/read/melody_notes.h"

#include <algorithm>
#include <map>
#include <utility>

#include "base/source_text.h"
#include "musicxml/read/annotation_text.h"
#include "musicxml/read/note_element.h"
#include "musicxml/read/note_remarks.h"
#include "musicxml/read/voice_chords.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// Collects starts and stops by the numbers of the slurs; notes by their index in the score.
class SlurCollector {
 public:
  void start(const std::string& number, std::size_t note, const PlacedNote& at) {
    const Open slur{note, &at};
    const auto [place, is_new] = open_.try_emplace(number, slur);
    if (is_new || place->second.note == note) return;  // on several notes of one chord
    unclosed_.push_back(std::exchange(place->second, slur));
  }

  // A stop without a start says nothing.
  void stop(const std::string& number, std::size_t note) {
    const auto found = open_.find(number);
    if (found == open_.end()) return;
    if (note > found->second.note) closed_.emplace_back(found->second.note, note);
    open_.erase(found);
  }

  // Marks every note from the start of a slur to the one before its stop; slurs that never stop
  // are remarked.
  void finish(std::vector<model::Note>& notes, std::string_view text, Remarks& remarks) {
    for (const auto& [number, slur] : open_) unclosed_.push_back(slur);
    for (const auto& [note, at] : unclosed_) {
      remarks.add(remark::unclosed_slur, at->at.measure, range_of(at->element.node, text));
    }
    std::vector<int> change(notes.size() + 1, 0);
    for (const auto& [begin, end] : closed_) {
      ++change[begin];
      --change[end];
    }
    int depth = 0;
    for (std::size_t i = 0; i < notes.size(); ++i) {
      depth += change[i];
      notes[i].slur_to_next = depth > 0;
    }
  }

 private:
  struct Open {
    std::size_t note;
    const PlacedNote* at;
  };

  std::map<std::string, Open> open_;
  std::vector<std::pair<std::size_t, std::size_t>> closed_;
  std::vector<Open> unclosed_;
};

using model::Mark;
using model::Rational;

constexpr std::string_view kStartTag = "<note";

struct PendingGrace {
  model::Tone tone;
  std::size_t index = 0;       // in the part
  bool steals_before = false;  // it belongs to the note before it
};

class MelodyReader {
 public:
  MelodyReader(const StaffContext& context, const StaffAttributes& attributes)
      : context_(context),
        attributes_(attributes),
        part_(context.part()),
        map_(context.map),
        text_(context.text) {}

  MelodyNotes run() {
    try {
      read_all();
    } catch (const model::TimeOverflow&) {
      out_.overflow = measure_;
    }
    return std::move(out_);
  }

 private:
  void read_all() {
    const NoteIndexes selected = select_melody(part_, context_.choice, text_, out_.remarks);
    out_.notes.reserve(selected.size());
    out_.sources.reserve(selected.size());
    for (std::size_t i = 0; i < selected.size();) {
      const PlacedNote& note = part_.notes[selected[i]];
      if (note.at.measure != measure_) finish_measure(note.at.measure);
      std::size_t end = i + 1;
      if (note.element.kind == NoteKind::rest) {
        take_rest(note, selected[i]);
      } else {
        end = end_of_chord(part_, selected, i);
        read_chord(part_, attributes_, selected, i, end, chord_);
        take_chord(chord_);
      }
      i = end;
    }
    finish_measure(measure_);
    if (open_tie()) remark_tie(false);
    slurs_.finish(out_.notes, text_, out_.remarks);
    drop_last_slide();
  }

  const PlacedNote& placed(const ChordMember& member) const { return part_.notes[member.index]; }

  void remark(const RemarkKind& kind, std::size_t index, std::string detail = {}) {
    const PlacedNote& note = part_.notes[index];
    out_.remarks.add(kind, note.at.measure, range_of(note.element.node, text_), std::move(detail));
  }

  void remark_node(const RemarkKind& kind, std::size_t index, pugi::xml_node node) {
    const bool is_print = context_.is_ours || (context_.is_annotated && is_in_annotation(node));
    if (is_print && std::string_view(node.name()) == "hole") return;
    out_.remarks.add(kind, part_.notes[index].at.measure, range_of(node, text_), node.name());
  }

  static void set_pitch(model::Tone& tone, const ChordMember& member) {
    tone.pitch = member.sounds.pitch;
    tone.spelling = member.sounds.spelling;
  }

  void take_chord(const Chord& chord) {
    for (std::size_t i = 0; i < chord.members.size(); ++i) {
      if (i != chord.kept) remark(remark::chord_note, chord.members[i].index);
    }
    if (placed(chord.top()).element.is_grace) {
      take_grace(chord);
    } else {
      take_main(chord);
    }
  }

  void start_slurs(const ChordMember& member, std::size_t note) {
    for (const std::string& number : member.details->slur_starts) {
      slurs_.start(number, note, placed(member));
    }
  }

  void take_grace(const Chord& chord) {
    const pugi::xml_node grace = placed(chord.top()).element.node.child("grace");
    const bool steals_before = !attribute(grace, "steal-time-previous").empty();
    PendingGrace& pending =
        pending_.emplace_back(PendingGrace{{}, chord.top().index, steals_before});
    set_pitch(pending.tone, chord.top());
    for (const ChordMember& member : chord.members) {
      if (!member.details) continue;
      start_slurs(member, out_.notes.size());
      for (const std::string& number : member.details->slur_stops) {
        slurs_.stop(number, out_.notes.empty() ? 0 : out_.notes.size() - 1);
      }
      for (const Mark mark : member.details->marks.list()) {
        remark(remark::mark_on_grace, member.index, std::string(element_of(mark).element));
      }
      for (const pugi::xml_node node : member.details->left_out) {
        remark_node(remark::mark_on_grace, member.index, node);
      }
    }
  }

  void attach_grace(const PendingGrace& grace, ToneRef::Place place, std::size_t note) {
    if (note >= out_.notes.size()) {
      remark(remark::grace_without_note, grace.index);
      return;
    }
    std::vector<model::Tone>& list = place == ToneRef::Place::before ? out_.notes[note].grace_before
                                                                     : out_.notes[note].grace_after;
    add_source(grace.index, note, place, list.size());
    list.push_back(grace.tone);
  }

  // Grace notes that no note of the measure follows belong to the note before them.
  void grace_notes_to_previous() {
    for (const PendingGrace& grace : pending_) {
      attach_grace(grace, ToneRef::Place::after, out_.notes.size() - 1);
    }
    pending_.clear();
  }

  void grace_notes_before_main(std::size_t main) {
    const auto first_before = std::stable_partition(
        pending_.begin(), pending_.end(),
        [&](const PendingGrace& grace) { return grace.steals_before && main > 0; });
    for (auto grace = pending_.begin(); grace != first_before; ++grace) {
      attach_grace(*grace, ToneRef::Place::after, main - 1);
    }
    for (auto grace = first_before; grace != pending_.end(); ++grace) {
      attach_grace(*grace, ToneRef::Place::before, main);
    }
    pending_.clear();
  }

  void finish_measure(std::size_t next) {
    grace_notes_to_previous();
    measure_ = next;
  }

  void take_main(const Chord& chord) {
    const PlacedNote& top = placed(chord.top());
    const Moment start = map_.start_at(top.at);
    if (!out_.notes.empty() && start == last_piece_) {
      // It came after a rest or grace note of the same onset.
      for (const ChordMember& member : chord.members) remark(remark::chord_note, member.index);
      return;
    }
    cut_previous(top, start);
    if (continues_tie(chord, start)) {
      extend_last(chord, top);
    } else {
      if (open_tie()) remark_tie(is_tied_to_left_out(last_chord_.top(), TieEnd::start, chord));
      if (chord.top().tie_stops) {
        const bool left_out = is_tied_to_left_out(chord.top(), TieEnd::stop, last_chord_);
        remark(left_out ? remark::tie_to_lower : remark::tie_from_nowhere, chord.top().index);
      }
      add_note(chord, top, start);
    }
    add_details(chord);
    last_end_ = map_.later(start, top.duration);
    last_piece_ = start;
    std::swap(last_chord_, chord_);
  }

  // A note still sounding where the next one of its voice begins ends there.
  void cut_previous(const PlacedNote& next, const Moment& start) {
    if (out_.notes.empty() || !(start < last_end_)) return;
    remark(remark::overlap, last_chord_.top().index);
    // Both lie in one measure of the file: longer notes would make the measure longer.
    const Rational overlap =
        placed(last_chord_.top()).at.onset + placed(last_chord_.top()).duration - next.at.onset;
    out_.notes.back().duration -= overlap;
    last_end_ = start;
  }

  bool open_tie() const { return !out_.notes.empty() && last_chord_.top().tie_starts; }

  bool continues_tie(const Chord& chord, const Moment& start) const {
    return open_tie() && chord.top().tie_stops && last_end_ == start &&
           same_pitch(last_chord_.top().sounds.pitch, chord.top().sounds.pitch);
  }

  void remark_tie(bool to_left_out) {
    remark(to_left_out ? remark::tie_to_lower : remark::broken_tie, last_chord_.top().index);
  }

  void extend_last(const Chord& chord, const PlacedNote& top) {
    out_.notes.back().duration += top.duration;
    for (const PendingGrace& grace : pending_) remark(remark::grace_without_note, grace.index);
    pending_.clear();
    for (const ChordMember& member : chord.members) add_main_source(member, true);
  }

  void add_note(const Chord& chord, const PlacedNote& top, const Moment& start) {
    drop_rests_from(start, chord.top().index);
    model::Note& note = out_.notes.emplace_back();
    note.measure = start.measure;
    note.onset = start.onset;
    note.duration = top.duration;
    set_pitch(note.tone, chord.top());
    note.source = {top.element.begin, top.element.begin + kStartTag.size()};
    grace_notes_before_main(out_.notes.size() - 1);
    for (const ChordMember& member : chord.members) add_main_source(member, false);
  }

  // A rest of the same voice where a note begins is none.
  void drop_rests_from(const Moment& start, std::size_t index) {
    while (!out_.rests.empty() &&
           !(Moment{out_.rests.back().measure, out_.rests.back().onset} < start)) {
      remark(remark::mark_on_rest, index);
      out_.rests.pop_back();
    }
  }

  void add_main_source(const ChordMember& member, bool is_held) {
    add_source(member.index, out_.notes.size() - 1, ToneRef::Place::main, 0, is_held);
  }

  void add_source(std::size_t of_part, std::size_t note, ToneRef::Place place, std::size_t index,
                  bool is_held = false) {
    ToneSource& source = out_.sources.emplace_back();
    source.tone.note = static_cast<std::uint32_t>(note);
    source.tone.index = static_cast<std::uint32_t>(index) & 0x3FFFFFFF;
    source.tone.place = place;
    source.note = static_cast<std::uint32_t>(of_part) & 0x7FFFFFFF;
    source.is_held = is_held;
  }

  // What notations on any member of the chord say counts for the note that is kept.
  void add_details(const Chord& chord) {
    const std::size_t index = out_.notes.size() - 1;
    model::Note& note = out_.notes.back();
    MarkSet marks;
    for (const Mark mark : note.marks) marks.add(mark);
    for (const ChordMember& member : chord.members) {
      if (!member.details) continue;
      const NoteDetails& details = *member.details;
      marks.add(details.marks);
      for (const std::string& number : details.slur_stops) slurs_.stop(number, index);
      start_slurs(member, index);
      for (const pugi::xml_node node : details.left_out) {
        remark_node(remark::notation, member.index, node);
      }
      add_directions(placed(member), details);
    }
    if (!marks.empty()) note.marks = marks.list();
  }

  void add_directions(const PlacedNote& note, const NoteDetails& details) {
    for (const pugi::xml_node node : details.dynamics) {
      const Moment start = map_.start_at(note.at);
      if (std::string level = dynamic_level(node); !level.empty()) {
        out_.directions.push_back(
            {start.measure, start.onset, model::Dynamic{std::move(level)}, range_of(node, text_)});
      }
    }
    if (details.has_caesura) {
      const Moment end = map_.end_at({note.at.measure, note.at.onset + note.duration});
      out_.directions.push_back(
          {end.measure, end.onset, model::Cue::caesura, range_of(note.element.node, text_)});
    }
  }

  void take_rest(const PlacedNote& rest, std::size_t index) {
    grace_notes_to_previous();
    const Moment start = map_.start_at(rest.at);
    if (rest.element.lyric_count > 0) {
      const base::SourceRange where = range_of(rest.element.node, text_);
      for (std::uint32_t i = 0; i < rest.element.lyric_count; ++i) {
        out_.remarks.add(remark::text_on_rest, rest.at.measure, where);
      }
    }
    if (!rest.element.notations) return;
    const NoteDetails details = read_notations(rest.element.notations);
    for (const pugi::xml_node node : details.left_out) {
      remark_node(remark::mark_on_rest, index, node);
    }
    for (const std::string& number : details.slur_stops) {
      slurs_.stop(number, out_.notes.empty() ? 0 : out_.notes.size() - 1);
    }
    MarkSet marks;
    for (const Mark mark : details.marks.list()) {
      if (model::is_rest_mark(mark)) {
        marks.add(mark);
      } else {
        remark(remark::mark_on_rest, index, std::string(element_of(mark).element));
      }
    }
    const bool under_note = !out_.notes.empty() && start < last_end_;
    const bool at_end = start.onset >= map_.length_of_bar(start.measure);
    const bool again = !out_.rests.empty() && out_.rests.back().measure == start.measure &&
                       out_.rests.back().onset == start.onset;
    if (marks.empty() || under_note || at_end || again) return;
    out_.rests.push_back(
        {start.measure, start.onset, marks.list(), range_of(rest.element.node, text_)});
  }

  void drop_last_slide() {
    if (out_.notes.empty() || !out_.notes.back().has(Mark::suri)) return;
    remark(remark::slide_to_nothing, last_chord_.top().index);
    std::erase(out_.notes.back().marks, Mark::suri);
  }

  const StaffContext& context_;
  const StaffAttributes& attributes_;
  const PartEvents& part_;
  const BarMap& map_;
  std::string_view text_;
  MelodyNotes out_;
  SlurCollector slurs_;
  std::size_t measure_ = 0;
  std::vector<PendingGrace> pending_;
  Chord chord_;        // that is taken
  Chord last_chord_;   // of the last main note, or of its last tied piece
  Moment last_piece_;  // where that began, in the score
  Moment last_end_;    // and where it ends
};

}  // namespace

MelodyNotes read_melody(const StaffContext& context, const StaffAttributes& attributes) {
  return MelodyReader(context, attributes).run();
}

model::Tone& tone_of(std::vector<model::Note>& notes, const ToneRef& ref) {
  model::Note& note = notes[ref.note];
  switch (ref.place) {
    case ToneRef::Place::before:
      return note.grace_before[ref.index];
    case ToneRef::Place::after:
      return note.grace_after[ref.index];
    case ToneRef::Place::main:
      break;
  }
  return note.tone;
}

}  // namespace yubifu::musicxml
