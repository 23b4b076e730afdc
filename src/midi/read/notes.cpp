#include "midi/read/notes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <deque>
#include <iterator>
#include <map>
#include <utility>

#include "base/message.h"
#include "midi/read/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

constexpr int kUsualBendRange = 2;     // semitones before any RPN 0 (General MIDI 1)
constexpr int kTuningCentre = 0x2000;  // RPN 1: 14 bits over a semitone either way
constexpr int kCoarseCentre = 64;      // RPN 2: semitones

struct ChannelState {
  int rpn_coarse = 127;
  int rpn_fine = 127;
  bool registered = false;  // the last choice was RPN, not NRPN
  int wheel = kBendCentre;
  // Data entry, coarse and fine, of RPN 0 (the range in semitones and cents), 1 and 2.
  std::array<std::array<int, 2>, 3> data{
      {{kUsualBendRange, 0}, {kTuningCentre >> 7, 0}, {kCoarseCentre, 0}}};

  double cents() const {
    const double range = model::kSemitoneCents * data[0][0] + data[0][1];
    const double fine = (data[1][0] << 7 | data[1][1]) - kTuningCentre;
    return range * (wheel - kBendCentre) / kBendCentre +
           model::kSemitoneCents * fine / kTuningCentre +
           model::kSemitoneCents * (data[2][0] - kCoarseCentre);
  }

  void take(const ChannelEvent& event) {
    const int value = event.second;
    if (event.kind() == kPitchBend) {
      wheel = value << 7 | event.first;
    } else if (event.first == kRpnCoarse || event.first == kNrpnCoarse) {
      registered = event.first == kRpnCoarse;
      rpn_coarse = value;
    } else if (event.first == kRpnFine || event.first == kNrpnFine) {
      registered = event.first == kRpnFine;
      rpn_fine = value;
    } else if (event.first == kDataEntry || event.first == kDataEntryFine) {
      const auto parameter = static_cast<std::size_t>(rpn_fine);
      if (!registered || rpn_coarse != 0 || parameter >= data.size()) return;
      data[parameter][event.first == kDataEntry ? 0 : 1] = value;
    } else if (event.first == kResetControllers) {
      wheel = kBendCentre;
      rpn_coarse = rpn_fine = 127;
    }
  }
};

// What bends channels, over all tracks, in order of time.
std::vector<ChannelEvent> controls_of(const std::vector<ChannelEvent>& events) {
  std::vector<ChannelEvent> controls;
  std::copy_if(events.begin(), events.end(), std::back_inserter(controls),
               [](const ChannelEvent& event) {
                 return event.kind() == kPitchBend || event.kind() == kController;
               });
  sort_by_tick(controls);
  return controls;
}

constexpr double kStanding = 0.9;       // of the note's length
constexpr double kSameCents = 1;        // two bends this close are one
constexpr double kSlideMissCents = 50;  // how near the next note a slide ends
constexpr double kSlideCents = 50;      // how far it goes at least
constexpr int kNextParts = 4;           // parts of a quarter note: the longest gap it crosses

// The bends during one note: how long each stood.
struct BendsOfNote {
  double longest = 0;  ///< cents that stood longest
  std::int64_t longest_ticks = 0;
  double average = 0;
  double last = 0;
};

double bend_at(const BendLine& line, std::int64_t tick) {
  const auto next = first_after(line, tick);
  return next == line.begin() ? 0 : std::prev(next)->value;
}

BendsOfNote weigh(const BendLine& line, const PairedNote& note) {
  BendsOfNote result;
  std::map<double, std::int64_t> stood;
  double now = bend_at(line, note.begin);
  std::int64_t since = note.begin;
  double sum = 0;
  const auto stand_until = [&](std::int64_t tick) {
    const std::int64_t ticks = tick - since;
    const auto near = stood.lower_bound(now - kSameCents);
    const bool known = near != stood.end() && near->first <= now + kSameCents;
    (known ? near->second : stood[now]) += ticks;
    sum += now * static_cast<double>(ticks);
    since = tick;
  };
  for (auto at = first_after(line, note.begin); at != line.end() && at->tick < note.end; ++at) {
    stand_until(at->tick);
    now = at->value;
  }
  stand_until(note.end);
  for (const auto& [cents, ticks] : stood) {
    if (ticks <= result.longest_ticks) continue;
    result.longest = cents;
    result.longest_ticks = ticks;
  }
  result.average = sum / static_cast<double>(note.end - note.begin);
  result.last = now;
  return result;
}

}  // namespace

