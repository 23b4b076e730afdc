#include "musicxml/read/voice_lines.h"

#include <algorithm>
#include <iterator>
#include <set>
#include <string>
#include <utility>

#include "musicxml/read/staff_attributes.h"
#include "musicxml/vocabulary.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::LineEvidence;

// Which voices have a number that stands for two lines at once, one on each staff.
std::vector<bool> voices_on_two_staves(const PartEvents& part) {
  std::vector<const PlacedNote*> last_of(part.voices.size(), nullptr);
  std::vector<bool> found(part.voices.size(), false);
  for (const PlacedNote& note : part.notes) {
    if (note.element.is_chord || note.element.is_grace) continue;
    const PlacedNote* before = std::exchange(last_of[note.element.voice], &note);
    const bool overlaps = before != nullptr && before->element.staff != note.element.staff &&
                          before->at.measure == note.at.measure &&
                          note.at.onset < before->at.onset + before->duration;
    if (overlaps) found[note.element.voice] = true;
  }
  return found;
}

bool has_percussion_clef(const PartEvents& part) {
  for (const PlacedNode& attributes : part.attributes) {
    const pugi::xml_node clef = attributes.node.child("clef");
    if (clef) return child_word(clef, "sign") == "percussion";
  }
  return false;
}

class LineFollower {
 public:
  LineFollower(const PartEvents& part, const PartLines& lines, std::size_t main)
      : part_(part), lines_(lines), main_(main), here_(lines.counts.size()) {
    for (const VoiceCount& line : lines.counts) staves_.push_back(line.main_staff());
  }

  Following run() {
    Following out;
    std::vector<bool> sounds_together(staves_.size(), false);
    for (std::size_t measure = 0; measure < part_.measures.size(); ++measure) {
      gather(measure);
      for (const std::size_t line : playing_) {
        if (line != main_ && overlap(here_[line].spans, here_[main_].spans)) {
          sounds_together[line] = true;
        }
      }
    }
    for (std::size_t measure = 0; measure < part_.measures.size(); ++measure) {
      gather(measure);
      Spans taken = here_[main_].spans;
      for (const std::size_t line : others_by_closeness()) {
        const InMeasure& other = here_[line];
        const bool same_staff = staves_[line] == staves_[main_];
        if ((!same_staff && sounds_together[line]) || overlap(other.spans, taken)) continue;
        taken.insert(taken.end(), other.spans.begin(), other.spans.end());
        std::sort(taken.begin(), taken.end());
        out.elements.insert(out.elements.end(), other.elements.begin(), other.elements.end());
        out.passages.push_back({measure, lines_.counts[line].id.voice});
      }
    }
    std::sort(out.elements.begin(), out.elements.end());
    return out;
  }

 private:
  using Spans = std::vector<std::pair<model::Rational, model::Rational>>;

  struct InMeasure {
    Spans spans;  // of its notes, in order
    std::vector<std::uint32_t> elements;
    int highest = 0;  // as written
  };

  void gather(std::size_t measure) {
    for (const std::size_t line : touched_) {
      here_[line].spans.clear();
      here_[line].elements.clear();
    }
    touched_.clear();
    playing_.clear();
    for (std::size_t i = part_.measures[measure].first_note; i < part_.end_of_notes(measure); ++i) {
      const PlacedNote& note = part_.notes[i];
      const std::uint32_t line = lines_.line_of_note[i];
      if (line == kNoLine) continue;
      InMeasure& here = here_[line];
      if (here.elements.empty()) touched_.push_back(line);
      here.elements.push_back(static_cast<std::uint32_t>(i));
      if (note.element.kind != NoteKind::pitched || note.element.is_cue) continue;
      const WrittenPitch& pitch = note.element.pitch;
      const int key = model::midi_key({pitch.step, 0, pitch.octave});
      here.highest = here.spans.empty() ? key : std::max(here.highest, key);
      if (here.spans.empty()) playing_.push_back(line);
      here.spans.emplace_back(note.at.onset, note.at.onset + note.duration);
    }
    for (const std::size_t line : playing_) {
      Spans& spans = here_[line].spans;
      if (!std::is_sorted(spans.begin(), spans.end())) std::sort(spans.begin(), spans.end());
    }
  }

  // Both in order.
  static bool overlap(const Spans& a, const Spans& b) {
    auto other = b.begin();
    model::Rational latest_end;  // of those of b that began before
    for (const auto& [begin, end] : a) {
      for (; other != b.end() && other->first < end; ++other) {
        latest_end = std::max(latest_end, other->second);
      }
      if (latest_end > begin) return true;
    }
    return false;
  }

  // The other lines that play: of the same staff first, then from the highest down.
  std::vector<std::size_t> others_by_closeness() const {
    std::vector<std::size_t> others = playing_;
    std::erase(others, main_);
    std::stable_sort(others.begin(), others.end(), [&](std::size_t a, std::size_t b) {
      const bool a_there = staves_[a] == staves_[main_];
      const bool b_there = staves_[b] == staves_[main_];
      return a_there != b_there ? a_there : here_[a].highest > here_[b].highest;
    });
    return others;
  }

