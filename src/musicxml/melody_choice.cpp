#include "musicxml/melody_choice.h"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>
#include <utility>

#include "base/message.h"
#include "base/suggest.h"
#include "model/melody_evidence.h"
#include "musicxml/rules.h"
#include "musicxml/staff_attributes.h"
#include "musicxml/vocabulary.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::LineEvidence;

struct VoiceCount {
  VoiceId id;
  std::size_t struck = 0;
  std::map<int, std::size_t> elements_by_staff;

  int main_staff() const {
    const auto most =
        std::max_element(elements_by_staff.begin(), elements_by_staff.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == elements_by_staff.end() ? 1 : most->first;
  }
};

constexpr std::uint32_t kNoLine = std::numeric_limits<std::uint32_t>::max();

// The voices of a part in the order in which they appear.
struct PartLines {
  std::vector<VoiceCount> counts;
  std::vector<std::uint32_t> line_of_note;  // indexes, one a note of the part
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
      if (element.is_struck() && !element.is_chord) ++count.struck;
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

enum class PartKind { pitched, rests_only, unpitched };

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

// --- What is known of the lines of a part

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

// --- Where the line passes to another voice

class LineFollower {
 public:
  LineFollower(const PartEvents& part, const PartLines& lines, std::size_t main)
      : part_(part), lines_(lines), main_(main), here_(lines.counts.size()) {
    for (const VoiceCount& line : lines.counts) staves_.push_back(line.main_staff());
  }

  // Fills what is followed, and takes its notes from what is counted as left out.
  void run(MelodyChoice& choice, std::vector<VoiceCount>& left_out) {
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
        choice.followed.insert(choice.followed.end(), other.elements.begin(), other.elements.end());
        choice.passages.push_back({measure, lines_.counts[line].id.voice});
        left_out[line].struck -= other.struck;
      }
    }
    std::sort(choice.followed.begin(), choice.followed.end());
  }

 private:
  using Spans = std::vector<std::pair<model::Rational, model::Rational>>;

  struct InMeasure {
    Spans spans;  // of its notes, in order
    std::vector<std::uint32_t> elements;
    std::size_t struck = 0;
    int highest = 0;  // as written
  };

  void gather(std::size_t measure) {
    for (const std::size_t line : touched_) {
      here_[line].spans.clear();
      here_[line].elements.clear();
      here_[line].struck = 0;
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
      if (note.element.is_struck()) ++here.struck;
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
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].id == asked) return i;
  }
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].name == asked) return i;
  }
  const auto number = whole_number(asked);
  if (!number || *number < 1 || static_cast<std::size_t>(*number) > parts.size()) {
    return std::nullopt;
  }
  return static_cast<std::size_t>(*number - 1);
}

template <typename Value>
base::Outcome<Value> failed(const base::Rule& rule, std::string message, std::string hint,
                            std::optional<base::SourceRange> where = std::nullopt) {
  return {std::nullopt, {base::report(rule, where, std::move(message), std::move(hint))}};
}

// Where the music of a part begins.
std::optional<base::SourceRange> start_of(const PartEvents& part, std::string_view text) {
  if (part.measures.empty()) return std::nullopt;
  return range_of(part.measures.front().source.measure, text);
}

template <typename Value>
base::Outcome<Value> unknown_part(const std::vector<PartSource>& parts, const std::string& asked) {
  std::vector<std::string> titles;
  std::vector<std::string_view> names;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    titles.push_back(part_title(parts, i));
    names.push_back(parts[i].name);
  }
  const auto nearest = base::nearest_word(asked, names);
  return failed<Value>(
      rule::unknown_part,
      base::message("there is no part '{}'; the file has {}", asked, model::listed(titles)),
      nearest ? base::message("did you mean '{}'?", *nearest)
              : base::message("give a part by its id, its name or its number"));
}

std::string voice_title(const PartEvents& part, const VoiceId& voice) {
  const std::string_view name = part.voices[voice.voice];
  return voice.staff ? base::message("voice {} on staff {}", name, *voice.staff)
                     : base::message("voice {}", name);
}

