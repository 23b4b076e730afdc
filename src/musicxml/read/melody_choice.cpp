#include "musicxml/read/melody_choice.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/message.h"
#include "base/word_table.h"
#include "model/melody_evidence.h"
#include "musicxml/rules.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::LineEvidence;

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

// Where the music of a part begins.
std::optional<base::SourceRange> music_start(const PartEvents& part, std::string_view text) {
  if (part.measures.empty()) return std::nullopt;
  return range_of(part.measures.front().source.measure, text);
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
            rule::unpitched_part, music_start(events_[parts.front()], text_),
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
      choice.following = follow_line(part, lines, line);
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
