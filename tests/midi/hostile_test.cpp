// Files that are valid and made to take long: the reader's time grows with the file, not with its
// square.
#include <ctime>

#include <gmock/gmock.h>

#include "midi/messages.h"
#include "midi/midi_bytes.h"

namespace yubifu::midi {
namespace {

constexpr int kTicks = 96;
constexpr std::int64_t kMany = 60'000;
// Of processor time. Quadratic steps would take a minute.
constexpr double kMostSeconds = 8;

void read_soon(const TrackBytes& track) {
  const std::string file = midi_file(0, kTicks, {track.bytes()});
  const std::clock_t start = std::clock();
  const auto outcome = read_midi(file, {});
  EXPECT_LT(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC, kMostSeconds);
  EXPECT_TRUE(outcome.value || base::has_errors(outcome.diagnostics));
}

TEST(Hostile, NotesThatAreNeverEndedUnderAMovingWheel) {
  TrackBytes track;
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(24 * i, message(kNoteOn, 0, 60, 80));
    track.event(24 * i + 12, bend_message(0, static_cast<int>(i % 0x4000)));
  }
  read_soon(track);
}

TEST(Hostile, ManyWordsOnOneNote) {
  TrackBytes track;
  track.note(0, kTicks, 72);
  for (std::int64_t i = 0; i < kMany; ++i) track.event(0, meta_message(kLyric, "la"));
  read_soon(track);
}

TEST(Hostile, ManyOwners) {
  TrackBytes track;
  track.note(0, kTicks, 72);
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(0, meta_message(kCopyright, std::to_string(i)));
  }
  read_soon(track);
}

TEST(Hostile, ManyNotesInEveryBeat) {
  TrackBytes track;
  for (std::int64_t i = 0; i < kMany / 8; ++i) {
    // Thirty notes a beat, each a tick off any regular place.
    track.note(i * 16 / 5 + i % 3, i * 16 / 5 + i % 3 + 1, 72 + static_cast<int>(i % 5));
  }
  read_soon(track);
}

TEST(Hostile, ATempoAMeterAndAKeyOnEveryTick) {
  TrackBytes track;
  track.note(0, kMany, 72);
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(i, tempo_message(static_cast<std::uint32_t>(300'000 + i)));
    track.event(i, meter_message({static_cast<int>(1 + i % 7), 4}));
    track.event(i, key_message({static_cast<int>(i % 7), model::Mode::major}));
  }
  read_soon(track);
}

TEST(Hostile, OneOpenNoteOnEachKeyStruckOverAndOver) {
  TrackBytes track;
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(i, message(kNoteOn, static_cast<int>(i % 16), static_cast<int>(i % 128), 80));
  }
  read_soon(track);
}

TEST(Hostile, AMarkerAfterEachNoteAndBehindTheMusic) {
  TrackBytes track;
  track.event(0, meter_message({4, 4}));
  for (std::int64_t i = 0; i < kMany / 2; ++i) {
    track.event(i * 24, meta_message(kMarker, "m"));
    track.event((i + kMany) * 24, meta_message(kMarker, "m"));
    track.note(i * 24, (i + 1) * 24, 72);
  }
  read_soon(track);
}

}  // namespace
}  // namespace yubifu::midi
