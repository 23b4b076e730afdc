#include "midi/smf/scan.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>

#include "base/findings.h"
#include "base/message.h"
#include "midi/smf/events.h"
#include "midi/smf/rules.h"

namespace yubifu::midi {
namespace {

constexpr std::size_t kChunkHead = 8;     // an id of four letters and a length
constexpr std::size_t kHeaderLength = 6;  // format, number of tracks, division
constexpr int kMadeUpTicks = 480;         // for the library, where time is not counted in quarters
constexpr int kUsualTempo = 120;          // quarters a minute

// The MIDI file inside a RIFF file; another file as it is.
std::string_view inside_riff(std::string_view bytes) {
  if (bytes.size() < 12 || !bytes.starts_with("RIFF") || bytes.substr(8, 4) != "RMID") return bytes;
  std::size_t at = 12;
  while (bytes.size() - at >= kChunkHead) {
    // RIFF counts from the other end.
    std::string turned(bytes.substr(at + 4, 4));
    std::reverse(turned.begin(), turned.end());
    const std::size_t length = from_big_endian(turned);
    if (bytes.substr(at, 4) == "data") return bytes.substr(at + kChunkHead, length);
    // Chunks begin at even places.
    const std::size_t padded = length + length % 2;
    if (padded > bytes.size() - at - kChunkHead) break;
    at += kChunkHead + padded;
  }
  return bytes;
}

// Each kind of repair is told once, with its first place and how many there are.
std::string and_more(const base::Finding& repair) {
  const std::string more =
      repair.count == 1 ? std::string() : base::message(" (and {} more like it)", repair.count - 1);
  return repair.told.message + more;
}

// What the scan of a file has come to.
struct Scan {
  std::string_view file;
  std::size_t offset_of_zero = 0;  // added to offsets in messages, for a file inside another one
  std::int64_t most_ticks = 0;     // a time past this is damage
  std::size_t events = 0;          // of all tracks
  ScannedFile result = {};
  base::Findings repairs = {};

  // One more repair of a damaged file, at a byte of it. The first one of a rule is told.
  void repair(const base::Rule& rule, std::size_t at, const std::string& message) {
    base::Finding& repair = repairs.of(rule);
    if (repair.count == 0) {
      repair.told.message = base::message("at byte {}: {}", at + offset_of_zero, message);
    }
    repair.add(base::kNoBar);
  }
};

constexpr std::uint8_t kSysex = 0xF0;
constexpr std::uint8_t kEscape = 0xF7;
constexpr std::uint8_t kFirstRealTime = 0xF8;
constexpr std::uint8_t kHighestUnitPower = 7;  // a meter's unit is at most 1/128
constexpr std::uint8_t kMostMeterBeats = 64;
constexpr std::size_t kLengthBytes = 4;  // of a chunk
constexpr std::size_t kLookAhead = 16;   // events

bool is_real_time(std::uint8_t byte) {
  return byte >= kFirstRealTime && byte < kMeta;
}

// Appends a track, its events in [begin, end), up to its End of Track or the first damage.
class TrackScanner {
 public:
  TrackScanner(Scan& scan, std::size_t begin, std::size_t end)
      : scan_(scan), at_(begin), end_(end) {}

  // Returns where to go on: the end of the chunk, or sooner where the chunk's length was wrong and
  // the next track begins right after End of Track.
  std::size_t run() {
    to_.clean += "MTrk";
    const std::size_t length_at = to_.clean.size();
    to_.clean.append(kLengthBytes, '\0');
    while (state_ == State::reading) event();
    append_wait(to_.clean, clean_tick_, tick_);
    to_.clean.append({'\xFF', '\x2F', '\0'});
    const std::size_t length = to_.clean.size() - length_at - kLengthBytes;
    to_.clean.replace(length_at, kLengthBytes,
                      to_big_endian(static_cast<std::uint32_t>(length), kLengthBytes));
    to_.track_ends.push_back(tick_);
    return state_ == State::ended ? after_end() : end_;
  }

 private:
  enum class State { reading, ended, cut };

  std::uint8_t byte(std::size_t at) const { return static_cast<std::uint8_t>(scan_.file[at]); }
  std::size_t left() const { return end_ - at_; }

  // Everything before `at` is kept.
  void cut(std::size_t at, const std::string& what) {
    state_ = State::cut;
    scan_.repair(rule::damaged_track, at,
                 base::message("track {} is damaged here and cut: {}", track_ + 1, what));
  }

  // The number of up to four bytes at `at`, which goes behind it; nothing if it does not end here.
  std::optional<std::uint32_t> take_length(std::size_t& at) const {
    std::uint32_t value = 0;
    for (int group = 0; group < 4 && at < end_; ++group) {
      const std::uint8_t next = byte(at++);
      value = value << 7 | (next & 0x7F);
      if (next < 0x80) return value;
    }
    return std::nullopt;
  }