// --- The choice

class MelodyChooser {
 public:
  MelodyChooser(const std::vector<PartSource>& parts, const std::vector<PartEvents>& events,
                const MusicXmlReadOptions& options, std::string_view text)
      : parts_(parts), events_(events), options_(options), text_(text) {}

  base::Outcome<MelodyChoice> run() {
    base::Outcome<std::vector<std::size_t>> candidates = candidate_parts();
    if (!candidates.value) return {std::nullopt, std::move(candidates.diagnostics)};
    MelodyChoice choice;
    choice.part = most_likely_part(*candidates.value);
    return choose_voice(std::move(choice));
  }

 private:
  // The part that was asked for, or all where one has notes with a pitch or no notes at all.
  base::Outcome<std::vector<std::size_t>> candidate_parts() const {
    using List = std::vector<std::size_t>;
    const std::string hint = base::message("choose a part with notes that have a pitch");
    if (options_.part.empty()) {
      List all(parts_.size());
      std::iota(all.begin(), all.end(), std::size_t{0});
      const bool can_be_read =
          std::any_of(events_.begin(), events_.end(),
                      [](const PartEvents& part) { return kind_of(part) != PartKind::unpitched; });
      if (can_be_read) return {std::move(all), {}};
      return failed<List>(
          rule::unpitched_part,
          base::message("the file holds percussion only: its notes have no pitch to finger"), hint,
          start_of(events_.front(), text_));
    }
    const auto asked = part_asked(parts_, options_.part);
    if (!asked) return unknown_part<List>(parts_, options_.part);
    if (kind_of(events_[*asked]) != PartKind::unpitched) return {List{*asked}, {}};
    return failed<List>(rule::unpitched_part,
                        base::message("{} is percussion: its notes have no pitch to finger",
                                      part_title(parts_, *asked)),
                        hint, start_of(events_[*asked], text_));
  }

  std::size_t most_likely_part(const std::vector<std::size_t>& candidates) {
    if (candidates.size() == 1) return candidates.front();
    std::vector<std::size_t> part_of_line;
    std::vector<LineEvidence> evidence;
    for (const std::size_t part : candidates) {
      const PartLines lines = VoiceCounter(events_[part], std::nullopt).run();
      for (LineEvidence& line : survey(part, lines)) {
        line.place = part_of_line.size();
        part_of_line.push_back(part);
        evidence.push_back(std::move(line));
      }
    }
    if (evidence.empty()) return candidates.front();
    verdict_ = model::find_melody(evidence);
    return part_of_line[verdict_.line];
  }

  std::vector<LineEvidence> survey(std::size_t part, const PartLines& lines) const {
    return PartSurvey(parts_[part], events_[part], lines, text_).run();
  }

  base::Outcome<MelodyChoice> choose_voice(MelodyChoice choice) {
    const PartEvents& part = events_[choice.part];
    PartLines lines = VoiceCounter(part, options_.staff_number).run();
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
    std::vector<VoiceCount> left_out = lines.counts;
    if (options_.voice.empty() && left_out.size() > 1) {
      LineFollower(part, lines, line).run(choice, left_out);
    }
    base::Diagnostics diagnostics = told(choice, left_out, line);
    return {std::move(choice), std::move(diagnostics)};
  }

  std::size_t most_likely_voice(std::size_t part, const PartLines& lines,
                                const std::vector<std::size_t>& asked) {
    if (asked.size() == 1) return 0;
    const std::vector<LineEvidence> all = survey(part, lines);
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
    return failed<MelodyChoice>(rule::unknown_voice,
                                base::message("the part has no notes in {}", asked),
                                titles.empty() ? base::message("leave the staff out")
                                               : base::message("it has {}", model::listed(titles)));
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
        if (i == line || voices[i].struck == 0) continue;
        const std::string title = voice_title(part, voices[i].id);
        others.push_back(voices[i].struck == 1
                             ? base::message("{} (1 note)", title)
                             : base::message("{} ({} notes)", title, voices[i].struck));
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
         std::binary_search(followed.begin(), followed.end(), index);
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
