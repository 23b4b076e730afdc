#include "midi/smf/track_scan.h"

#include <array>
#include <optional>
#include <string>

#include "base/message.h"
#include "midi/smf/events.h"
#include "midi/smf/rules.h"

namespace yubifu::midi {
namespace {

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

class TrackScanner {
 public:
  TrackScanner(Scan& scan, std::size_t begin, std::size_t end)
      : scan_(scan),
        to_(scan.result),
        at_(begin),
        end_(end),
        track_(static_cast<std::uint16_t>(scan.result.track_ends.size())) {}

  std::size_t run() {
    to_.clean += "MTrk";
    const std::size_t length_at = to_.clean.size();
    to_.clean.append(kLengthBytes, '\0');
    while (state_ == State::reading) event();
    append_delta(tick_);
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

  // Takes a number of variable length at `at`, which goes behind it; nothing for one that does not
  // end in four bytes or in the track.
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

  void append_delta(std::int64_t tick) {
    std::int64_t delta = tick - clean_tick_;
    for (; delta > kMostDelta; delta -= kMostDelta) {
      append_variable_length(to_.clean, static_cast<std::uint32_t>(kMostDelta));
      to_.clean.append({'\xFF', '\x01', '\0'});
    }
    append_variable_length(to_.clean, static_cast<std::uint32_t>(delta));
    clean_tick_ = tick;
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
    append_delta(tick_);
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
  ScannedFile& to_;
  std::size_t at_;
  std::size_t end_;
  std::uint16_t track_;
  State state_ = State::reading;
  std::int64_t tick_ = 0;
  std::int64_t clean_tick_ = 0;  // of the last event copied
  std::uint8_t running_ = 0;     // status of the last channel message
  bool interrupted_ = false;     // an event since then ended running status
};

}  // namespace

std::size_t scan_track(Scan& scan, std::size_t begin, std::size_t end) {
  return TrackScanner(scan, begin, end).run();
}

}  // namespace yubifu::midi