  void event() {
    const std::size_t start = at_;
    if (left() == 0) {
      state_ = State::cut;
      return scan_.repair(rule::no_end_of_track, at_,
                          base::message("track {} has no End of Track", track_ + 1));
    }
    const auto delta = take_length(at_);
    if (!delta) {
      return cut(start,
                 base::message("a time is not a number of one to four bytes inside the track"));
    }
    if (left() == 0) return cut(start, base::message("a time has no event behind it"));
    if (tick_ + *delta > scan_.most_ticks) {
      state_ = State::cut;
      return scan_.repair(rule::time_limit, start,
                          base::message("track {} ends here: {} ticks more would pass the limit of "
                                        "{} ticks, {} quarter notes",
                                        track_ + 1, *delta, scan_.most_ticks, kMostQuarters));
    }
    tick_ += *delta;
    if (++scan_.events > kMostEvents) {
      return cut(start, base::message("there are too many events"));
    }
    std::uint8_t status = byte(at_);
    if (status < 0x80) {
      if (running_ == 0) {
        return cut(at_, base::message("a data byte stands where a status byte must"));
      }
      if (interrupted_) {
        scan_.repair(rule::running_status, at_,
                     base::message("running status goes on after an event that ends it in track {}",
                                   track_ + 1));
        interrupted_ = false;
      }
      status = running_;
    } else {
      ++at_;
    }
    if (status < kSysex) return channel_message(status, start);
    if (status == kMeta) return meta(start);
    if (status == kSysex || status == kEscape) return sysex(start);
    stray(status, start);
  }

  void channel_message(std::uint8_t status, std::size_t start) {
    running_ = status;
    interrupted_ = false;
    std::array<char, 3> bytes{static_cast<char>(status)};
    const std::size_t wanted = data_bytes(status);
    for (std::size_t have = 0; have < wanted;) {
      if (left() == 0) return cut(start, base::message("the last event is not whole"));
      const std::uint8_t data = byte(at_);
      if (data < 0x80) {
        bytes[++have] = static_cast<char>(data);
        ++at_;
        continue;
      }
      const std::size_t after = at_ + wanted - have;
      const std::size_t as_data = sound_events(after);
      if (is_real_time(data) && sound_events(at_ + 1, wanted - have) > as_data) {
        stray(data, at_++);
        continue;
      }
      if (as_data == 0) return cut(at_, base::message("a status byte stands inside an event"));
      scan_.repair(rule::data_byte, start,
                   base::message("an event with the data byte {:02X}, over 7F, is left out", data));
      at_ = after;
      return;
    }
    append_wait(to_.clean, clean_tick_, tick_);
    to_.clean.append(bytes.data(), 1 + wanted);
  }

  static std::size_t data_bytes(std::uint8_t status) { return (status & 0xE0) == 0xC0 ? 1 : 2; }

  // How many events can be read from a place on, after so many data bytes of the one before, up to
  // the end of the track or kLookAhead: where bytes are out of order, the reading that goes on for
  // longer is the one that was meant.
  std::size_t sound_events(std::size_t at, std::size_t data = 0) const {
    if (at > end_) return 0;
    std::uint8_t running = running_;
    for (std::size_t sound = 0; sound < kLookAhead; ++sound) {
      for (; data > 0; --data, ++at) {
        if (at >= end_ || byte(at) >= 0x80) return sound;
      }
      if (at == end_) return kLookAhead;
      if (!take_length(at) || at == end_) return sound;
      const std::uint8_t status = byte(at) < 0x80 ? running : byte(at++);
      if (status < kSysex) {
        running = status;
        data = data_bytes(status);
        continue;
      }
      const bool meta = status == kMeta;
      if (meta && at < end_ && byte(at++) == kEndOfTrack) return kLookAhead;
      const auto length =
          meta || status == kSysex || status == kEscape ? take_length(at) : std::nullopt;
      if (!length || *length > end_ - at) return sound;
      at += *length;
    }
    return kLookAhead;
  }

  void stray(std::uint8_t status, std::size_t start) {
    scan_.repair(
        rule::stray_status, start,
        base::message("the byte {:02X} does not belong into a file and is left out", status));
    if (is_real_time(status)) return;
    interrupted_ = true;
    // Data bytes behind a system common message (MIDI 1.0).
    int data = status == 0xF2 ? 2 : status == 0xF1 || status == 0xF3 ? 1 : 0;
    for (; data > 0 && left() > 0 && byte(at_) < 0x80; --data) ++at_;
  }

