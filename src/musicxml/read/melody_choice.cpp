#include "musicxml/read/melody_choice.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <string>
#include <utility>

#include "base/message.h"
#include "base/word_table.h"
#include "model/melody_evidence.h"
#include "musicxml/read/staff_attributes.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::LineEvidence;

struct VoiceCount {
  VoiceId id;
  std::size_t attacks = 0;
  std::map<int, std::size_t> elements_by_staff;

  // The staff with most of its notes and rests.
  int main_staff() const {
    const auto most =
        std::max_element(elements_by_staff.begin(), elements_by_staff.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == elements_by_staff.end() ? 1 : most->first;
  }
};

constexpr std::uint32_t kNoLine = std::numeric_limits<std::uint32_t>::max();

// The voices of a part in the order in which they appear. A number that stands for two lines at
// once, one on each staff, is two voices.
struct PartLines {
  std::vector<VoiceCount> counts;
  std::vector<std::uint32_t> line_of_note;  // indexes, one a note of the part, or kNoLine
};

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

// The voices of all staves, or of one.
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

// Whether a part is percussion, as all under a percussion clef is; rests alone are none.
bool is_unpitched(const PartEvents& part) {
  bool pitched = false;
  bool unpitched = false;
  for (const PlacedNote& note : part.notes) {
    pitched |= note.element.kind == NoteKind::pitched;
    unpitched |= note.element.kind == NoteKind::unpitched;
  }
  if (!pitched) return unpitched;
  for (const PlacedNode& attributes : part.attributes) {
    const pugi::xml_node clef = attributes.node.child("clef");
    if (clef) return child_word(clef, "sign") == "percussion";
  }
  return false;
}

// What speaks for each line of a part as the melody; the places are left to the caller.
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

// Where a line goes on in other voices: where the main line is silent, a voice that takes turns
// with it is followed: on the same staff one that does not sound together with it in that measure,
// on another staff one that never does. Of several the highest goes first.
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

std::optional<std::size_t> part_asked(const std::vector<PartSource>& parts,
                                      const std::string& asked) {
  for (const auto called : {&PartSource::id, &PartSource::name}) {
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (parts[i].*called == asked) return i;
    }
  }
  const auto number = whole_number(asked);
  if (!number || *number < 1 || static_cast<std::size_t>(*number) > parts.size()) {
    return std::nullopt;
  }
  return static_cast<std::size_t>(*number - 1);
}

base::Diagnostic unknown_part(const std::vector<PartSource>& parts, const std::string& asked) {
  std::vector<std::string> titles;
  std::vector<std::string_view> names;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    titles.push_back(part_title(parts, i));
    names.push_back(parts[i].name);
  }
  const auto nearest = base::nearest_word(asked, names);
  return base::report(
      rule::unknown_part, std::nullopt,
      base::message("there is no part '{}'; the file has {}", asked, model::listed(titles)),
      nearest ? base::message("did you mean '{}'?", *nearest)
              : base::message("give a part by its id, its name or its number"));
}

std::string voice_title(const PartEvents& part, const VoiceId& voice) {
  const std::string_view name = part.voices[voice.voice];
  return voice.staff ? base::message("voice {} on staff {}", name, *voice.staff)
                     : base::message("voice {}", name);
}

class MelodyChooser {
 public:
  MelodyChooser(const std::vector<PartSource>& parts, const std::vector<PartEvents>& events,
                const MusicXmlReadOptions& options, std::string_view text)
      : parts_(parts), events_(events), options_(options), text_(text) {}

  base::Outcome<MelodyChoice> run() {
    const auto candidates = candidate_parts();
    if (!candidates.value) return {std::nullopt, candidates.diagnostics};
    return choose_voice(most_likely_part(*candidates.value));
  }

 private:
  // The part that was asked for, or all where one has notes with a pitch or no notes at all.
  base::Outcome<std::vector<std::size_t>> candidate_parts() const {
    std::vector<std::size_t> parts(parts_.size());
    std::iota(parts.begin(), parts.end(), std::size_t{0});
    if (!options_.part.empty()) {
      const auto asked = part_asked(parts_, options_.part);
      if (!asked) return {std::nullopt, {unknown_part(parts_, options_.part)}};
      parts = {*asked};
    }
    const bool can_be_read = std::any_of(
        parts.begin(), parts.end(), [&](std::size_t part) { return !is_unpitched(events_[part]); });
    if (can_be_read) return {std::move(parts), {}};
    return {
        std::nullopt,
        {base::report(
            rule::unpitched_part,
            range_of(events_[parts.front()].measures.front().source.measure, text_),
            options_.part.empty()
                ? base::message("the file holds percussion only: its notes have no pitch to finger")
                : base::message("{} is percussion: its notes have no pitch to finger",
                                part_title(parts_, parts.front())),
            base::message("choose a part with notes that have a pitch"))}};
  }

  std::size_t most_likely_part(const std::vector<std::size_t>& candidates) {
    if (candidates.size() == 1) return candidates.front();
    std::vector<std::size_t> part_of_line;
    std::vector<LineEvidence> evidence;
    for (const std::size_t part : candidates) {
      const PartLines lines = find_lines(events_[part], std::nullopt);
      for (LineEvidence& line : line_evidence(parts_[part], events_[part], lines, text_)) {
        line.place = part_of_line.size();
        part_of_line.push_back(part);
        evidence.push_back(std::move(line));
      }
    }
    if (evidence.empty()) return candidates.front();
    verdict_ = model::find_melody(evidence);
    return part_of_line[verdict_.line];
  }

