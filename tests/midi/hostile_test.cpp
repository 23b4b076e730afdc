// Files that are valid and made to take long: what the reader does grows with the file, not with
// its square. tests/bench/growth.sh counts that; here it is seen that each of them is read.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/smf/events.h"
#include "support/rounds.h"

namespace yubifu::midi {
namespace {

constexpr int kHostileTicks = 96;
const auto kMany = static_cast<std::int64_t>(support::size(60'000));

model::Score read_many(const TrackBytes& track) {
  return read_sound(midi_file(0, kHostileTicks, {track.bytes()}));
}

TEST(Hostile, NotesThatAreNeverEndedUnderAMovingWheel) {
  TrackBytes track;
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(24 * i, message(kNoteOn, 0, 60, 80));
    track.event(24 * i + 12, bend_message(0, static_cast<int>(i % 0x4000)));
  }
  const model::Score score = read_many(track);
  EXPECT_EQ(score.notes.size(), static_cast<std::size_t>(kMany));
}

TEST(Hostile, ManyWordsOnOneNote) {
  TrackBytes track;
  track.note(0, kHostileTicks, 72);
  for (std::int64_t i = 0; i < kMany; ++i) track.event(0, meta_message(kLyric, "la"));
  const model::Score score = read_many(track);
  ASSERT_EQ(score.notes.size(), 1u);
  ASSERT_EQ(score.notes[0].syllables.size(), 1u);
  EXPECT_TRUE(score.notes[0].syllables[0].text.starts_with("la"));
}

TEST(Hostile, ManyOwners) {
  TrackBytes track;
  track.note(0, kHostileTicks, 72);
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(0, meta_message(kCopyright, std::to_string(i)));
  }
  const std::string rights = read_many(track).header.rights;
  EXPECT_TRUE(rights.starts_with("0"));
  EXPECT_TRUE(rights.ends_with(std::to_string(kMany - 1)));
}

TEST(Hostile, ManyNotesInEveryBeat) {
  TrackBytes track;
  for (std::int64_t i = 0; i < kMany / 8; ++i) {
    // Thirty notes a beat, each a tick off any regular place.
    track.note(i * 16 / 5 + i % 3, i * 16 / 5 + i % 3 + 1, 72 + static_cast<int>(i % 5));
  }
  EXPECT_EQ(read_many(track).notes.size(), static_cast<std::size_t>(kMany / 8));
}

TEST(Hostile, ATempoAMeterAndAKeyOnEveryTick) {
  TrackBytes track;
  track.note(0, kMany, 72);
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(i, tempo_message(static_cast<std::uint32_t>(300'000 + i)));
    track.event(i, meter_message({static_cast<int>(1 + i % 7), 4}));
    track.event(i, key_message({static_cast<int>(i % 7), model::Mode::major}));
  }
  const model::Score score = read_many(track);
  EXPECT_EQ(score.notes.size(), 1u);
  EXPECT_EQ(score.measures.size(), static_cast<std::size_t>(kMany));
}

TEST(Hostile, OneOpenNoteOnEachKeyStruckOverAndOver) {
  TrackBytes track;
  for (std::int64_t i = 0; i < kMany; ++i) {
    track.event(i, message(kNoteOn, static_cast<int>(i % 16), static_cast<int>(i % 128), 80));
  }
  EXPECT_FALSE(read_many(track).notes.empty());
}

TEST(Hostile, AMarkerAfterEachNoteAndBehindTheMusic) {
  TrackBytes track;
  track.event(0, meter_message({4, 4}));
  for (std::int64_t i = 0; i < kMany / 2; ++i) {
    track.event(i * 24, meta_message(kMarker, "m"));
    track.event((i + kMany) * 24, meta_message(kMarker, "m"));
    track.note(i * 24, (i + 1) * 24, 72);
  }
  const model::Score score = read_many(track);
  EXPECT_EQ(score.notes.size(), static_cast<std::size_t>(kMany / 2));
  EXPECT_EQ(score.directions.size(), static_cast<std::size_t>(kMany / 2));
}

}  // namespace
}  // namespace yubifu::midi
