#include "midi/smf/smf_bridge.h"

#include <algorithm>
#include <memory>
#include <mutex>

// libsmf includes glib inside its own extern "C", so glib comes first.
#include <glib.h>
// Its own header follows.
#include <smf.h>

#include "base/message.h"
#include "midi/smf/events.h"
#include "midi/smf/rules.h"

namespace yubifu::midi {
namespace {

// smf_delete takes time quadratic in the events of a track, since each removal searches and
// renumbers them. Events are freed one by one here, after which the track has none to remove.
struct FileDeleter {
  void operator()(smf_t* file) const {
    for (guint t = 0; t < file->tracks_array->len; ++t) {
      auto* track = static_cast<smf_track_t*>(g_ptr_array_index(file->tracks_array, t));
      for (guint e = 0; e < track->events_array->len; ++e) {
        auto* event = static_cast<smf_event_t*>(g_ptr_array_index(track->events_array, e));
        event->track = nullptr;
        smf_event_delete(event);
      }
      g_ptr_array_set_size(track->events_array, 0);
      track->number_of_events = 0;
    }
    smf_delete(file);
  }
};
using File = std::unique_ptr<smf_t, FileDeleter>;

// What libsmf says goes through glib's log, whose handler is one for the whole process: it is set
// once, and each thread has its own list to fill while it reads.
thread_local std::vector<std::string>* log_lines = nullptr;

void keep_log_line(const gchar*, GLogLevelFlags, const gchar* line, gpointer) {
  if (log_lines != nullptr) log_lines->emplace_back(line);
}

// Each event gets its full status byte, so that no reader depends on running status.
std::string events_of(const Track& track) {
  std::string bytes;
  std::int64_t now = 0;
  for (const auto& event : track.events) {
    append_wait(bytes, now, event.tick);
    bytes += event.value;
  }
  append_wait(bytes, now, std::max(now, track.end));
  return bytes + meta_message(kEndOfTrack, "");
}

}  // namespace

// Not through smf_save: that is quadratic, wants a file it can seek in, and refuses texts over 127
// bytes. And libsmf can fail to add an event, which here nothing can.
std::string to_bytes(const std::vector<Track>& tracks, int ppq) {
  std::string out = "MThd";
  out += to_big_endian(6, 4) + to_big_endian(1, 2);
  out += to_big_endian(static_cast<std::uint32_t>(tracks.size()), 2);
  out += to_big_endian(static_cast<std::uint32_t>(ppq), 2);
  for (const Track& track : tracks) {
    const std::string events = events_of(track);
    out += "MTrk" + to_big_endian(static_cast<std::uint32_t>(events.size()), 4) + events;
  }
  return out;
}

base::Outcome<std::vector<ChannelEvent>> load(std::string_view clean) {
  base::Outcome<std::vector<ChannelEvent>> result;
  static std::once_flag once;
  std::call_once(once, [] {
    const auto all = static_cast<GLogLevelFlags>(G_LOG_LEVEL_MASK | G_LOG_FLAG_RECURSION);
    g_log_set_handler("libsmf", all, keep_log_line, nullptr);
  });
  std::vector<std::string> said_lines;
  log_lines = &said_lines;
  const File file(smf_load_from_memory(clean.data(), static_cast<int>(clean.size())));
  log_lines = nullptr;
  if (file == nullptr || !said_lines.empty()) {
    const std::string said = said_lines.empty() ? base::message("no reason") : said_lines.front();
    result.diagnostics.push_back(base::report(
        rule::unreadable_midi, {}, base::message("the MIDI library refused the file: {}", said)));
  }
  if (file == nullptr) return result;
  std::vector<ChannelEvent>& events = result.value.emplace();
  for (guint t = 0; t < file->tracks_array->len; ++t) {
    const auto* track = static_cast<smf_track_t*>(g_ptr_array_index(file->tracks_array, t));
    events.reserve(events.size() + track->events_array->len);
    for (guint i = 0; i < track->events_array->len; ++i) {
      const auto* event = static_cast<smf_event_t*>(g_ptr_array_index(track->events_array, i));
      const unsigned char* bytes = event->midi_buffer;
      if (bytes[0] >= 0xF0) continue;
      events.push_back({event->time_pulses, static_cast<std::uint16_t>(t), bytes[0], bytes[1],
                        event->midi_buffer_length > 2 ? bytes[2] : std::uint8_t{0}});
    }
  }
  return result;
}

}  // namespace yubifu::midi
