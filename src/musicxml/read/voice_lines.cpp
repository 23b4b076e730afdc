#include "musicxml/read/voice_lines.h"

#include <algorithm>
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

// The voices of a part in the order in which they appear; those of one staff if asked.
class VoiceCounter {
 public:
  VoiceCounter(const PartEvents& part, std::optional<int> staff)
      : part_(part), staff_(staff), doubled_(voices_on_two_staves(part)) {}

  PartLines run() {
    out_.line_of_note.reserve(part_.notes.size());
    for (const PlacedNote& note : part_.notes) {
      const NoteElement& element = note.element;
      if (staff_ && element.staff != *staff_) {
        out_.line_of_note.push_back(kNoLine);
        continue;
      }
      const std::size_t line = line_of(element);
      VoiceCount& count = out_.counts[line];
      if (element.is_struck() && !element.is_chord) ++count.attacks;
      ++count.elements_by_staff[element.staff];
      out_.line_of_note.push_back(static_cast<std::uint32_t>(line));
    }
    return std::move(out_);
  }

 private:
  using Key = std::pair<std::uint32_t, int>;  // staff 0: all staves

  std::size_t line_of(const NoteElement& note) {
    const bool by_staff = staff_ || doubled_[note.voice];
    const Key key{note.voice, by_staff ? note.staff : 0};
    if (!out_.counts.empty() && key == last_key_) return last_;
    const auto [place, is_new] = index_.try_emplace(key, out_.counts.size());
    if (is_new) {
      const auto staff = by_staff ? std::optional(note.staff) : std::nullopt;
      out_.counts.push_back({{note.voice, staff}, 0, {}});
    }
    last_key_ = key;
    last_ = place->second;
    return last_;
  }

  const PartEvents& part_;
  std::optional<int> staff_;
  std::vector<bool> doubled_;
  PartLines out_;
  std::map<Key, std::size_t> index_;
  Key last_key_;  // that of the note before, and its place
  std::size_t last_ = 0;
};

bool has_percussion_clef(const PartEvents& part) {
  for (const PlacedNode& attributes : part.attributes) {
    const pugi::xml_node clef = attributes.node.child("clef");
    if (clef) return child_word(clef, "sign") == "percussion";
  }
  return false;
}

class PartSurvey {
 public:
  PartSurvey(const PartSource& source, const PartEvents& part, const PartLines& lines,
             std::string_view text)
      : part_(part),
        lines_(lines),
        text_(text),
        seen_(lines.counts.size()),
        evidence_(lines.counts.size()) {
    std::vector<int> staves;
    for (const VoiceCount& line : lines.counts) staves.push_back(line.main_staff());
    std::vector<int> from_top = staves;
    std::sort(from_top.begin(), from_top.end());
    from_top.erase(std::unique(from_top.begin(), from_top.end()), from_top.end());
    const bool is_percussion = kind_of(part) == PartKind::unpitched;
    for (std::size_t i = 0; i < staves.size(); ++i) {
      LineEvidence& line = evidence_[i];
      line.names = source.other_names;
      line.names.insert(line.names.begin(), source.name);
      line.is_percussion = is_percussion;
      const auto staff = std::lower_bound(from_top.begin(), from_top.end(), staves[i]);
      line.staff = static_cast<int>(staff - from_top.begin());
    }
  }

  std::vector<LineEvidence> run() {
    for (std::size_t i = 0; i < part_.notes.size(); ++i) {
      const PlacedNote& note = part_.notes[i];
      const std::uint32_t line = lines_.line_of_note[i];
      if (line == kNoLine || note.element.kind != NoteKind::pitched || note.element.is_cue)
        continue;
      if (seen_[line].bars_to != note.at.measure + 1) ++evidence_[line].bars;
      seen_[line].bars_to = note.at.measure + 1;
      if (note.element.is_struck()) take_struck(note, line);
    }
    return std::move(evidence_);
  }

 private:
  struct Seen {
    std::size_t bars_to = 0;    // behind the last measure in which the line plays
    std::size_t in_attack = 0;  // notes of its last attack
  };

  void take_struck(const PlacedNote& note, std::size_t line) {
    const NoteElement& element = note.element;
    LineEvidence& here = evidence_[line];
    std::size_t& in_attack = seen_[line].in_attack;
    here.add_note(attributes_of(element.staff).sounding(element.pitch, note.at).pitch.key);
    in_attack = element.is_chord ? in_attack + 1 : 1;
    if (!element.is_chord) ++here.attacks;
    if (in_attack == 2) ++here.chords;
    bool is_sung = false;
    for (std::uint32_t i = 0; i < element.lyric_count; ++i) {
      const LyricElement& lyric = part_.lyrics.all()[element.first_lyric + i];
      const bool is_fingering = part_.lyrics.lines()[lyric.line].name == kFingeringLyric;
      (is_fingering ? here.has_fingering : is_sung) = true;
    }
    if (is_sung) ++here.syllables;
  }

  const StaffAttributes& attributes_of(int staff) {
    auto found = attributes_.find(staff);
    if (found == attributes_.end()) {
      found = attributes_.emplace(staff, read_attributes(part_, staff, text_)).first;
    }
    return found->second;
  }

  const PartEvents& part_;
  const PartLines& lines_;
  std::string_view text_;
  std::vector<Seen> seen_;
  std::vector<LineEvidence> evidence_;
  std::map<int, StaffAttributes> attributes_;
};

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
  return VoiceCounter(part, staff).run();
}

PartKind kind_of(const PartEvents& part) {
  bool pitched = false;
  bool unpitched = false;
  for (const PlacedNote& note : part.notes) {
    pitched = pitched || note.element.kind == NoteKind::pitched;
    unpitched = unpitched || note.element.kind == NoteKind::unpitched;
  }
  if (pitched && !has_percussion_clef(part)) return PartKind::pitched;
  return pitched || unpitched ? PartKind::unpitched : PartKind::rests_only;
}

std::vector<LineEvidence> line_evidence(const PartSource& source, const PartEvents& part,
                                        const PartLines& lines, std::string_view text) {
  return PartSurvey(source, part, lines, text).run();
}

Following follow_line(const PartEvents& part, const PartLines& lines, std::size_t main) {
  return LineFollower(part, lines, main).run();
}

}  // namespace yubifu::musicxml
