#include "musicxml/read/voice_chords.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "musicxml/read/bar_remarks.h"
#include "musicxml/read/note_remarks.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// Two notes this close in cents are one pitch.
constexpr double kSamePitch = 1.0;

}  // namespace

NoteIndexes select_melody(const PartEvents& part, const MelodyChoice& choice, std::string_view text,
                          Remarks& remarks) {
  const auto is_usable = [&](const PlacedNote& note) {
    const NoteElement& element = note.element;
    const auto remark = [&](const RemarkKind& kind, std::string detail = {}) {
      remarks.add(kind, note.at.measure, range_of(element.node, text), std::move(detail));
      return false;
    };
    if (element.has_unknown) remark(remark::unknown_element, unknown_child(element.node).name());
    if (element.has_time_only) remark(remark::sometimes_played);
    if (element.is_cue) return remark(remark::cue_note);
    if (element.kind == NoteKind::unpitched) return remark(remark::unpitched_note);
    if (element.kind == NoteKind::unreadable) return remark(remark::unreadable_note);
    // Notes without a length were told when the part was laid out.
    return element.kind == NoteKind::rest || element.is_grace || note.duration > model::Rational(0);
  };
  NoteIndexes selected;
  selected.reserve(part.notes.size());
  for (std::size_t i = 0; i < part.notes.size(); ++i) {
    if (choice.holds(part, i) && is_usable(part.notes[i])) {
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

std::size_t end_of_chord(const PartEvents& part, const NoteIndexes& selected, std::size_t first) {
  const PlacedNote& head = part.notes[selected[first]];
  std::size_t end = first + 1;
  for (; end < selected.size(); ++end) {
    const PlacedNote& next = part.notes[selected[end]];
    const bool joins = next.at == head.at && next.element.kind == NoteKind::pitched &&
                       next.element.is_grace == head.element.is_grace &&
                       (!head.element.is_grace || next.element.is_chord);
    if (!joins) break;
  }
  return end;
}

void read_chord(const PartEvents& part, const StaffAttributes& attributes,
                const NoteIndexes& selected, std::size_t first, std::size_t end, Chord& chord) {
  chord.members.clear();
  chord.kept = 0;
  for (std::size_t i = first; i < end; ++i) {
    const PlacedNote& note = part.notes[selected[i]];
    ChordMember& member = chord.members.emplace_back();
    member.index = selected[i];
    member.sounds = attributes.sounding(note.element.pitch, note.at);
    member.tie_starts = note.element.tie_starts;
    member.tie_stops = note.element.tie_stops;
    if (!note.element.notations) continue;
    member.details = read_notations(note.element.notations);
    member.tie_starts = member.tie_starts || member.details->tied_starts;
    member.tie_stops = member.tie_stops || member.details->tied_stops;
  }
  for (std::size_t i = 1; i < chord.members.size(); ++i) {
    const bool higher =
        chord.members[i].sounds.pitch.total_cents() > chord.top().sounds.pitch.total_cents();
    if (higher) chord.kept = i;
  }
}

bool same_pitch(const model::Pitch& a, const model::Pitch& b) {
  return std::abs(a.total_cents() - b.total_cents()) < kSamePitch;
}

bool is_tied_to_left_out(const ChordMember& member, TieEnd end, const Chord& other) {
  for (std::size_t i = 0; i < other.members.size(); ++i) {
    const ChordMember& candidate = other.members[i];
    const bool tied = end == TieEnd::stop ? candidate.tie_starts : candidate.tie_stops;
    if (i != other.kept && tied && same_pitch(candidate.sounds.pitch, member.sounds.pitch)) {
      return true;
    }
  }
  return false;
}

}  // namespace yubifu::musicxml
