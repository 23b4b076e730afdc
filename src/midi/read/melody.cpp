#include "midi/read/melody.h"

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "midi/read/rules.h"
#include "midi/smf/events.h"
#include "midi/smf/rules.h"
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
  for (auto& [place, part] : parts) {
    std::stable_sort(part.notes.begin(), part.notes.end(),
                     [](const auto& a, const auto& b) { return a.begin < b.begin; });
    list.push_back(std::move(part));
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
                                const std::vector<MetaEvent>& sung, int ppq) {
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
    while (lyric != sung.end() && lyric->tick + together < attack) ++lyric;
    if (lyric != sung.end() && lyric->tick - together <= attack) ++line.syllables;
  }
  return line;
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

// The built-in flutes reach from the tube tone, 3 semitones under 一, to 31 over it.
constexpr int kFluteSemitones = 35;
constexpr int kFarSemitones = 12;
constexpr double kMostFarNotes = 0.1;  // of the part; more of them are music, within a piano's keys
constexpr int kLowestPianoKey = 21;
constexpr int kHighestPianoKey = 108;

constexpr double kFewChords = 0.1;  // of the part; with more of them it is a part of chords

// Parts of a quarter note.
constexpr int kStrumParts = 16;    // chords whose notes begin so close are one stroke
constexpr int kLegatoParts = 2;    // longer together than that is no legato
constexpr int kOverlapParts = 8;   // cutting off more than that is worth a word
constexpr int kNoLengthParts = 4;  // what a note without length gets

using KeyCounts = std::array<std::size_t, kHighestKey + 1>;

// Keys from `low` to `high`, both included.
struct KeyRange {
  int low = 0;
  int high = 0;
};

// A range of keys with all the used ones that are joined to it by steps of at most an octave.
KeyRange joined(KeyRange range, const KeyCounts& count) {
  const auto used = [&](int key) { return count[static_cast<std::size_t>(key)] > 0; };
  for (int key = range.low - 1; key >= 0 && range.low - key <= kFarSemitones; --key) {
    if (used(key)) range.low = key;
  }
  for (int key = range.high + 1; key <= kHighestKey && key - range.high <= kFarSemitones; ++key) {
    if (used(key)) range.high = key;
  }
  return range;
}

std::size_t notes_in(const KeyRange& range, const KeyCounts& count) {
  return std::accumulate(count.begin() + range.low, count.begin() + range.high + 1, std::size_t{0});
}

// The flute-sized window that holds the most notes, and all keys that are joined to them.
KeyRange music_of(const KeyCounts& count) {
  KeyRange window{0, kFluteSemitones - 1};
  for (KeyRange next = window; next.high <= kHighestKey; ++next.low, ++next.high) {
    if (notes_in(next, count) > notes_in(window, count)) window = next;
  }
  KeyRange used = window;
  while (count[static_cast<std::size_t>(used.low)] == 0) ++used.low;
  while (count[static_cast<std::size_t>(used.high)] == 0) --used.high;
  const KeyRange all = joined(used, count);
  return {std::min(all.low, window.low), std::max(all.high, window.high)};
}

// The largest group of keys in which each is at most an octave from the next.
KeyRange largest_register(const KeyCounts& count) {
  KeyRange best{0, 0};
  for (int key = 0; key <= kHighestKey; ++key) {
    if (count[static_cast<std::size_t>(key)] == 0) continue;
    const KeyRange group = joined({key, key}, count);
    if (notes_in(group, count) > notes_in(best, count)) best = group;
    key = group.high;
  }
  return best;
}

void report_left_out(const PairedNote& note, Line line, base::Findings& findings) {
  findings.add(
      base::report(rule::chord_note, {},
                   line == Line::top ? base::message("a note under the melody is left out")
                                     : base::message("a note over the lowest line is left out"),
                   base::message("ask for the other line, or for another track")),
      note.begin);
}