  base::Outcome<MelodyChoice> choose_voice(std::size_t part_index) {
    MelodyChoice choice{part_index, {}, 1, {}};
    const PartEvents& part = events_[part_index];
    PartLines lines = find_lines(part, options_.staff_number);
    std::vector<std::size_t> asked;
    for (std::size_t i = 0; i < lines.counts.size(); ++i) {
      const std::string_view name = part.voices[lines.counts[i].id.voice];
      if (options_.voice.empty() || name == options_.voice) asked.push_back(i);
    }
    if (asked.empty() && (!options_.voice.empty() || options_.staff_number)) {
      return unknown_voice(part, lines);
    }
    // A part of nothing but empty bars has no voice.
    if (asked.empty()) return {choice, told(choice, {}, 0)};
    const std::size_t line = asked[most_likely_voice(choice.part, lines, asked)];
    choice.voice = lines.counts[line].id;
    choice.main_staff = lines.counts[line].main_staff();
    if (options_.voice.empty() && lines.counts.size() > 1) {
      choice.following = LineFollower(part, lines, line).run();
    }
    std::vector<VoiceCount> left_out = std::move(lines.counts);
    for (const std::uint32_t index : choice.following.elements) {
      const NoteElement& note = part.notes[index].element;
      if (note.is_struck() && !note.is_chord) --left_out[lines.line_of_note[index]].attacks;
    }
    base::Diagnostics diagnostics = told(choice, left_out, line);
    return {std::move(choice), std::move(diagnostics)};
  }

  std::size_t most_likely_voice(std::size_t part, const PartLines& lines,
                                const std::vector<std::size_t>& asked) {
    if (asked.size() == 1) return 0;
    const auto all = line_evidence(parts_[part], events_[part], lines, text_);
    std::vector<LineEvidence> evidence;
    for (const std::size_t line : asked) {
      evidence.push_back(all[line]);
      evidence.back().place = evidence.size();
    }
    const model::MelodyVerdict verdict = model::find_melody(evidence);
    // With a choice among parts as well, that is what is told of.
    if (verdict_.reasons.empty()) verdict_ = verdict;
    return verdict.line;
  }

  base::Outcome<MelodyChoice> unknown_voice(const PartEvents& part, const PartLines& lines) const {
    std::vector<std::string> titles;
    for (const VoiceCount& line : lines.counts) titles.push_back(voice_title(part, line.id));
    const std::string asked = options_.voice.empty()
                                  ? base::message("staff {}", options_.staff_number.value_or(1))
                                  : base::message("voice '{}'", options_.voice);
    return {std::nullopt,
            {base::report(rule::unknown_voice, std::nullopt,
                          base::message("the part has no notes in {}", asked),
                          titles.empty() ? base::message("leave the staff out")
                                         : base::message("it has {}", model::listed(titles)))}};
  }

  // What was read and what was left, where there was a choice the options did not make.
  base::Diagnostics told(const MelodyChoice& choice, const std::vector<VoiceCount>& voices,
                         std::size_t line) const {
    std::vector<std::string> others;
    if (options_.part.empty()) {
      for (std::size_t i = 0; i < parts_.size(); ++i) {
        if (i != choice.part) others.push_back(part_title(parts_, i));
      }
    }
    const PartEvents& part = events_[choice.part];
    if (options_.voice.empty()) {
      for (std::size_t i = 0; i < voices.size(); ++i) {
        if (i == line || voices[i].attacks == 0) continue;
        const std::string title = voice_title(part, voices[i].id);
        others.push_back(voices[i].attacks == 1
                             ? base::message("{} (1 note)", title)
                             : base::message("{} ({} notes)", title, voices[i].attacks));
      }
    }
    if (others.empty()) return {};
    std::string title = part_title(parts_, choice.part);
    if (!voices.empty()) title += ", " + voice_title(part, voices[line].id);
    return {base::report(rule::voice_chosen, std::nullopt,
                         model::melody_sentence(title, verdict_, others),
                         base::message("--part and --voice choose another"))};
  }

  const std::vector<PartSource>& parts_;
  const std::vector<PartEvents>& events_;
  const MusicXmlReadOptions& options_;
  std::string_view text_;
  model::MelodyVerdict verdict_;  // of the choice that is told of
};

}  // namespace

bool MelodyChoice::holds(const PartEvents& events, std::size_t index) const {
  return voice.holds(events.notes[index].element) ||
         std::binary_search(following.elements.begin(), following.elements.end(), index);
}

base::Outcome<MelodyChoice> choose_melody(const std::vector<PartSource>& parts,
                                          const std::vector<PartEvents>& events,
                                          const MusicXmlReadOptions& options,
                                          std::string_view text) {
  return MelodyChooser(parts, events, options, text).run();
}

std::vector<std::size_t> silent_measures(const PartEvents& part, const MelodyChoice& choice) {
  std::vector<std::size_t> silent;
  for (std::size_t measure = 0; measure < part.measures.size(); ++measure) {
    bool plays = false;
    bool others_play = false;
    for (std::size_t i = part.measures[measure].first_note; i < part.end_of_notes(measure); ++i) {
      const NoteElement& note = part.notes[i].element;
      if (note.kind != NoteKind::pitched || note.is_cue) continue;
      (choice.holds(part, i) ? plays : others_play) = true;
    }
    if (others_play && !plays) silent.push_back(measure);
  }
  return silent;
}

}  // namespace yubifu::musicxml
