#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "musicxml/read/melody.h"
#include "musicxml/read/note_element.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Mark;
using model::Rational;

constexpr RemarkKind kChordNote =
    kind(rule::left_out, "chord note left out", "chord notes left out");
constexpr RemarkKind kGraceWithoutNote =
    kind(rule::left_out, "grace note without a main note left out",
         "grace notes without a main note left out");
constexpr RemarkKind kBrokenTie =
    kind(rule::tie_without_partner, "tie leads to no note of its pitch; both notes are struck",
         "ties lead to no note of their pitch; the notes are struck");
constexpr RemarkKind kTieToLower =
    kind(rule::tie_without_partner, "tie with a lower note of a chord is left out with that note",
         "ties with lower notes of chords are left out with those notes");
constexpr RemarkKind kMarkOnGrace =
    kind(rule::left_out, "mark on a grace note left out", "marks on grace notes left out");
constexpr RemarkKind kMarkOnRest =
    kind(rule::left_out, "mark on a rest left out", "marks on rests left out");

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
    if (element.has_unknown) remark(kUnknownElement, unknown_child(element.node).name());
    if (element.has_time_only)
      remark(kind(rule::left_out, "note for only some of the repetitions read for all",
                  "notes for only some of the repetitions read for all"));
    if (element.is_cue)
      return remark(kind(rule::left_out, "cue note left out", "cue notes left out"));
    if (element.kind == NoteKind::unpitched)
      return remark(kind(rule::left_out, "unpitched note left out", "unpitched notes left out"));
    if (element.kind == NoteKind::unreadable)
      return remark(kind(rule::unknown_value, "note without a readable pitch left out",
                         "notes without a readable pitch left out"));
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
      remarks.add(
          kind(rule::left_out, "slur without an end left out", "slurs without an end left out"),
          at->at.measure, range_of(at->element.node, text));
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
    if (open_tie()) remark(last_chord_.top().index, kBrokenTie);
    slurs_.finish(out_.notes, text_, out_.remarks);
    if (out_.notes.empty() || !out_.notes.back().has(Mark::suri)) return;
    remark(last_chord_.top().index, kind(rule::left_out, "slide without a second note left out",
                                         "slides without a second note left out"));
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

  void remark(std::size_t index, const RemarkKind& kind, std::string detail = {}) {
    const PlacedNote& note = part_.notes[index];
    out_.remarks.add(kind, note.at.measure, range_of(note.element.node, text_), std::move(detail));
  }

  void remark_node(std::size_t index, pugi::xml_node node, const RemarkKind& kind) {
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
      if (&member != &chord_.top()) remark(member.index, kChordNote);
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
        remark(member.index, kMarkOnGrace, std::string(element_of(mark).element));
      }
      for (const pugi::xml_node node : member.details->left_out) {
        remark_node(member.index, node, kMarkOnGrace);
      }
    }
  }

  void attach_grace(const PendingGrace& grace, ToneRef::Place place, std::size_t note) {
    if (note >= out_.notes.size()) {
      remark(grace.index, kGraceWithoutNote);
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
      const bool back = belongs_back(grace);
      attach_grace(grace, back ? ToneRef::Place::after : ToneRef::Place::before,
                   back ? main - 1 : main);
    }
    pending_.clear();
  }

  void take_main() {
    const PlacedNote& top = placed(chord_.top());
    const Moment start = map_.start_at(top.at);
    if (!out_.notes.empty() && start == last_piece_) {
      // It came after a rest or grace note of the same onset.
      for (const ChordMember& member : chord_.members) remark(member.index, kChordNote);
      return;
    }
    cut_previous(top, start);
    const bool is_held = continues_tie(start);
    if (is_held) {
      out_.notes.back().duration += top.duration;
      for (const PendingGrace& grace : pending_) remark(grace.index, kGraceWithoutNote);
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

  // Of a note that is struck, and of the one before it. The other end of a tie may be on a note
  // that its chord did not keep.
  void remark_ties() {
    const auto tell = [&](const ChordMember& from, bool ChordMember::*other_end, const Chord& other,
                          const RemarkKind& lost) {
      const bool is_left_out =
          std::any_of(other.members.begin(), other.members.end(), [&](const ChordMember& member) {
            return &member != &other.top() && member.*other_end && same_pitch(member, from);
          });
      remark(from.index, is_left_out ? kTieToLower : lost);
    };
    if (open_tie()) tell(last_chord_.top(), &ChordMember::tie_stops, chord_, kBrokenTie);
    if (chord_.top().tie_stops) {
      tell(chord_.top(), &ChordMember::tie_starts, last_chord_,
           kind(rule::tie_without_partner,
                "tie ends on a note without having begun; the note is struck",
                "ties end on notes without having begun; the notes are struck"));
    }
  }

  // A note still sounding where the next one of its voice begins ends there.
  void cut_previous(const PlacedNote& next, const Moment& start) {
    if (out_.notes.empty() || !(start < last_end_)) return;
    remark(last_chord_.top().index,
           kind(rule::overlapping_notes, "note cut short where the next one of its voice begins",
                "notes cut short where the next ones of their voice begin"));
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
      remark(chord_.top().index, kMarkOnRest);
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
        remark_node(member.index, node, kNotation);
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
      remark(index,
             kind(rule::left_out, "syllable on a rest left out", "syllables on rests left out"));
    }
    if (!rest.element.notations) return;
    const NoteDetails details = read_notations(rest.element.notations);
    for (const pugi::xml_node node : details.left_out) {
      remark_node(index, node, kMarkOnRest);
    }
    stop_slurs(details);
    MarkSet marks;
    for (const Mark mark : details.marks.list()) {
      if (model::is_rest_mark(mark)) {
        marks.add(mark);
      } else {
        remark(index, kMarkOnRest, std::string(element_of(mark).element));
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
