#include "midi/note_pairing.h"

#include <array>
#include <cstddef>

#include "midi/messages.h"

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

}  // namespace yubifu::midi
