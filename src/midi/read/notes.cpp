#include "midi/read/notes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>

#include "base/message.h"
#include "midi/read/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

constexpr std::size_t kKeys = 128;
constexpr std::size_t kChannels = 16;
constexpr std::size_t kNone = SIZE_MAX;

// For each channel and key of one track a queue of open notes, linked through `next_`.
class OpenNotes {
 public:
  explicit OpenNotes(std::vector<PairedNote>& notes) : notes_(notes) { oldest_.fill(kNone); }

  void begin(const ChannelEvent& event) {
    const std::size_t note = notes_.size();
    notes_.push_back({event.tick, event.tick, event.track,
                      static_cast<std::uint8_t>(event.channel()), event.first,
                      NoteEnd::track_over});
    next_.resize(note + 1, kNone);
    const std::size_t place = place_of(event.channel(), event.first);
    if (oldest_[place] == kNone) {
      oldest_[place] = note;
    } else {
      next_[newest_[place]] = note;
    }
    newest_[place] = note;
  }

  void end_oldest(int channel, std::size_t key, std::int64_t tick, NoteEnd how) {
    std::size_t& oldest = oldest_[place_of(channel, key)];
    if (oldest == kNone) return;
    notes_[oldest].end = tick;
    notes_[oldest].ended_by = how;
    oldest = next_[oldest];
  }

  void end_channel(int channel, std::int64_t tick, NoteEnd how) {
    for (std::size_t key = 0; key < kKeys; ++key) {
      while (oldest_[place_of(channel, key)] != kNone) end_oldest(channel, key, tick, how);
    }
  }

 private:
  static std::size_t place_of(int channel, std::size_t key) {
    return static_cast<std::size_t>(channel) * kKeys + key;
  }

  std::vector<PairedNote>& notes_;
  std::vector<std::size_t> next_;
  std::array<std::size_t, kChannels * kKeys> oldest_{};
  std::array<std::size_t, kChannels * kKeys> newest_{};
};

bool silences(const ChannelEvent& event) {
  return event.kind() == kController &&
         (event.first == kAllSoundOff || event.first >= kAllNotesOff);
}

}  // namespace

std::vector<PairedNote> pair_notes(const std::vector<ChannelEvent>& events,
                                   const std::vector<std::int64_t>& track_ends) {
  std::vector<PairedNote> notes;
  notes.reserve(events.size() / 2);
  OpenNotes open(notes);
  for (std::size_t i = 0; i < events.size(); ++i) {
    const ChannelEvent& event = events[i];
    if (event.kind() == kNoteOn && event.second > 0) {
      open.begin(event);
    } else if (event.kind() == kNoteOn || event.kind() == kNoteOff) {
      open.end_oldest(event.channel(), event.first, event.tick, NoteEnd::released);
    } else if (silences(event)) {
      open.end_channel(event.channel(), event.tick, NoteEnd::released);
    }
    const bool track_over = i + 1 == events.size() || events[i + 1].track != event.track;
    if (!track_over) continue;
    for (std::size_t channel = 0; channel < kChannels; ++channel) {
      open.end_channel(static_cast<int>(channel), track_ends[event.track], NoteEnd::track_over);
    }
  }
  return notes;
}

namespace {

constexpr int kTuningCentre = 0x2000;  // RPN 1: 14 bits over a semitone either way
constexpr int kCoarseCentre = 64;      // RPN 2: semitones

// The registered parameter that data entry sets.
enum class Parameter { none, bend_range, fine_tuning, coarse_tuning };

struct ChannelState {
  int rpn_coarse = 127;
  int rpn_fine = 127;
  bool registered = false;  // the last choice was RPN, not NRPN
  int wheel = kBendCentre;
  int range_semitones = static_cast<int>(kUsualBendRange / model::kSemitoneCents);
  int range_cents = 0;
  int fine_coarse_byte = kTuningCentre >> 7;
  int fine_fine_byte = 0;
  int coarse = kCoarseCentre;

  Parameter parameter() const {
    if (!registered || rpn_coarse != 0) return Parameter::none;
    if (rpn_fine == 0) return Parameter::bend_range;
    if (rpn_fine == 1) return Parameter::fine_tuning;
    return rpn_fine == 2 ? Parameter::coarse_tuning : Parameter::none;
  }

  double cents() const {
    const double range = model::kSemitoneCents * range_semitones + range_cents;
    const double fine = (fine_coarse_byte << 7 | fine_fine_byte) - kTuningCentre;
    return range * (wheel - kBendCentre) / kBendCentre +
           model::kSemitoneCents * fine / kTuningCentre +
           model::kSemitoneCents * (coarse - kCoarseCentre);
  }

  void take(const ChannelEvent& event) {
    if (event.kind() == kPitchBend) {
      wheel = event.second << 7 | event.first;
    } else {
      control(event.first, event.second);
    }
  }