  // The length and the bytes of a meta or exclusive event, or nothing when it leaves the track.
  std::optional<std::string_view> data() {
    const auto length = take_length(at_);
    if (!length || *length > left()) return std::nullopt;
    const std::string_view bytes = scan_.file.substr(at_, *length);
    at_ += *length;
    return bytes;
  }

  void sysex(std::size_t start) {
    interrupted_ = true;
    if (!data()) {
      return cut(start, base::message("an exclusive message reaches past the end of the track"));
    }
    scan_.repair(rule::exclusive_left_out, start,
                 base::message("messages for one make of instrument are left out"));
  }

  void meta(std::size_t start) {
    interrupted_ = true;
    if (left() == 0) return cut(start, base::message("the last event is not whole"));
    const std::uint8_t type = byte(at_++);
    const auto text = data();
    if (!text) return cut(start, base::message("a meta event reaches past the end of the track"));
    if (type == kEndOfTrack) {
      state_ = State::ended;
    } else if (const std::string fault = fault_of(type, *text); !fault.empty()) {
      scan_.repair(rule::bad_meta, start, base::message("{}: it is left out", fault));
    } else {
      to_.metas.push_back({tick_, track_, type, *text});
    }
  }

  static std::string fault_of(std::uint8_t type, std::string_view data) {
    const auto value = [&](std::size_t i) { return static_cast<std::uint8_t>(data[i]); };
    if (type == kTempo && (data.size() != 3 || (value(0) == 0 && value(1) == 0 && value(2) == 0))) {
      return base::message("a tempo is three bytes and not zero");
    }
    if (type == kMeter && (data.size() != 4 || value(0) == 0 || value(0) > kMostMeterBeats ||
                           value(1) > kHighestUnitPower)) {
      return base::message(
          "a time signature is four bytes, of 1 to 64 beats and a unit up to 1/128");
    }
    if (type == kKey && (data.size() != 2 || (value(0) > 7 && value(0) < 0xF9) || value(1) > 1)) {
      return base::message(
          "a key signature is two bytes: up to seven sharps or flats, major or minor");
    }
    return {};
  }

  std::size_t after_end() {
    if (left() == 0) return end_;
    if (scan_.file.substr(at_).starts_with("MTrk")) {
      scan_.repair(rule::damaged_track, at_,
                   base::message("track {} says it is longer than it is: the next one begins here",
                                 track_ + 1));
      return at_;
    }
    scan_.repair(
        rule::after_end_of_track, at_,
        base::message("{} bytes after the end of track {} are left out", left(), track_ + 1));
    return end_;
  }

  Scan& scan_;
  ScannedFile& to_ = scan_.result;
  std::size_t at_;
  std::size_t end_;
  std::uint16_t track_ = static_cast<std::uint16_t>(to_.track_ends.size());
  State state_ = State::reading;
  std::int64_t tick_ = 0;
  std::int64_t clean_tick_ = 0;  // of the last event copied
  std::uint8_t running_ = 0;     // status of the last channel message
  bool interrupted_ = false;     // an event since then ended running status
};

class FileScanner : Scan {
 public:
  explicit FileScanner(Scan scan) : Scan(std::move(scan)) {}

  base::Outcome<ScannedFile> run() {
    if (!header()) return {std::nullopt, std::move(errors_)};
    while (at_ < file.size() && errors_.empty()) chunk();
    if (errors_.empty() && tracks() == 0) {
      error(rule::no_notes, at_, base::message("the file has no track"));
    }
    if (errors_.empty() && tracks() != declared_) {
      repair(rule::track_count, 10,
             base::message("the header says {} tracks, and there are {}", declared_, tracks()));
    }
    if (events > kMostEvents) {
      error(rule::midi_too_large, file.size(),
            base::message("there are more than {} events", kMostEvents));
    }
    base::Diagnostics found = repairs.diagnostics({}, and_more);
    if (!errors_.empty()) {
      base::append(found, std::move(errors_));
      return {std::nullopt, std::move(found)};
    }
    result.clean.replace(10, 2, to_big_endian(static_cast<std::uint32_t>(tracks()), 2));
    return {std::move(result), std::move(found)};
  }

 private:
  std::size_t tracks() const { return result.track_ends.size(); }

  // False, as the checks are that find it.
  bool error(const base::Rule& rule, std::size_t at, const std::string& message,
             std::string hint = {}) {
    errors_.push_back(base::report(
        rule, {}, base::message("at byte {}: {}", at + offset_of_zero, message), std::move(hint)));
    return false;
  }