std::vector<PairedNote> pair_notes(const std::vector<ChannelEvent>& events,
                                   const std::vector<std::int64_t>& track_ends) {
  std::vector<PairedNote> notes;
  notes.reserve(events.size() / 2);
  // Those of one track, by channel and key, the oldest first.
  std::map<std::pair<int, int>, std::deque<std::size_t>> open;
  const auto end_oldest = [&](std::deque<std::size_t>& of, std::int64_t tick, NoteEnd how) {
    notes[of.front()].end = tick;
    notes[of.front()].ended_by = how;
    of.pop_front();
  };
  const auto end_channels = [&](int first, int last, std::int64_t tick, NoteEnd how) {
    auto at = open.lower_bound({first, 0});
    for (; at != open.end() && at->first.first <= last; at = open.erase(at)) {
      while (!at->second.empty()) end_oldest(at->second, tick, how);
    }
  };
  for (std::size_t i = 0; i < events.size(); ++i) {
    const ChannelEvent& event = events[i];
    const int channel = event.channel();
    if (event.kind() == kNoteOn && event.second > 0) {
      open[{channel, event.first}].push_back(notes.size());
      notes.push_back({event.tick, event.tick, event.track, static_cast<std::uint8_t>(channel),
                       event.first, NoteEnd::track_over});
    } else if (event.kind() == kNoteOn || event.kind() == kNoteOff) {
      std::deque<std::size_t>& same = open[{channel, event.first}];
      if (!same.empty()) end_oldest(same, event.tick, NoteEnd::released);
    } else if (event.kind() == kController &&
               (event.first == kAllSoundOff || event.first >= kAllNotesOff)) {
      end_channels(channel, channel, event.tick, NoteEnd::released);
    }
    const bool track_over = i + 1 == events.size() || events[i + 1].track != event.track;
    if (track_over) end_channels(0, kChannels - 1, track_ends[event.track], NoteEnd::track_over);
  }
  return notes;
}

std::array<BendLine, kChannels> bend_lines(const std::vector<ChannelEvent>& events) {
  std::array<ChannelState, kChannels> states;
  std::array<BendLine, kChannels> lines;
  for (const ChannelEvent& event : controls_of(events)) {
    const auto channel = static_cast<std::size_t>(event.channel());
    BendLine& line = lines[channel];
    states[channel].take(event);
    const double cents = states[channel].cents();
    if (!line.empty() && line.back().tick == event.tick) {
      line.back().value = cents;
    } else if (cents != (line.empty() ? 0 : line.back().value)) {
      line.push_back({event.tick, cents});
    }
  }
  return lines;
}

base::Diagnostics unreset_bends(const std::vector<ChannelEvent>& events) {
  std::array<ChannelState, kChannels> states;
  for (const ChannelEvent& event : controls_of(events)) {
    states[static_cast<std::size_t>(event.channel())].take(event);
  }
  base::Diagnostics found;
  for (std::size_t channel = 0; channel < states.size(); ++channel) {
    if (states[channel].wheel == kBendCentre) continue;
    found.push_back(
        base::report(rule::bend_not_reset, std::nullopt,
                     base::message("channel {} is still bent when the file ends", channel + 1),
                     base::message("set the pitch wheel to its middle after the last note")));
  }
  return found;
}

std::vector<BentPitch> bent_pitches(const std::vector<PairedNote>& notes, const BendLine& line,
                                    int ppq, base::Findings& findings) {
  std::vector<BentPitch> pitches;
  pitches.reserve(notes.size());
  for (std::size_t i = 0; i < notes.size(); ++i) {
    PairedNote note = notes[i];
    const PairedNote* next = i + 1 < notes.size() ? &notes[i + 1] : nullptr;
    // What a note is bent to after the next one has begun is not heard.
    if (next != nullptr) note.end = std::min(note.end, next->begin);
    const BendsOfNote bends = weigh(line, note);
    const double key = model::kSemitoneCents * note.key;
    BentPitch& pitch = pitches.emplace_back(BentPitch{key + bends.longest, Leaving::straight});
    const auto length = static_cast<double>(note.end - note.begin);
    if (static_cast<double>(bends.longest_ticks) >= kStanding * length) continue;
    const auto reaches = [&](const PairedNote& to) {
      const double there = model::kSemitoneCents * to.key + bend_at(line, to.begin);
      return (to.begin - note.end) * kNextParts <= ppq &&
             std::abs(bends.last - bends.longest) >= kSlideCents &&
             std::abs(key + bends.last - there) <= kSlideMissCents;
    };
    if (next != nullptr && reaches(*next)) {
      pitch.leaving = Leaving::slides_to_next;
      findings.add(base::report(rule::slide_read, {},
                                base::message("a bend that reaches the next note is a slide")),
                   note.begin);
    } else {
      pitch.total_cents = key + bends.average;
      findings.add(
          base::report(rule::moving_bend, {},
                       base::message("a bend moves during a note: it gets the average pitch")),
          note.begin);
    }
  }
  return pitches;
}

}  // namespace yubifu::midi
