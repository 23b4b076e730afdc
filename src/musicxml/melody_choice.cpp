#include "musicxml/melody_choice.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/suggest.h"
#include "musicxml/rules.h"
#include "musicxml/staff_attributes.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// Nine attacks of ten are single notes in a part that carries a melody.
constexpr std::size_t kSingleShareNumerator = 9;
constexpr std::size_t kSingleShareDenominator = 10;
constexpr int kMostOctaveShift = 5;
constexpr int kHistogramKeys = 256;

struct VoiceCount {
  VoiceId id;
  std::size_t struck = 0;
  std::map<int, std::size_t> elements_by_staff;
};

int main_staff(const VoiceCount& count) {
  int staff = 1;
  std::size_t most = 0;
  for (const auto& [number, elements] : count.elements_by_staff) {
    if (elements > most) {
      most = elements;
      staff = number;
    }
  }
  return staff;
}

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

  std::vector<VoiceCount> run() {
    for (const PlacedNote& note : part_.notes) {
      const NoteElement& element = note.element;
      if (staff_ && element.staff != *staff_) continue;
      VoiceCount& count = count_of(element);
      if (note.element.is_struck() && !element.is_chord) ++count.struck;
      ++count.elements_by_staff[element.staff];
    }
    return std::move(counts_);
  }

 private:
  using Key = std::pair<std::uint32_t, int>;  // staff 0: all staves

  VoiceCount& count_of(const NoteElement& note) {
    const bool by_staff = staff_ || doubled_[note.voice];
    const Key key{note.voice, by_staff ? note.staff : 0};
    if (!counts_.empty() && key == last_key_) return counts_[last_];
    const auto [place, is_new] = index_.try_emplace(key, counts_.size());
    if (is_new) {
      counts_.push_back({{note.voice, by_staff ? std::optional(note.staff) : std::nullopt}, 0, {}});
    }
    last_key_ = key;
    last_ = place->second;
    return counts_[last_];
  }

  const PartEvents& part_;
  std::optional<int> staff_;
  std::vector<bool> doubled_;
  std::vector<VoiceCount> counts_;
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

// Whether the attacks are single notes, nine of ten.
bool is_melodic(const PartEvents& part) {
  std::vector<Moment> attacks;
  for (const PlacedNote& note : part.notes) {
    if (note.element.is_struck()) attacks.push_back(note.at);
  }
  if (!std::is_sorted(attacks.begin(), attacks.end())) std::sort(attacks.begin(), attacks.end());
  std::size_t places = 0;
  std::size_t single = 0;
  for (std::size_t i = 0; i < attacks.size();) {
    std::size_t next = i + 1;
    while (next < attacks.size() && attacks[next] == attacks[i]) ++next;
    ++places;
    if (next == i + 1) ++single;
    i = next;
  }
  return single * kSingleShareDenominator >= places * kSingleShareNumerator;
}

// How many notes are in reach after the best shift by octaves.
std::size_t notes_in_reach(const PartEvents& part, const KeyRange& reach, std::string_view text) {
  std::array<std::size_t, kHistogramKeys> keys{};
  std::map<int, StaffAttributes> attributes;
  for (const PlacedNote& note : part.notes) {
    if (!note.element.is_struck()) continue;
    auto staff = attributes.find(note.element.staff);
    if (staff == attributes.end()) {
      staff =
          attributes.emplace(note.element.staff, read_attributes(part, note.element.staff, text))
              .first;
    }
    const int key = staff->second.sounding(note.element.pitch, note.at).pitch.key;
    if (key >= 0 && key < kHistogramKeys) ++keys[static_cast<std::size_t>(key)];
  }
  std::size_t best = 0;
  for (int shift = -kMostOctaveShift; shift <= kMostOctaveShift; ++shift) {
    std::size_t count = 0;
    for (int key = 0; key < kHistogramKeys; ++key) {
      const int shifted = key + 12 * shift;
      if (shifted >= reach.low && shifted <= reach.high) {
        count += keys[static_cast<std::size_t>(key)];
      }
    }
    best = std::max(best, count);
  }
  return best;
}

struct Candidates {
  std::vector<std::size_t> parts;
  bool can_be_read = true;  ///< not percussion
};

Candidates candidates_among(const std::vector<PartEvents>& events) {
  std::vector<std::size_t> pitched;
  std::vector<std::size_t> melodic;
  std::vector<std::size_t> silent;
  for (std::size_t i = 0; i < events.size(); ++i) {
    const PartKind kind = kind_of(events[i]);
    if (kind == PartKind::rests_only) silent.push_back(i);
    if (kind != PartKind::pitched) continue;
    pitched.push_back(i);
    if (is_melodic(events[i])) melodic.push_back(i);
  }
  if (!melodic.empty()) return {melodic, true};
  if (!pitched.empty()) return {pitched, true};
  return {silent, !silent.empty()};
}

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

/// A list in a message shows so many items.
constexpr std::size_t kMostListed = 8;

std::string joined(const std::vector<std::string>& items) {
  std::string list;
  for (std::size_t i = 0; i < std::min(items.size(), kMostListed); ++i) {
    if (i > 0) list += ", ";
    list += items[i];
  }
  if (items.size() > kMostListed) {
    list += base::message(" and {} more", items.size() - kMostListed);
  }
  return list;
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

base::Outcome<std::size_t> unknown_part(const std::vector<PartSource>& parts,
                                        const std::string& asked) {
  std::vector<std::string> titles;
  std::vector<std::string_view> names;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    titles.push_back(part_title(parts, i));
    names.push_back(parts[i].name);
  }
  const auto nearest = base::nearest_word(asked, names);
  return failed<std::size_t>(
      rule::unknown_part,
      base::message("there is no part '{}'; the file has {}", asked, joined(titles)),
      nearest ? base::message("did you mean '{}'?", *nearest)
              : base::message("give a part by its id, its name or its number"));
}

