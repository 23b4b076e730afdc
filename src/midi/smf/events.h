// Plain MIDI events: what stands between the bytes of a file and everything musical. Then the
// numbers of the messages, and those that the writer uses as bytes.
#pragma once

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "model/meter.h"
#include "model/pitch.h"

namespace yubifu::midi {

/// Something that holds from a tick on, or stands at it.
template <typename T>
struct Timed {
  std::int64_t tick = 0;
  T value{};
};

/// A note's onset and end in ticks.
struct TickSpan {
  std::int64_t begin = 0;
  std::int64_t end = 0;
};

/// Puts what has ticks in order of time; what stands at one tick keeps its order.
template <typename List>
void sort_by_tick(List& list) {
  const auto earlier = [](const auto& a, const auto& b) { return a.tick < b.tick; };
  if (!std::is_sorted(list.begin(), list.end(), earlier))
    std::stable_sort(list.begin(), list.end(), earlier);
}

/// In order of time, of each tick the last, and none that says what the one before it says.
template <typename T>
std::vector<Timed<T>> changes_only(std::vector<Timed<T>> list) {
  sort_by_tick(list);
  std::vector<Timed<T>> changes;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const bool replaced = i + 1 < list.size() && list[i + 1].tick == list[i].tick;
    if (replaced || (!changes.empty() && changes.back().value == list[i].value)) continue;
    changes.push_back(list[i]);
  }
  return changes;
}

/// The first entry after a tick of those in order of time.
template <typename T>
auto first_after(const std::vector<Timed<T>>& list, std::int64_t tick) {
  return std::partition_point(list.begin(), list.end(),
                              [&](const Timed<T>& entry) { return entry.tick <= tick; });
}

/// The entry that holds at a tick: the last one up to it, or else the first.
template <typename T>
const Timed<T>& in_force(const std::vector<Timed<T>>& list, std::int64_t tick) {
  const auto after = first_after(list, tick);
  return after == list.begin() ? *after : *std::prev(after);
}

/// The longest time in a file: libsmf counts ticks in 31 bits.
inline constexpr std::int64_t kMostTicks = INT32_MAX;

/// The longest time between two events of a track: four bytes of seven bits (SMF 1.1).
inline constexpr std::int64_t kMostDelta = 0x0FFFFFFF;

/// Status bytes without the channel (MIDI 1.0), and that of a meta event (SMF 1.1).
enum Status : std::uint8_t {
  kNoteOff = 0x80,
  kNoteOn = 0x90,
  kController = 0xB0,
  kProgram = 0xC0,
  kPitchBend = 0xE0,
  kMeta = 0xFF,
};

/// Types of meta events (SMF 1.1).
enum MetaType : std::uint8_t {
  kText = 0x01,
  kCopyright = 0x02,
  kTrackName = 0x03,
  kInstrumentName = 0x04,
  kLyric = 0x05,
  kMarker = 0x06,
  kCuePoint = 0x07,
  kEndOfTrack = 0x2F,
  kTempo = 0x51,
  kMeter = 0x58,
  kKey = 0x59,
};

/// Controllers (MIDI 1.0). A registered parameter is chosen by RPN, its value given by data entry.
enum Controller : std::uint8_t {
  kDataEntry = 6,
  kDataEntryFine = 38,
  kNrpnFine = 98,
  kNrpnCoarse = 99,
  kRpnFine = 100,
  kRpnCoarse = 101,
  kAllSoundOff = 120,
  kResetControllers = 121,
  kAllNotesOff = 123,
};

/// The wheel at rest, and how far it goes down from there (MIDI 1.0: 14 bits).
inline constexpr int kBendCentre = 0x2000;
inline constexpr int kHighestKey = 127;  ///< seven bits (MIDI 1.0)
inline constexpr int kDrumChannel = 9;   ///< channel 10 as people count (General MIDI 1)

/// The number that these bytes are, and the lowest bytes of a number: the highest first (SMF 1.1).
std::uint32_t from_big_endian(std::string_view bytes);
std::string to_big_endian(std::uint32_t value, std::size_t bytes);

/// Groups of seven bits, all but the last with the top bit set (SMF 1.1); at most kMostDelta.
void append_variable_length(std::string& out, std::uint32_t value);

/// The time from `now`, which moves there, to a tick; empty texts part one above kMostDelta.
void append_wait(std::string& out, std::int64_t& now, std::int64_t tick);

/// A channel message with one or two data bytes: a Status, a channel from 0, values of seven bits.
std::string message(std::uint8_t status, int channel, int first);
std::string message(std::uint8_t status, int channel, int first, int second);

/// The wheel at `value` of 14 bits; kBendCentre is no bend.
std::string bend_message(int channel, int value);

/// FF, the type, the length and the data as they are.
std::string meta_message(MetaType type, std::string_view data);

/// Microseconds a quarter note, above 0 and of three bytes.
std::string tempo_message(std::uint32_t microseconds);

/// A time signature of any meter but free time, its click on the unit or the dotted quarter.
std::string meter_message(const model::Meter& meter);

/// A key signature; one beyond seven sharps or flats as the one that sounds the same.
std::string key_message(const model::Key& key);

}  // namespace yubifu::midi
