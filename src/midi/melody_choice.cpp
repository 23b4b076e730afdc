#include "midi/melody_choice.h"

#include <algorithm>
#include <array>
#include <map>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "midi/messages.h"
#include "midi/rules.h"

namespace yubifu::midi {
namespace {

// What speaks for a part, in points. The drum channel is out of the question beside any other.
constexpr int kOneAtATimePoints = 3;
constexpr int kMostlyOneAtATimePoints = 1;
constexpr int kNamePoints = 4;
constexpr int kOtherNamePoints = -3;
constexpr int kPipePoints = 3;
constexpr int kWindPoints = 1;
constexpr int kRegisterPoints = 2;
constexpr int kLowPoints = -2;
constexpr int kFewNotesPoints = -2;
constexpr int kDrumPoints = -100;

constexpr double kOneAtATime = 0.9;
constexpr double kMostlyOneAtATime = 0.6;
constexpr double kFewNotes = 0.1;  // of those of the largest part
// From the tube tone of the lowest flute, an octave lower still for parts written for voices.
constexpr int kLowestMelodyKey = 50;
constexpr int kHighestMelodyKey = 108;
constexpr int kBassKey = 48;

// General MIDI programs counted from 0: brass, reeds and pipes, and among them the pipes.
constexpr int kFirstWind = 56;
constexpr int kFirstPipe = 72;
constexpr int kLastPipe = 79;

constexpr std::array<std::string_view, 14> kMelodyNames{
    "melody", "flute",    "shinobue", "lead", "vocal", "voice", "solo",
    "song",   "メロディ", "主旋律",   "笛",   "歌",    "ふえ",  "うた"};
constexpr std::array<std::string_view, 12> kOtherNames{"bass",   "drum",    "perc",   "chord",
                                                       "pad",    "strings", "guitar", "taiko",
                                                       "ベース", "ドラム",  "伴奏",   "太鼓"};

struct Part {
  std::uint16_t track = 0;
  std::uint8_t channel = 0;
  std::vector<PairedNote> notes;
  int program = 0;
  int points = 0;
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

// The share of notes that begin when the one before is over, or nearly so.
double share_one_at_a_time(const std::vector<PairedNote>& notes) {
  std::size_t alone = 1;
  std::int64_t latest_end = notes.front().end;
  for (std::size_t i = 1; i < notes.size(); ++i) {
    const std::int64_t length = std::max<std::int64_t>(1, notes[i].end - notes[i].begin);
    if (notes[i].begin > notes[i - 1].begin && (latest_end - notes[i].begin) * 2 < length) ++alone;
    latest_end = std::max(latest_end, notes[i].end);
  }
  return static_cast<double>(alone) / static_cast<double>(notes.size());
}

int middle_key(const std::vector<PairedNote>& notes) {
  std::vector<int> keys;
  for (const PairedNote& note : notes) keys.push_back(note.key);
  const auto middle = keys.begin() + static_cast<std::ptrdiff_t>(keys.size() / 2);
  std::nth_element(keys.begin(), middle, keys.end());
  return *middle;
}

std::string lower_case(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

template <typename List>
bool names_one_of(const std::string& name, const List& words) {
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return name.find(word) != std::string::npos; });
}

int points_of(const Part& part, const std::string& track_name, std::size_t most_notes) {
  int points = part.channel == kDrumChannel ? kDrumPoints : 0;
  const double alone = share_one_at_a_time(part.notes);
  if (alone >= kOneAtATime) points += kOneAtATimePoints;
  if (alone < kOneAtATime && alone >= kMostlyOneAtATime) points += kMostlyOneAtATimePoints;
  const std::string name = lower_case(track_name);
  if (names_one_of(name, kMelodyNames)) points += kNamePoints;
  if (names_one_of(name, kOtherNames)) points += kOtherNamePoints;
  const bool pipe = part.program >= kFirstPipe && part.program <= kLastPipe;
  if (pipe) points += kPipePoints;
  if (!pipe && part.program >= kFirstWind && part.program < kFirstPipe) points += kWindPoints;
  const int middle = middle_key(part.notes);
  if (middle >= kLowestMelodyKey && middle <= kHighestMelodyKey) points += kRegisterPoints;
  if (middle < kBassKey) points += kLowPoints;
  const auto count = static_cast<double>(part.notes.size());
  if (count < kFewNotes * static_cast<double>(most_notes)) points += kFewNotesPoints;
  return points;
}

std::string described(const Part& part, const std::vector<std::string>& names) {
  const std::string& name = names[part.track];
  const std::string quoted = name.empty() ? std::string() : fmt::format(" (“{}”)", name);
  return base::message("track {}{}, channel {}", part.track + 1, quoted, part.channel + 1);
}

base::Diagnostic told_choice(const std::vector<Part>& parts, const Part& chosen,
                             const std::vector<std::string>& names) {
  constexpr std::size_t kMostNamed = 5;
  std::string others;
  std::size_t named = 0;
  for (const Part& part : parts) {
    if (&part == &chosen || named == kMostNamed) continue;
    others += (others.empty() ? "" : "; ") + described(part, names);
    ++named;
  }
  const std::size_t more = parts.size() - 1 - named;
  if (more > 0) others += base::message("; and {} more", more);
  return base::report(
      rule::track_chosen, {},
      base::message("the melody is taken from {}; not from {}", described(chosen, names), others),
      base::message("name another track or channel if it is elsewhere"));
}

}  // namespace

base::Outcome<Melody> choose_melody(const std::vector<PairedNote>& notes,
                                    const std::vector<ChannelEvent>& events,
                                    const std::vector<std::string>& names,
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
        base::message("the file has {} tracks", names.size())));
    return result;
  }
  std::size_t most_notes = 0;
  for (const Part& part : parts) most_notes = std::max(most_notes, part.notes.size());
  for (Part& part : parts) part.points = points_of(part, names[part.track], most_notes);
  auto best = std::max_element(parts.begin(), parts.end(),
                               [](const Part& a, const Part& b) { return a.points < b.points; });
  if (parts.size() > 1) {
    result.diagnostics.push_back(told_choice(parts, *best, names));
  } else if (best->channel == kDrumChannel && !options.channel) {
    result.diagnostics.push_back(base::report(
        rule::track_chosen, {},
        base::message("the notes are taken from channel 10, the drums: there are no others"),
        base::message("the keys of drums name instruments, not pitches")));
  }
  result.value = Melody{std::move(best->notes), best->track, best->channel};
  return result;
}

}  // namespace yubifu::midi