  bool header() {
    if (!file.starts_with("MThd")) {
      return error(rule::not_midi, 0, base::message("a MIDI file begins with the letters MThd"));
    }
    if (file.size() < kChunkHead + kHeaderLength) {
      return error(rule::midi_header, file.size(),
                   base::message("the file ends inside its header of 14 bytes"));
    }
    const std::size_t length = from_big_endian(file.substr(4, 4));
    if (length < kHeaderLength || length > file.size() - kChunkHead) {
      return error(rule::midi_header, 4,
                   base::message("the header says it is {} bytes long; it is 6", length));
    }
    if (length > kHeaderLength) {
      repair(rule::long_header, 4,
             base::message("the header has {} bytes more than are known: they are left out",
                           length - kHeaderLength));
    }
    const std::uint32_t format = from_big_endian(file.substr(8, 2));
    declared_ = from_big_endian(file.substr(10, 2));
    at_ = kChunkHead + length;
    if (format < 2) return take_division();
    return error(
        rule::midi_format, 8,
        format == 2 ? base::message(
                          "the file is of format 2: a row of patterns to be played one by one, not "
                          "one piece of music; only formats 0 and 1 are read")
                    : base::message("the file is of format {}; there are 0, 1 and 2", format),
        base::message("let the program that made it save format 0 or 1"));
  }

  bool take_division() {
    const std::uint32_t word = from_big_endian(file.substr(12, 2));
    int ticks = static_cast<int>(word);
    most_ticks = std::min(kMostTicks, kMostQuarters * ticks);
    result.division = {ticks, std::nullopt};
    if (word >= 0x8000) {
      const int frames = 256 - static_cast<int>(word >> 8);
      const int in_frame = static_cast<int>(word & 0xFF);
      const bool known = frames == 24 || frames == 25 || frames == 29 || frames == 30;
      if (!known || in_frame == 0) {
        return error(
            rule::midi_division, 12,
            base::message("time is counted in {} frames a second of {} ticks; there are 24, 25, "
                          "29 and 30 frames, of at least one tick",
                          frames, in_frame));
      }
      result.division = {in_frame, frames};
      most_ticks = std::min(kMostTicks, kMostQuarters * frames * in_frame * 60 / kUsualTempo);
      ticks = kMadeUpTicks;
    } else if (ticks == 0) {
      return error(rule::midi_division, 12, base::message("a quarter note has no ticks"));
    }
    result.clean = {'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, 1, 0, 0};
    result.clean += to_big_endian(static_cast<std::uint32_t>(ticks), 2);
    result.clean.reserve(file.size() + file.size() / 3);
    return true;
  }

  void chunk() {
    const std::size_t left = file.size() - at_;
    const std::string_view id = file.substr(at_, 4);
    const bool printable =
        std::all_of(id.begin(), id.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
    if (left < kChunkHead || !printable || id == "MThd") return not_a_chunk();
    const std::size_t length = from_big_endian(file.substr(at_ + 4, 4));
    const std::size_t inside = left - kChunkHead;
    if (id == "MTrk") return track(length, inside);
    if (length > inside) return not_a_chunk();
    repair(rule::foreign_chunk, at_, base::message("the chunk {} is no track and is left out", id));
    at_ += kChunkHead + length;
  }

  void track(std::size_t length, std::size_t inside) {
    if (tracks() == kMostTracks) {
      error(rule::midi_too_large, at_, base::message("there are more than {} tracks", kMostTracks));
      return;
    }
    if (length > inside) {
      repair(rule::damaged_track, at_,
             base::message("track {} says it has {} bytes, and the file ends after {}",
                           tracks() + 1, length, inside));
    }
    const std::size_t begin = at_ + kChunkHead;
    at_ = TrackScanner(*this, begin, begin + std::min(length, inside)).run();
  }

  // Looks for the next track; without one, the rest of the file is nothing.
  void not_a_chunk() {
    const std::size_t next =
        tracks() < declared_ ? file.find("MTrk", at_ + 1) : std::string_view::npos;
    if (next == std::string_view::npos) {
      repair(rule::stale_bytes, at_,
             base::message("the last {} bytes are no chunk and are left out", file.size() - at_));
    } else {
      repair(rule::damaged_track, at_,
             base::message("{} bytes are no chunk: reading goes on at the next track", next - at_));
    }
    at_ = std::min(next, file.size());
  }

  std::size_t at_ = 0;
  std::size_t declared_ = 0;  // tracks
  base::Diagnostics errors_;
};

}  // namespace

base::Outcome<ScannedFile> scan(std::string_view bytes) {
  Scan scan{inside_riff(bytes)};
  if (scan.file.size() < bytes.size()) {
    scan.repair(
        rule::riff_wrapper, 0,
        base::message("a MIDI file stands inside a RIFF file: what else is in it is left out"));
    scan.offset_of_zero = static_cast<std::size_t>(scan.file.data() - bytes.data());
  }
  return FileScanner(std::move(scan)).run();
}

}  // namespace yubifu::midi
