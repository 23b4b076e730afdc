#include "midi/smf/scan.h"

#include <algorithm>
#include <string>
#include <utility>

#include "base/message.h"
#include "midi/smf/events.h"
#include "midi/smf/rules.h"
#include "midi/smf/track_scan.h"

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

class FileScanner {
 public:
  explicit FileScanner(Scan& scan) : scan_(scan), file_(scan.file) {}

  base::Outcome<ScannedFile> run() {
    if (!header()) return {std::nullopt, std::move(errors_)};
    while (at_ < file_.size() && errors_.empty()) chunk();
    if (errors_.empty() && tracks() == 0) {
      error(rule::no_notes, at_, base::message("the file has no track"));
    }
    if (errors_.empty() && tracks() != declared_) {
      scan_.repair(
          rule::track_count, 10,
          base::message("the header says {} tracks, and there are {}", declared_, tracks()));
    }
    if (scan_.events > kMostEvents) {
      error(rule::midi_too_large, file_.size(),
            base::message("there are more than {} events", kMostEvents));
    }
    base::Diagnostics found = scan_.repairs.diagnostics({}, and_more);
    if (!errors_.empty()) {
      base::append(found, std::move(errors_));
      return {std::nullopt, std::move(found)};
    }
    scan_.result.clean.replace(10, 2, to_big_endian(static_cast<std::uint32_t>(tracks()), 2));
    return {std::move(scan_.result), std::move(found)};
  }

 private:
  std::size_t tracks() const { return scan_.result.track_ends.size(); }

  // False, as the checks are that find it.
  bool error(const base::Rule& rule, std::size_t at, const std::string& message,
             std::string hint = {}) {
    errors_.push_back(
        base::report(rule, {}, base::message("at byte {}: {}", at + scan_.offset_of_zero, message),
                     std::move(hint)));
    return false;
  }

  bool header() {
    if (!file_.starts_with("MThd")) {
      return error(rule::not_midi, 0, base::message("a MIDI file begins with the letters MThd"));
    }
    if (file_.size() < kChunkHead + kHeaderLength) {
      return error(rule::midi_header, file_.size(),
                   base::message("the file ends inside its header of 14 bytes"));
    }
    const std::size_t length = from_big_endian(file_.substr(4, 4));
    if (length < kHeaderLength || length > file_.size() - kChunkHead) {
      return error(rule::midi_header, 4,
                   base::message("the header says it is {} bytes long; it is 6", length));
    }
    if (length > kHeaderLength) {
      scan_.repair(rule::long_header, 4,
                   base::message("the header has {} bytes more than are known: they are left out",
                                 length - kHeaderLength));
    }
    const std::uint32_t format = from_big_endian(file_.substr(8, 2));
    declared_ = from_big_endian(file_.substr(10, 2));
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
    const std::uint32_t word = from_big_endian(file_.substr(12, 2));
    int ticks = static_cast<int>(word);
    scan_.most_ticks = std::min(kMostTicks, kMostQuarters * ticks);
    ScannedFile& result = scan_.result;
    result.division = TicksPerQuarter{ticks};
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
      result.division = SmpteTime{frames, in_frame};
      scan_.most_ticks = std::min(kMostTicks, kMostQuarters * frames * in_frame * 60 / kUsualTempo);
      ticks = kMadeUpTicks;
    } else if (ticks == 0) {
      return error(rule::midi_division, 12, base::message("a quarter note has no ticks"));
    }
    result.clean = {'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, 1, 0, 0};
    result.clean += to_big_endian(static_cast<std::uint32_t>(ticks), 2);
    result.clean.reserve(file_.size() + file_.size() / 3);
    return true;
  }

  void chunk() {
    const std::size_t left = file_.size() - at_;
    const std::string_view id = file_.substr(at_, 4);
    const bool printable =
        std::all_of(id.begin(), id.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
    if (left < kChunkHead || !printable || id == "MThd") return not_a_chunk();
    const std::size_t length = from_big_endian(file_.substr(at_ + 4, 4));
    const std::size_t inside = left - kChunkHead;
    if (id == "MTrk") return track(length, inside);
    if (length > inside) return not_a_chunk();
    scan_.repair(rule::foreign_chunk, at_,
                 base::message("the chunk {} is no track and is left out", id));
    at_ += kChunkHead + length;
  }

  void track(std::size_t length, std::size_t inside) {
    if (tracks() == kMostTracks) {
      error(rule::midi_too_large, at_, base::message("there are more than {} tracks", kMostTracks));
      return;
    }
    if (length > inside) {
      scan_.repair(rule::damaged_track, at_,
                   base::message("track {} says it has {} bytes, and the file ends after {}",
                                 tracks() + 1, length, inside));
    }
    const std::size_t begin = at_ + kChunkHead;
    at_ = scan_track(scan_, begin, begin + std::min(length, inside));
  }

  // Looks for the next track; without one, the rest of the file is nothing.
  void not_a_chunk() {
    const std::size_t next =
        tracks() < declared_ ? file_.find("MTrk", at_ + 1) : std::string_view::npos;
    if (next == std::string_view::npos) {
      scan_.repair(
          rule::stale_bytes, at_,
          base::message("the last {} bytes are no chunk and are left out", file_.size() - at_));
    } else {
      scan_.repair(
          rule::damaged_track, at_,
          base::message("{} bytes are no chunk: reading goes on at the next track", next - at_));
    }
    at_ = std::min(next, file_.size());
  }

  Scan& scan_;
  std::string_view file_;
  std::size_t at_ = 0;
  std::size_t declared_ = 0;  // tracks
  base::Diagnostics errors_;
};

}  // namespace

void Scan::repair(const base::Rule& rule, std::size_t at, const std::string& message) {
  base::Finding& repair = repairs.of(rule);
  if (repair.count == 0) {
    repair.told.message = base::message("at byte {}: {}", at + offset_of_zero, message);
  }
  repair.add(base::kNoBar);
}

base::Outcome<ScannedFile> scan(std::string_view bytes) {
  Scan scan{inside_riff(bytes)};
  if (scan.file.size() < bytes.size()) {
    scan.repair(
        rule::riff_wrapper, 0,
        base::message("a MIDI file stands inside a RIFF file: what else is in it is left out"));
    scan.offset_of_zero = static_cast<std::size_t>(scan.file.data() - bytes.data());
  }
  return FileScanner(scan).run();
}

}  // namespace yubifu::midi