  const PartEvents& part_;
  const PartLines& lines_;
  std::size_t main_;
  std::vector<int> staves_;      // of each line
  std::vector<InMeasure> here_;  // of each line, in the measure that was gathered last
  std::vector<std::size_t> touched_;
  std::vector<std::size_t> playing_;  // in the order of the file
};

}  // namespace

int VoiceCount::main_staff() const {
  const auto most =
      std::max_element(elements_by_staff.begin(), elements_by_staff.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == elements_by_staff.end() ? 1 : most->first;
}

PartLines find_lines(const PartEvents& part, std::optional<int> staff) {
  using Key = std::pair<std::uint32_t, int>;  // staff 0: all staves
  const std::vector<bool> doubled = voices_on_two_staves(part);
  PartLines out;
  out.line_of_note.reserve(part.notes.size());
  std::map<Key, std::uint32_t> index;
  Key last_key;  // that of the note before, and its line
  std::uint32_t line = 0;
  for (const auto& [note, at, duration] : part.notes) {
    if (staff && note.staff != *staff) {
      out.line_of_note.push_back(kNoLine);
      continue;
    }
    const bool by_staff = staff || doubled[note.voice];
    const Key key{note.voice, by_staff ? note.staff : 0};
    if (out.counts.empty() || key != last_key) {
      const auto [place, is_new] =
          index.try_emplace(key, static_cast<std::uint32_t>(out.counts.size()));
      const auto only = by_staff ? std::optional(note.staff) : std::nullopt;
      if (is_new) out.counts.push_back({{note.voice, only}, 0, {}});
      last_key = key;
      line = place->second;
    }
    VoiceCount& count = out.counts[line];
    if (note.is_struck() && !note.is_chord) ++count.attacks;
    ++count.elements_by_staff[note.staff];
    out.line_of_note.push_back(line);
  }
  return out;
}

bool is_unpitched(const PartEvents& part) {
  bool pitched = false;
  bool unpitched = false;
  for (const PlacedNote& note : part.notes) {
    pitched |= note.element.kind == NoteKind::pitched;
    unpitched |= note.element.kind == NoteKind::unpitched;
  }
  return pitched ? has_percussion_clef(part) : unpitched;
}

std::vector<LineEvidence> line_evidence(const PartSource& source, const PartEvents& part,
                                        const PartLines& lines, std::string_view text) {
  std::set<int> staves;  // from the top
  for (const VoiceCount& line : lines.counts) staves.insert(line.main_staff());
  std::vector<std::string> names = source.other_names;
  names.insert(names.begin(), source.name);
  const bool is_percussion = is_unpitched(part);
  std::vector<LineEvidence> evidence(lines.counts.size());
  for (std::size_t i = 0; i < evidence.size(); ++i) {
    evidence[i].names = names;
    evidence[i].is_percussion = is_percussion;
    const auto staff = staves.find(lines.counts[i].main_staff());
    evidence[i].staff = static_cast<int>(std::distance(staves.begin(), staff));
  }
  struct Seen {
    std::size_t bars_to = 0;    // behind the last measure in which the line plays
    std::size_t in_attack = 0;  // notes of its last attack
  };
  std::vector<Seen> seen(evidence.size());
  std::map<int, StaffAttributes> attributes;  // by the staff
  for (std::size_t i = 0; i < part.notes.size(); ++i) {
    const auto& [note, at, duration] = part.notes[i];
    const std::uint32_t line = lines.line_of_note[i];
    if (line == kNoLine || note.kind != NoteKind::pitched || note.is_cue) continue;
    LineEvidence& here = evidence[line];
    auto& [bars_to, in_attack] = seen[line];
    if (std::exchange(bars_to, at.measure + 1) != at.measure + 1) ++here.bars;
    if (!note.is_struck()) continue;
    auto found = attributes.find(note.staff);
    if (found == attributes.end()) {
      found = attributes.emplace(note.staff, read_attributes(part, note.staff, text)).first;
    }
    here.add_note(found->second.sounding(note.pitch, at).pitch.key);
    in_attack = note.is_chord ? in_attack + 1 : 1;
    if (!note.is_chord) ++here.attacks;
    if (in_attack == 2) ++here.chords;
    bool is_sung = false;
    for (std::uint32_t lyric = 0; lyric < note.lyric_count; ++lyric) {
      const std::uint32_t of = part.lyrics.all()[note.first_lyric + lyric].line;
      const bool is_fingering = part.lyrics.lines()[of].name == kFingeringLyric;
      (is_fingering ? here.has_fingering : is_sung) = true;
    }
    if (is_sung) ++here.syllables;
  }
  return evidence;
}

Following follow_line(const PartEvents& part, const PartLines& lines, std::size_t main) {
  return LineFollower(part, lines, main).run();
}

}  // namespace yubifu::musicxml
