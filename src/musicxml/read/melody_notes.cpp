#include "musicxml/read/melody_notes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "musicxml/read/bar_remarks.h"
#include "musicxml/read/note_element.h"
#include "musicxml/read/note_remarks.h"
#include "musicxml/read/note_texts.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Mark;
using model::Rational;

// One note of a chord, read in full.
struct ChordMember {
  std::size_t index = 0;  // in the part
  SoundingPitch sounds;
  bool tie_starts = false;
  bool tie_stops = false;
  std::optional<NoteDetails> details;  // of a note with notations
};

// Notes of the voice that are struck together, mostly one; the highest is kept.
struct Chord {
  std::vector<ChordMember> members;
  std::size_t kept = 0;

  const ChordMember& top() const { return members[kept]; }
};

using NoteIndexes = std::vector<std::uint32_t>;

// The melody's notes and rests in the order of time. What the score cannot take is remarked and not
// among them: cue notes, notes without a pitch or a length.
NoteIndexes select_melody(const StaffContext& context, Remarks& remarks) {
  const PartEvents& part = context.part();
  const auto is_usable = [&](const PlacedNote& note) {
    const NoteElement& element = note.element;
    const auto remark = [&](const RemarkKind& kind, std::string detail = {}) {
      remarks.add(kind, note.at.measure, range_of(element.node, context.text), std::move(detail));
      return false;
    };
    if (element.has_unknown) remark(remark::unknown_element, unknown_child(element.node).name());
    if (element.has_time_only) remark(remark::sometimes_played);
    if (element.is_cue) return remark(remark::cue_note);
    if (element.kind == NoteKind::unpitched) return remark(remark::unpitched_note);
    if (element.kind == NoteKind::unreadable) return remark(remark::unreadable_note);
    // Notes without a length were told when the part was laid out.
    return element.kind == NoteKind::rest || element.is_grace || note.duration > Rational(0);
  };
  NoteIndexes selected;
  selected.reserve(part.notes.size());
  for (std::size_t i = 0; i < part.notes.size(); ++i) {
    if (context.choice.holds(part, i) && is_usable(part.notes[i])) {
      selected.push_back(static_cast<std::uint32_t>(i));
    }
  }
  const auto earlier = [&](std::uint32_t a, std::uint32_t b) {
    return part.notes[a].at < part.notes[b].at;
  };
  if (!std::is_sorted(selected.begin(), selected.end(), earlier)) {
    std::stable_sort(selected.begin(), selected.end(), earlier);
  }
  return selected;
}

// However they are spelled.
bool same_pitch(const ChordMember& a, const ChordMember& b) {
  constexpr double kSamePitch = 1.0;  // cents
  return std::abs(a.sounds.pitch.total_cents() - b.sounds.pitch.total_cents()) < kSamePitch;
}

// Whether a tie of a member has its other end on a note that the other chord did not keep.
bool is_tied_to_left_out(const ChordMember& member, bool ChordMember::*other_end,
                         const Chord& other) {
  return std::any_of(other.members.begin(), other.members.end(), [&](const ChordMember& candidate) {
    return &candidate != &other.top() && candidate.*other_end && same_pitch(candidate, member);
  });
}

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
    if (note > found->second.note) {
      change_.resize(std::max(change_.size(), note + 1));
      ++change_[found->second.note];
      --change_[note];
    }
    open_.erase(found);
  }

  // Marks every note from the start of a slur to the one before its stop; slurs that never stop
  // are remarked.
  void finish(std::vector<model::Note>& notes, std::string_view text, Remarks& remarks) {
    for (const auto& [number, slur] : open_) unclosed_.push_back(slur);
    for (const auto& [note, at] : unclosed_) {
      remarks.add(remark::unclosed_slur, at->at.measure, range_of(at->element.node, text));
    }
    int depth = 0;
    for (std::size_t i = 0; i < std::min(change_.size(), notes.size()); ++i) {
      depth += change_[i];
      notes[i].slur_to_next = depth > 0;
    }
  }

 private:
  struct Open {
    std::size_t note;
    const PlacedNote* at;
  };

  std::map<std::string, Open> open_;
  std::vector<int> change_;  // by notes: how many more slurs than before lead on from it
  std::vector<Open> unclosed_;
};

