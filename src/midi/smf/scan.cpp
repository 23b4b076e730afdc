#include "midi/smf/scan.h"

#include <algorithm>
#include <optional>
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

// RIFF counts from the other end.
std::uint32_t little_endian(std::string_view bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = 4; i > 0; --i)
    value = value << 8 | static_cast<std::uint8_t>(bytes[at + i - 1]);
  return value;
}

bool is_chunk_id(std::string_view id) {
  return std::all_of(id.begin(), id.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
}

// Where the MIDI file inside a RIFF file begins and how long it is.
struct Inner {
  std::size_t begin = 0;
  std::size_t length = 0;
};

std::optional<Inner> find_in_riff(std::string_view bytes) {
  if (bytes.size() < 12 || !bytes.starts_with("RIFF") || bytes.substr(8, 4) != "RMID") {
    return std::nullopt;
  }
  std::size_t at = 12;
  while (bytes.size() - at >= kChunkHead) {
    const std::size_t length = little_endian(bytes, at + 4);
    const std::size_t inside = bytes.size() - at - kChunkHead;
    if (bytes.substr(at, 4) == "data") return Inner{at + kChunkHead, std::min(length, inside)};
    // Chunks begin at even places.
    const std::size_t padded = length + length % 2;
    if (padded > inside) return std::nullopt;
    at += kChunkHead + padded;
  }
  return std::nullopt;
}

// Each kind of repair is told once, with its first place and how many there are.
std::string and_more(const base::Finding& repair) {
  const std::string more =
      repair.count == 1 ? std::string() : base::message(" (and {} more like it)", repair.count - 1);
  return repair.told.message + more;
}

class FileScanner {
 public:
  FileScanner(std::string_view file, std::size_t offset_of_zero)
      : file_(file), offset_of_zero_(offset_of_zero) {}

  base::Outcome<ScannedFile> run() {
    if (!header()) return {std::nullopt, std::move(errors_)};
    while (at_ < file_.size() && errors_.empty()) chunk();
    if (errors_.empty() && tracks() == 0) {
      error(rule::no_notes, at_, base::message("the file has no track"));
    }
    if (errors_.empty() && tracks() != declared_) wrong_count();
    if (totals_.events > kMostEvents) {
      error(rule::midi_too_large, file_.size(),
            base::message("there are more than {} events", kMostEvents));
    }
    base::Diagnostics found = repairs_.diagnostics({}, and_more);
    if (!errors_.empty()) {
      base::append(found, std::move(errors_));
      return {std::nullopt, std::move(found)};
    }
    result_.clean.replace(10, 2, to_big_endian(static_cast<std::uint32_t>(tracks()), 2));
    return {std::move(result_), std::move(found)};
  }

  base::Findings& repairs() { return repairs_; }

 private:
  std::size_t tracks() const { return result_.track_ends.size(); }

  void error(const base::Rule& rule, std::size_t at, std::string message) {
    errors_.push_back(
        base::report(rule, {}, base::message("at byte {}: {}", at + offset_of_zero_, message)));
  }

  template <typename Sentence>
  void repair(const base::Rule& rule, std::size_t at, Sentence sentence) {
    add_repair(repairs_, rule, at + offset_of_zero_, sentence);
  }

  bool header() {
    if (!file_.starts_with("MThd")) {
      error(rule::not_midi, 0, base::message("a MIDI file begins with the letters MThd"));
      return false;
    }
    if (file_.size() < kChunkHead + kHeaderLength) {
      error(rule::midi_header, file_.size(),
            base::message("the file ends inside its header of 14 bytes"));
      return false;
    }
    const std::size_t length = from_big_endian(file_.substr(4, 4));
    if (length < kHeaderLength || length > file_.size() - kChunkHead) {
      error(rule::midi_header, 4,
            base::message("the header says it is {} bytes long; it is 6", length));
      return false;
    }
    if (length > kHeaderLength) {
      repair(rule::long_header, 4, [&] {
        return base::message("the header has {} bytes more than are known: they are left out",
                             length - kHeaderLength);
      });
    }
    format_ = static_cast<int>(from_big_endian(file_.substr(8, 2)));
    declared_ = from_big_endian(file_.substr(10, 2));
    at_ = kChunkHead + length;
    return check_format() && check_division();
  }

  bool check_format() {
    if (format_ == 0 || format_ == 1) return true;
    error(rule::midi_format, 8,
          format_ == 2
              ? base::message(
                    "the file is of format 2: a row of patterns to be played one by one, not "
                    "one piece of music; only formats 0 and 1 are read")
              : base::message("the file is of format {}; there are 0, 1 and 2", format_));
    errors_.back().hint = base::message("let the program that made it save format 0 or 1");
    return false;
  }

  bool check_division() {
    const std::uint32_t word = from_big_endian(file_.substr(12, 2));
    int ticks = static_cast<int>(word);
    totals_.most_ticks = std::min(kMostTicks, kMostQuarters * ticks);
    result_.division = TicksPerQuarter{ticks};
    if (word >= 0x8000) {
      const int frames = 256 - static_cast<int>(word >> 8);
      const int in_frame = static_cast<int>(word & 0xFF);
      const bool known = frames == 24 || frames == 25 || frames == 29 || frames == 30;
      if (!known || in_frame == 0) {
        error(rule::midi_division, 12,
              base::message("time is counted in {} frames a second of {} ticks; there are 24, 25, "
                            "29 and 30 frames, of at least one tick",
                            frames, in_frame));
        return false;
      }
      result_.division = SmpteTime{frames, in_frame};
      totals_.most_ticks =
          std::min(kMostTicks, kMostQuarters * frames * in_frame * 60 / kUsualTempo);
      ticks = kMadeUpTicks;
    } else if (ticks == 0) {
      error(rule::midi_division, 12, base::message("a quarter note has no ticks"));
      return false;
    }
    result_.clean = {'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, 1, 0, 0};
    result_.clean += to_big_endian(static_cast<std::uint32_t>(ticks), 2);
    result_.clean.reserve(file_.size() + file_.size() / 3);
    return true;
  }

  void chunk() {
    const std::size_t left = file_.size() - at_;
    const std::string_view id = file_.substr(at_, 4);
    if (left < kChunkHead || !is_chunk_id(id) || id == "MThd") return not_a_chunk();
    const std::size_t length = from_big_endian(file_.substr(at_ + 4, 4));
    if (id == "MTrk") return track(length);
    if (length > left - kChunkHead) return not_a_chunk();
    repair(rule::foreign_chunk, at_,
           [&] { return base::message("the chunk {} is no track and is left out", id); });
    at_ += kChunkHead + length;
  }

  void track(std::size_t length) {
    if (tracks() == kMostTracks) {
      return error(rule::midi_too_large, at_,
                   base::message("there are more than {} tracks", kMostTracks));
    }
    const std::size_t begin = at_ + kChunkHead;
    const std::size_t inside = file_.size() - begin;
    if (length > inside) {
      repair(rule::damaged_track, at_, [&] {
        return base::message("track {} says it has {} bytes, and the file ends after {}",
                             tracks() + 1, length, inside);
      });
    }
    const TrackPlace place{file_, begin, begin + std::min(length, inside), offset_of_zero_};
    at_ = scan_track(place, totals_, result_, repairs_);
  }

  // Looks for the next track; without one, the rest of the file is nothing.
  void not_a_chunk() {
    const std::size_t left = file_.size() - at_;
    const std::size_t next =
        tracks() < declared_ ? file_.find("MTrk", at_ + 1) : std::string_view::npos;
    if (next == std::string_view::npos) {
      repair(rule::stale_bytes, at_, [&] {
        return base::message("the last {} bytes are no chunk and are left out", left);
      });
      at_ = file_.size();
      return;
    }
    repair(rule::damaged_track, at_, [&] {
      return base::message("{} bytes are no chunk: reading goes on at the next track", next - at_);
    });
    at_ = next;
  }

  void wrong_count() {
    repair(rule::track_count, 10, [&] {
      return base::message("the header says {} tracks, and there are {}", declared_, tracks());
    });
  }

  std::string_view file_;
  std::size_t offset_of_zero_;
  std::size_t at_ = 0;
  int format_ = 0;
  std::size_t declared_ = 0;
  ScanTotals totals_;
  ScannedFile result_;
  base::Findings repairs_;
  base::Diagnostics errors_;
};

}  // namespace

base::Outcome<ScannedFile> scan(std::string_view bytes) {
  const auto inner = find_in_riff(bytes);
  if (!inner) return FileScanner(bytes, 0).run();
  FileScanner scanner(bytes.substr(inner->begin, inner->length), inner->begin);
  add_repair(scanner.repairs(), rule::riff_wrapper, 0, [] {
    return base::message("a MIDI file stands inside a RIFF file: what else is in it is left out");
  });
  return scanner.run();
}

}  // namespace yubifu::midi
