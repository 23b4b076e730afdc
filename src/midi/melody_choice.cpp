#include "midi/melody_choice.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "midi/messages.h"
#include "midi/rules.h"
#include "model/melody_evidence.h"

namespace yubifu::midi {
namespace {

// So many quarter notes are as good as a bar; onsets this close, in parts of one, are together.
constexpr std::int64_t kBarQuarters = 4;
constexpr std::int64_t kTogetherParts = 16;

// General MIDI programs counted from 0 whose instruments say something of a line, and their words
// there (General MIDI 1).
struct ProgramWord {
  int first;
  int last;
  std::string_view word;
};
constexpr std::array kProgramWords = std::to_array<ProgramWord>(
    {{32, 39, "bass"}, {72, 79, "pipe"}, {88, 95, "pad"}, {112, 119, "percussive"}});

struct Part {
  std::uint16_t track = 0;
  std::uint8_t channel = 0;
  std::vector<PairedNote> notes;
  std::optional<int> program;
};

bool by_begin(const PairedNote& a, const PairedNote& b) {
  return a.begin < b.begin;
}

std::vector<Part> find_parts(const std::vector<PairedNote>& notes,
                             const std::vector<ChannelEvent>& events) {
  std::map<std::pair<std::uint16_t, std::uint8_t>, Part> parts;
  for (const PairedNote& note : notes) {
    Part& part = parts[{note.track, note.channel}];
    part.track = note.track;
    part.channel = note.channel;
    part.notes.push_back(note);
  }
  for (const ChannelEvent& event : events) {
    if (event.kind() != kProgram) continue;
    const auto part = parts.find({event.track, static_cast<std::uint8_t>(event.channel())});
    if (part != parts.end()) part->second.program = event.first;
  }
  std::vector<Part> list;
  for (auto& [place, part] : parts) list.push_back(std::move(part));
  for (Part& part : list) {
    if (!std::is_sorted(part.notes.begin(), part.notes.end(), by_begin)) {
      std::stable_sort(part.notes.begin(), part.notes.end(), by_begin);
    }
  }
  return list;
}

std::string program_word(const Part& part) {
  for (const ProgramWord& known : kProgramWords) {
    if (part.program && *part.program >= known.first && *part.program <= known.last) {
      return std::string(known.word);
    }
  }
  return {};
}

model::LineEvidence evidence_of(const Part& part, const std::string& name,
                                const std::vector<std::int64_t>& sung, int ppq) {
  const std::int64_t together = ppq / kTogetherParts;
  const std::int64_t bar = ppq * kBarQuarters;
  model::LineEvidence line;
  line.names = {name, program_word(part)};
  line.is_percussion = part.channel == kDrumChannel;
  line.place = part.track;
  std::int64_t bars_to = 0;  // behind the last bar in which it plays
  std::int64_t attack = 0;
  std::size_t in_attack = 0;
  auto lyric = sung.begin();
  for (const PairedNote& note : part.notes) {
    line.add_note(note.key);
    const std::int64_t first_bar = std::max(note.begin / bar, bars_to);
    const std::int64_t end_of_bars =
        std::max(first_bar, std::max(note.begin, note.end - 1) / bar + 1);
    line.bars += static_cast<std::size_t>(end_of_bars - first_bar);
    bars_to = end_of_bars;
    if (in_attack > 0 && note.begin - attack <= together) {
      if (++in_attack == 2) ++line.chords;
      continue;
    }
    attack = note.begin;
    in_attack = 1;
    ++line.attacks;
    while (lyric != sung.end() && *lyric + together < attack) ++lyric;
    if (lyric != sung.end() && *lyric - together <= attack) ++line.syllables;
  }
  return line;
}

// The words of each part: of its track where any track with notes has some, of all otherwise.
std::vector<const std::vector<std::int64_t>*> sung_by(const std::vector<Part>& parts,
                                                      const TrackWords& words,
                                                      std::vector<std::int64_t>& all) {
  const bool on_tracks = std::any_of(parts.begin(), parts.end(), [&](const Part& part) {
    return !words.sung[part.track].empty();
  });
  for (const auto& track : words.sung) all.insert(all.end(), track.begin(), track.end());
  std::sort(all.begin(), all.end());
  std::vector<const std::vector<std::int64_t>*> sung;
  for (const Part& part : parts) sung.push_back(on_tracks ? &words.sung[part.track] : &all);
  return sung;
}

std::string described(const Part& part, const std::vector<std::string>& names) {
  const std::string& name = names[part.track];
  const std::string quoted = name.empty() ? std::string() : fmt::format(" (“{}”)", name);
  return base::message("track {}{}, channel {}", part.track + 1, quoted, part.channel + 1);
}

base::Diagnostic told_choice(const std::vector<Part>& parts, const model::MelodyVerdict& verdict,
                             const std::vector<std::string>& names) {
  std::vector<std::string> others;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i != verdict.line) others.push_back(described(parts[i], names));
  }
  return base::report(
      rule::track_chosen, {},
      model::melody_sentence(described(parts[verdict.line], names), verdict, others),
      base::message("--track and --channel choose another"));
}

}  // namespace

base::Outcome<Melody> choose_melody(const std::vector<PairedNote>& notes,
                                    const std::vector<ChannelEvent>& events,
                                    const TrackWords& words, int ppq,
                                    const MidiReadOptions& options) {
  base::Outcome<Melody> result;
  if (notes.empty()) {
    result.diagnostics.push_back(
        base::report(rule::no_notes, {}, base::message("the file has no notes")));
    return result;
  }
  std::vector<Part> parts = find_parts(notes, events);
  std::erase_if(parts, [&](const Part& part) {
    return (options.track && part.track + 1 != *options.track) ||
           (options.channel && part.channel + 1 != *options.channel);
  });
  if (parts.empty()) {
    const std::string track =
        options.track ? base::message(" track {}", *options.track) : std::string();
    const std::string channel =
        options.channel ? base::message(" channel {}", *options.channel) : std::string();
    result.diagnostics.push_back(base::report(
        rule::no_such_part, {}, base::message("there are no notes in{}{}", track, channel),
        base::message("the file has {} tracks", words.names.size())));
    return result;
  }
  std::vector<std::int64_t> all;
  const auto sung = sung_by(parts, words, all);
  std::vector<model::LineEvidence> evidence;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    evidence.push_back(evidence_of(parts[i], words.names[parts[i].track], *sung[i], ppq));
  }
  const model::MelodyVerdict verdict = model::find_melody(evidence);
  Part& best = parts[verdict.line];
  if (parts.size() > 1) {
    result.diagnostics.push_back(told_choice(parts, verdict, words.names));
  } else if (best.channel == kDrumChannel && !options.channel) {
    result.diagnostics.push_back(base::report(
        rule::track_chosen, {},
        base::message("the notes are taken from channel 10, the drums: there are no others"),
        base::message("the keys of drums name instruments, not pitches")));
  }
  result.value = Melody{std::move(best.notes), best.track, best.channel};
  return result;
}

}  // namespace yubifu::midi