constexpr std::string_view kStartTag = "<note";

struct PendingGrace {
  model::Tone tone;
  std::size_t index = 0;       // in the part
  bool steals_before = false;  // it belongs to the note before it
};

class MelodyReader {
 public:
  MelodyReader(const StaffContext& context, const StaffAttributes& attributes)
      : context_(context), attributes_(attributes) {}

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
    const NoteIndexes selected = select_melody(context_, out_.remarks);
    out_.notes.reserve(selected.size());
    out_.sources.reserve(selected.size());
    for (std::size_t i = 0; i < selected.size();) {
      const PlacedNote& note = part_.notes[selected[i]];
      if (note.at.measure != measure_) grace_notes_to_previous();
      measure_ = note.at.measure;
      if (note.element.kind == NoteKind::rest) {
        take_rest(note, selected[i++]);
      } else {
        i = read_chord(selected, i);
        take_chord();
      }
    }
    grace_notes_to_previous();
    if (open_tie()) remark(remark::broken_tie, last_chord_.top().index);
    slurs_.finish(out_.notes, text_, out_.remarks);
    if (out_.notes.empty() || !out_.notes.back().has(Mark::suri)) return;
    remark(remark::slide_to_nothing, last_chord_.top().index);
    std::erase(out_.notes.back().marks, Mark::suri);
  }

  // Reads the chord of the first of the selected notes and returns where the next one begins: it
  // holds the main notes of one onset, whether or not they say so, grace notes only when they do.
  std::size_t read_chord(const NoteIndexes& selected, std::size_t first) {
    const PlacedNote& head = part_.notes[selected[first]];
    chord_.members.clear();
    chord_.kept = 0;
    for (std::size_t i = first; i < selected.size(); ++i) {
      const auto& [element, at, duration] = part_.notes[selected[i]];
      const bool joins = at == head.at && element.kind == NoteKind::pitched &&
                         element.is_grace == head.element.is_grace &&
                         (!head.element.is_grace || element.is_chord);
      if (i > first && !joins) return i;
      ChordMember& member = chord_.members.emplace_back(
          ChordMember{selected[i], attributes_.sounding(element.pitch, at), element.tie_starts,
                      element.tie_stops, std::nullopt});
      if (element.notations) {
        member.details = read_notations(element.notations);
        member.tie_starts |= member.details->tied_starts;
        member.tie_stops |= member.details->tied_stops;
      }
      const bool is_higher =
          member.sounds.pitch.total_cents() > chord_.top().sounds.pitch.total_cents();
      if (is_higher) chord_.kept = i - first;
    }
    return selected.size();
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

  void take_chord() {
    for (const ChordMember& member : chord_.members) {
      if (&member != &chord_.top()) remark(remark::chord_note, member.index);
    }
    if (placed(chord_.top()).element.is_grace) {
      take_grace();
    } else {
      take_main();
    }
  }

  void start_slurs(const ChordMember& member, std::size_t note) {
    for (const std::string& number : member.details->slur_starts) {
      slurs_.start(number, note, placed(member));
    }
  }

  // On the last note.
  void stop_slurs(const NoteDetails& details) {
    for (const std::string& number : details.slur_stops) {
      slurs_.stop(number, out_.notes.empty() ? 0 : out_.notes.size() - 1);
    }
  }

  void take_grace() {
    const ChordMember& top = chord_.top();
    const pugi::xml_node grace = placed(top).element.node.child("grace");
    pending_.push_back({{}, top.index, !attribute(grace, "steal-time-previous").empty()});
    set_pitch(pending_.back().tone, top);
    for (const ChordMember& member : chord_.members) {
      if (!member.details) continue;
      start_slurs(member, out_.notes.size());
      stop_slurs(*member.details);
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
    const auto belongs_back = [&](const PendingGrace& grace) {
      return grace.steals_before && main > 0;
    };
    std::stable_partition(pending_.begin(), pending_.end(), belongs_back);
    for (const PendingGrace& grace : pending_) {
      if (belongs_back(grace)) {
        attach_grace(grace, ToneRef::Place::after, main - 1);
      } else {
        attach_grace(grace, ToneRef::Place::before, main);
      }
    }
    pending_.clear();
  }

  void take_main() {
    const PlacedNote& top = placed(chord_.top());
    const Moment start = map_.start_at(top.at);
    if (!out_.notes.empty() && start == last_piece_) {
      // It came after a rest or grace note of the same onset.
      for (const ChordMember& member : chord_.members) remark(remark::chord_note, member.index);
      return;
    }
    cut_previous(top, start);
    const bool is_held = continues_tie(start);
    if (is_held) {
      out_.notes.back().duration += top.duration;
      for (const PendingGrace& grace : pending_) remark(remark::grace_without_note, grace.index);
      pending_.clear();
    } else {
      remark_ties();
      add_note(top, start);
    }
    for (const ChordMember& member : chord_.members) {
      add_source(member.index, out_.notes.size() - 1, ToneRef::Place::main, 0, is_held);
    }
    add_details();
    last_end_ = map_.later(start, top.duration);
    last_piece_ = start;
    std::swap(last_chord_, chord_);
  }

  // Of a note that is struck, and of the one before it.
  void remark_ties() {
    const ChordMember& top = chord_.top();
    if (open_tie()) {
      const bool left_out = is_tied_to_left_out(last_chord_.top(), &ChordMember::tie_stops, chord_);
      remark(left_out ? remark::tie_to_lower : remark::broken_tie, last_chord_.top().index);
    }
    if (top.tie_stops) {
      const bool left_out = is_tied_to_left_out(top, &ChordMember::tie_starts, last_chord_);
      remark(left_out ? remark::tie_to_lower : remark::tie_from_nowhere, top.index);
    }
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

  bool continues_tie(const Moment& start) const {
    return open_tie() && chord_.top().tie_stops && last_end_ == start &&
           same_pitch(last_chord_.top(), chord_.top());
  }

  void add_note(const PlacedNote& top, const Moment& start) {
    // A rest of the same voice where a note begins is none.
    while (!out_.rests.empty() &&
           !(Moment{out_.rests.back().measure, out_.rests.back().onset} < start)) {
      remark(remark::mark_on_rest, chord_.top().index);
      out_.rests.pop_back();
    }
    model::Note& note = out_.notes.emplace_back();
    note.measure = start.measure;
    note.onset = start.onset;
    note.duration = top.duration;
    set_pitch(note.tone, chord_.top());
    note.source = {top.element.begin, top.element.begin + kStartTag.size()};
    grace_notes_before_main(out_.notes.size() - 1);
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
  void add_details() {
    model::Note& note = out_.notes.back();
    MarkSet marks;
    for (const Mark mark : note.marks) marks.add(mark);
    for (const ChordMember& member : chord_.members) {
      if (!member.details) continue;
      marks.add(member.details->marks);
      stop_slurs(*member.details);
      start_slurs(member, out_.notes.size() - 1);
      for (const pugi::xml_node node : member.details->left_out) {
        remark_node(remark::notation, member.index, node);
      }
      add_directions(placed(member), *member.details);
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
    for (std::uint32_t i = 0; i < rest.element.lyric_count; ++i) {
      remark(remark::text_on_rest, index);
    }
    if (!rest.element.notations) return;
    const NoteDetails details = read_notations(rest.element.notations);
    for (const pugi::xml_node node : details.left_out) {
      remark_node(remark::mark_on_rest, index, node);
    }
    stop_slurs(details);
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

  const StaffContext& context_;
  const StaffAttributes& attributes_;
  const PartEvents& part_ = context_.part();
  const BarMap& map_ = context_.map;
  std::string_view text_ = context_.text;
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
  if (ref.place == ToneRef::Place::before) return note.grace_before[ref.index];
  return ref.place == ToneRef::Place::after ? note.grace_after[ref.index] : note.tone;
}

}  // namespace yubifu::musicxml