void leave_out_far_notes(std::vector<PairedNote>& part, base::Findings& findings) {
  const auto off_piano = [](const PairedNote& note) {
    return note.key < kLowestPianoKey || note.key > kHighestPianoKey;
  };
  const bool some_on_piano = !std::all_of(part.begin(), part.end(), off_piano);
  KeyCounts count{};
  for (const PairedNote& note : part) {
    if (!some_on_piano || !off_piano(note)) ++count[note.key];
  }
  const KeyRange music = music_of(count);
  const auto is_far = [&](const PairedNote& note) {
    return note.key < music.low || note.key > music.high;
  };
  const auto far = std::count_if(part.begin(), part.end(), is_far);
  const bool few = static_cast<double>(far) <= kMostFarNotes * static_cast<double>(part.size());
  std::erase_if(part, [&](const PairedNote& note) {
    if (!is_far(note) || (!few && !(some_on_piano && off_piano(note)))) return false;
    findings.add(
        base::report(
            rule::far_note, {},
            base::message("a note more than an octave from all the others, such as a breath marker "
                          "or a key switch, is left out")),
        note.begin);
    return true;
  });
}

// Where the line rests, the accompaniment under it sounds alone. Such notes are known by their
// register: more than an octave from all that most of the line uses.
void leave_out_accompaniment(std::vector<PairedNote>& line, Line side, base::Findings& findings) {
  KeyCounts count{};
  for (const PairedNote& note : line) ++count[note.key];
  const KeyRange melody = largest_register(count);
  const auto inside = std::count_if(line.begin(), line.end(), [&](const PairedNote& note) {
    return note.key >= melody.low && note.key <= melody.high;
  });
  if (static_cast<std::size_t>(inside) * 2 <= line.size()) return;
  std::erase_if(line, [&](const PairedNote& note) {
    const bool beside = side == Line::top ? note.key < melody.low : note.key > melody.high;
    if (beside) report_left_out(note, side, findings);
    return beside;
  });
}

void give_lengths(std::vector<PairedNote>& part, int ppq, base::Findings& findings) {
  const std::int64_t usual = std::max(1, ppq / kNoLengthParts);
  std::int64_t next_begin = part.empty() ? 0 : part.back().begin + usual;
  for (std::size_t i = part.size(); i-- > 0;) {
    PairedNote& note = part[i];
    if (i + 1 < part.size() && part[i + 1].begin > note.begin) next_begin = part[i + 1].begin;
    if (note.ended_by == NoteEnd::track_over) {
      findings.add(
          base::report(rule::open_note, {},
                       base::message("a note is never ended: it ends where its track does")),
          note.begin);
    }
    if (note.end > note.begin) continue;
    note.end = std::min(note.begin + usual, next_begin);
    findings.add(base::report(rule::no_length, {},
                              base::message("a note that ends as it begins gets a short length")),
                 note.begin);
  }
}

std::int64_t time_together(const PairedNote& earlier, const PairedNote& later) {
  return std::min(earlier.end, later.end) - later.begin;
}

// For half of the shorter note.
bool mostly_together(const PairedNote& earlier, const PairedNote& later) {
  const std::int64_t shorter = std::min(earlier.end - earlier.begin, later.end - later.begin);
  return time_together(earlier, later) * 2 >= shorter;
}

bool is_one_stroke(const PairedNote& earlier, const PairedNote& later, int ppq) {
  return (later.begin - earlier.begin) * kStrumParts <= ppq;
}

// A part with chords, or one whose notes only overlap as notes of a quick legato do.
enum class Texture { one_at_a_time, chords };

Texture texture_of(const std::vector<PairedNote>& part, int ppq) {
  std::size_t chords = 0;
  for (std::size_t i = 1; i < part.size(); ++i) {
    const PairedNote& before = part[i - 1];
    if (part[i].key == before.key) continue;
    const bool stroke = is_one_stroke(before, part[i], ppq) && mostly_together(before, part[i]);
    const bool long_together = time_together(before, part[i]) * kLegatoParts > ppq;
    if (stroke || long_together) ++chords;
  }
  const bool many = static_cast<double>(chords) > kFewChords * static_cast<double>(part.size());
  return many ? Texture::chords : Texture::one_at_a_time;
}