base::Outcome<std::size_t> choose_part(const std::vector<PartSource>& parts,
                                       const std::vector<PartEvents>& events,
                                       const MusicXmlReadOptions& options, std::string_view text) {
  const std::string hint = base::message("choose a part with notes that have a pitch");
  if (!options.part.empty()) {
    const auto asked = part_asked(parts, options.part);
    if (!asked) return unknown_part(parts, options.part);
    if (kind_of(events[*asked]) != PartKind::unpitched) return {*asked, {}};
    return failed<std::size_t>(rule::unpitched_part,
                               base::message("{} is percussion: its notes have no pitch to finger",
                                             part_title(parts, *asked)),
                               hint, start_of(events[*asked], text));
  }
  const Candidates candidates = candidates_among(events);
  if (!candidates.can_be_read) {
    return failed<std::size_t>(
        rule::unpitched_part,
        base::message("the file holds percussion only: its notes have no pitch to finger"), hint,
        start_of(events.front(), text));
  }
  std::size_t best = candidates.parts.front();
  if (candidates.parts.size() == 1) return {best, {}};
  std::size_t most = 0;
  for (const std::size_t part : candidates.parts) {
    const std::size_t count = notes_in_reach(events[part], options.reach, text);
    if (count > most) {
      most = count;
      best = part;
    }
  }
  return {best, {}};
}

std::string voice_title(const PartEvents& part, const VoiceId& voice) {
  const std::string_view name = part.voices[voice.voice];
  return voice.staff ? base::message("voice {} on staff {}", name, *voice.staff)
                     : base::message("voice {}", name);
}

// What was read and what was left, where there was a choice the options did not make.
base::Diagnostics told_choice(const std::vector<PartSource>& parts,
                              const std::vector<PartEvents>& events, std::size_t part,
                              const std::vector<VoiceCount>& voices, std::size_t voice,
                              const MusicXmlReadOptions& options) {
  std::vector<std::string> others;
  if (options.part.empty()) {
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (i != part) others.push_back(part_title(parts, i));
    }
  }
  if (options.voice.empty()) {
    for (std::size_t i = 0; i < voices.size(); ++i) {
      if (i != voice && voices[i].struck > 0) {
        const std::string title = voice_title(events[part], voices[i].id);
        others.push_back(voices[i].struck == 1
                             ? base::message("{} (1 note)", title)
                             : base::message("{} ({} notes)", title, voices[i].struck));
      }
    }
  }
  if (others.empty()) return {};
  const std::string read = voices.empty()
                               ? std::string()
                               : fmt::format(", {}", voice_title(events[part], voices[voice].id));
  return {base::report(rule::voice_chosen, std::nullopt,
                       base::message("the melody is read from {}{}; left out: {}",
                                     part_title(parts, part), read, joined(others)),
                       base::message("--part and --voice choose another"))};
}

base::Outcome<std::size_t> choose_voice(const PartEvents& part,
                                        const std::vector<VoiceCount>& voices,
                                        const MusicXmlReadOptions& options) {
  std::optional<std::size_t> best;
  std::vector<std::string> titles;
  for (std::size_t i = 0; i < voices.size(); ++i) {
    titles.push_back(voice_title(part, voices[i].id));
    const std::string_view name = part.voices[voices[i].id.voice];
    if (!options.voice.empty() && name != options.voice) continue;
    if (!best || voices[i].struck > voices[*best].struck) best = i;
  }
  if (best) return {*best, {}};
  const std::string asked = options.voice.empty()
                                ? base::message("staff {}", options.staff_number.value_or(1))
                                : base::message("voice '{}'", options.voice);
  return failed<std::size_t>(rule::unknown_voice,
                             base::message("the part has no notes in {}", asked),
                             titles.empty() ? base::message("leave the staff out")
                                            : base::message("it has {}", joined(titles)));
}

}  // namespace

base::Outcome<MelodyChoice> choose_melody(const std::vector<PartSource>& parts,
                                          const std::vector<PartEvents>& events,
                                          const MusicXmlReadOptions& options,
                                          std::string_view text) {
  base::Outcome<std::size_t> part = choose_part(parts, events, options, text);
  if (!part.value) return {std::nullopt, std::move(part.diagnostics)};
  const std::vector<VoiceCount> voices =
      VoiceCounter(events[*part.value], options.staff_number).run();
  if (voices.empty() && options.voice.empty() && !options.staff_number) {
    // A part of nothing but empty bars.
    return {MelodyChoice{*part.value, {}, 1},
            told_choice(parts, events, *part.value, voices, 0, options)};
  }
  base::Outcome<std::size_t> voice = choose_voice(events[*part.value], voices, options);
  if (!voice.value) return {std::nullopt, std::move(voice.diagnostics)};
  const VoiceCount& chosen = voices[*voice.value];
  return {MelodyChoice{*part.value, chosen.id, main_staff(chosen)},
          told_choice(parts, events, *part.value, voices, *voice.value, options)};
}

std::vector<std::size_t> silent_measures(const PartEvents& part, const VoiceId& voice) {
  std::vector<std::size_t> silent;
  for (std::size_t measure = 0; measure < part.measures.size(); ++measure) {
    bool plays = false;
    bool others_play = false;
    for (std::size_t i = part.measures[measure].first_note; i < part.end_of_notes(measure); ++i) {
      const NoteElement& note = part.notes[i].element;
      if (note.kind != NoteKind::pitched || note.is_cue) continue;
      (voice.holds(note) ? plays : others_play) = true;
    }
    if (others_play && !plays) silent.push_back(measure);
  }
  return silent;
}

}  // namespace yubifu::musicxml