 private:
  void control(int controller, int value) {
    switch (controller) {
      case kRpnCoarse:
      case kNrpnCoarse:
        registered = controller == kRpnCoarse;
        rpn_coarse = value;
        break;
      case kRpnFine:
      case kNrpnFine:
        registered = controller == kRpnFine;
        rpn_fine = value;
        break;
      case kDataEntry:
        if (parameter() == Parameter::bend_range) range_semitones = value;
        if (parameter() == Parameter::fine_tuning) fine_coarse_byte = value;
        if (parameter() == Parameter::coarse_tuning) coarse = value;
        break;
      case kDataEntryFine:
        if (parameter() == Parameter::bend_range) range_cents = value;
        if (parameter() == Parameter::fine_tuning) fine_fine_byte = value;
        break;
      case kResetControllers:
        wheel = kBendCentre;
        rpn_coarse = rpn_fine = 127;
        break;
      default:
        break;
    }
  }
};

bool is_control(const ChannelEvent& event) {
  return event.kind() == kPitchBend || event.kind() == kController;
}

// What bends channels, over all tracks, in order of time.
std::vector<ChannelEvent> controls_of(const std::vector<ChannelEvent>& events) {
  std::vector<ChannelEvent> controls;
  std::copy_if(events.begin(), events.end(), std::back_inserter(controls), is_control);
  sort_by_tick(controls);
  return controls;
}

}  // namespace

std::array<BendLine, 16> bend_lines(const std::vector<ChannelEvent>& events) {
  std::array<ChannelState, 16> states;
  std::array<BendLine, 16> lines;
  for (const ChannelEvent& event : controls_of(events)) {
    const auto channel = static_cast<std::size_t>(event.channel());
    BendLine& line = lines[channel];
    ChannelState& state = states[channel];
    state.take(event);
    const double cents = state.cents();
    if (!line.empty() && line.back().tick == event.tick) {
      line.back().cents = cents;
    } else if (cents != (line.empty() ? 0 : line.back().cents)) {
      line.push_back({event.tick, cents});
    }
  }
  return lines;
}

base::Diagnostics unreset_bends(const std::vector<ChannelEvent>& events) {
  std::array<ChannelState, 16> states;
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

double BendWalk::at(std::int64_t tick) {
  while (next_ < line_.size() && line_[next_].tick <= tick) ++next_;
  return next_ == 0 ? 0 : line_[next_ - 1].cents;
}

std::vector<BendPoint> BendWalk::inside(std::int64_t end) const {
  std::vector<BendPoint> points;
  for (std::size_t i = next_; i < line_.size() && line_[i].tick < end; ++i) {
    points.push_back(line_[i]);
  }
  return points;
}

namespace {

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

BendsOfNote weigh(double first, const std::vector<BendPoint>& later, const PairedNote& note) {
  BendsOfNote result;
  std::map<double, std::int64_t> stood;
  double now = first;
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
  for (const BendPoint& point : later) {
    stand_until(point.tick);
    now = point.cents;
  }
  stand_until(note.end);
  for (const auto& [cents, ticks] : stood) {
    if (ticks > result.longest_ticks) {
      result.longest = cents;
      result.longest_ticks = ticks;
    }
  }
  result.average = sum / static_cast<double>(note.end - note.begin);
  result.last = now;
  return result;
}

}  // namespace

std::vector<BentPitch> bent_pitches(const std::vector<PairedNote>& notes, const BendLine& line,
                                    int ppq, base::Findings& findings) {
  std::vector<BentPitch> pitches;
  pitches.reserve(notes.size());
  BendWalk walk(line);
  BendWalk ahead(line);
  for (std::size_t i = 0; i < notes.size(); ++i) {
    // What a note is bent to after the next one has begun is not heard.
    PairedNote note = notes[i];
    if (i + 1 < notes.size()) note.end = std::min(note.end, notes[i + 1].begin);
    const double key = model::kSemitoneCents * note.key;
    const double first = walk.at(note.begin);
    const std::vector<BendPoint> later = walk.inside(note.end);
    if (later.empty()) {
      pitches.push_back({key + first, Leaving::straight});
      continue;
    }
    const BendsOfNote bends = weigh(first, later, note);
    const auto length = static_cast<double>(note.end - note.begin);
    if (static_cast<double>(bends.longest_ticks) >= kStanding * length) {
      pitches.push_back({key + bends.longest, Leaving::straight});
      continue;
    }
    const bool followed =
        i + 1 < notes.size() && (notes[i + 1].begin - note.end) * kNextParts <= ppq;
    if (followed && std::abs(bends.last - bends.longest) >= kSlideCents) {
      const double next = model::kSemitoneCents * notes[i + 1].key + ahead.at(notes[i + 1].begin);
      if (std::abs(key + bends.last - next) <= kSlideMissCents) {
        findings.add(base::report(rule::slide_read, {},
                                  base::message("a bend that reaches the next note is a slide")),
                     note.begin);
        pitches.push_back({key + bends.longest, Leaving::slides_to_next});
        continue;
      }
    }
    findings.add(
        base::report(rule::moving_bend, {},
                     base::message("a bend moves during a note: it gets the average pitch")),
        note.begin);
    pitches.push_back({key + bends.average, Leaving::straight});
  }
  return pitches;
}

}  // namespace yubifu::midi