// Of notes that sound together the one that the line has; of notes that merely overlap both.
std::vector<PairedNote> kept_line(const std::vector<PairedNote>& part, Line line, Texture texture,
                                  int ppq, base::Findings& findings) {
  std::vector<PairedNote> kept;
  for (const PairedNote& note : part) {
    if (kept.empty() || kept.back().end <= note.begin) {
      kept.push_back(note);
      continue;
    }
    PairedNote& last = kept.back();
    const bool better = line == Line::top ? note.key > last.key : note.key < last.key;
    const bool together = texture == Texture::chords
                              ? mostly_together(last, note)
                              : time_together(last, note) * kLegatoParts > ppq;
    const bool chord = note.key != last.key && (together || note.begin == last.begin);
    if (note.key == last.key && note.begin == last.begin) {
      // One key struck twice at once is one note, the longer one.
      last.end = std::max(last.end, note.end);
    } else if (chord && !better) {
      report_left_out(note, line, findings);
    } else if (chord && is_one_stroke(last, note, ppq)) {
      report_left_out(last, line, findings);
      const std::int64_t begin = last.begin;
      last = note;
      last.begin = begin;
    } else {
      if (!chord && (last.end - note.begin) * kOverlapParts > ppq) {
        findings.add(base::report(rule::overlap_cut, {},
                                  base::message("a note is cut short where the next one begins")),
                     last.begin);
      }
      kept.push_back(note);
    }
  }
  return kept;
}

}  // namespace

base::Outcome<Part> choose_melody(const std::vector<PairedNote>& notes,
                                  const std::vector<ChannelEvent>& events, const TrackWords& words,
                                  int ppq, const MidiReadOptions& options) {
  if (notes.empty()) {
    return {std::nullopt,
            {base::report(rule::no_notes, {}, base::message("the file has no notes"))}};
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
    return {std::nullopt,
            {base::report(rule::no_such_part, {},
                          base::message("there are no notes in{}{}", track, channel),
                          base::message("the file has {} tracks", words.names.size()))}};
  }
  // The words of a part are those of its track where any track with notes has some, else of all.
  const bool on_tracks = std::any_of(parts.begin(), parts.end(), [&](const Part& part) {
    return !words.sung[part.track].empty();
  });
  std::vector<MetaEvent> all;
  for (const auto& track : words.sung) all.insert(all.end(), track.begin(), track.end());
  sort_by_tick(all);
  std::vector<model::LineEvidence> evidence;
  for (const Part& part : parts) {
    evidence.push_back(
        evidence_of(part, words.names[part.track], on_tracks ? words.sung[part.track] : all, ppq));
  }
  const model::MelodyVerdict verdict = model::find_melody(evidence);
  Part& best = parts[verdict.line];
  base::Outcome<Part> result;
  if (parts.size() > 1) {
    result.diagnostics.push_back(told_choice(parts, verdict, words.names));
  } else if (best.channel == kDrumChannel && !options.channel) {
    result.diagnostics.push_back(base::report(
        rule::track_chosen, {},
        base::message("the notes are taken from channel 10, the drums: there are no others"),
        base::message("the keys of drums name instruments, not pitches")));
  }
  result.value = std::move(best);
  return result;
}

std::vector<PairedNote> melody_line(std::vector<PairedNote> part, Line line, int ppq, FarNotes far,
                                    base::Findings& findings) {
  if (far == FarNotes::left_out) leave_out_far_notes(part, findings);
  give_lengths(part, ppq, findings);
  const Texture texture = texture_of(part, ppq);
  std::vector<PairedNote> kept = kept_line(part, line, texture, ppq, findings);
  if (texture == Texture::chords) leave_out_accompaniment(kept, line, findings);
  return kept;
}

}  // namespace yubifu::midi
