// The two example files at the end of the Standard MIDI Files 1.1 specification (appendix, "Program
// Fragments and Example MIDI Files"): one music in format 0 and in format 1, in 4/4 at 96 ticks a
// quarter note and 500,000 microseconds a quarter note. The bytes are typed from memory of the
// published text; the table of the music that stands before them there says:
//
//   channel  key  begins        lasts
//         3   48  beat 0        192 + 192 ticks = 4 beats (C3, note-on 96: forte)
//         3   60  beat 0        4 beats
//         2   67  beat 1        3 beats (G4, note-on 64)
//         1   76  beat 2        2 beats (E5, note-on 32)
//
// with running status on channel 3 and note-offs of velocity 64, some of them written as note-on
// with velocity 0 in the second file.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/rules.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Format 0: MThd, one track of 59 bytes.
constexpr std::string_view kFormatZero = R"(
  4D 54 68 64  00 00 00 06  00 00  00 01  00 60
  4D 54 72 6B  00 00 00 3B
  00 FF 58 04 04 02 18 08
  00 FF 51 03 07 A1 20
  00 C0 05
  00 C1 2E
  00 C2 46
  00 92 30 60
  00 3C 60
  60 91 43 40
  60 90 4C 20
  81 40 82 30 40
  00 3C 40
  00 81 43 40
  00 80 4C 40
  00 FF 2F 00
)";

// Format 1: the tempo track and a track for each of the channels 1, 2 and 3.
constexpr std::string_view kFormatOne = R"(
  4D 54 68 64  00 00 00 06  00 01  00 04  00 60
  4D 54 72 6B  00 00 00 14
  00 FF 58 04 04 02 18 08
  00 FF 51 03 07 A1 20
  83 00 FF 2F 00
  4D 54 72 6B  00 00 00 10
  00 C0 05
  81 40 90 4C 20
  81 40 4C 00
  00 FF 2F 00
  4D 54 72 6B  00 00 00 0F
  00 C1 2E
  60 91 43 40
  82 20 43 00
  00 FF 2F 00
  4D 54 72 6B  00 00 00 15
  00 C2 46
  00 92 30 60
  00 3C 60
  83 00 30 00
  00 3C 00
  00 FF 2F 00
)";

std::vector<std::string> notes_of_channel(std::string_view digits, int channel, Line line) {
  MidiReadOptions options;
  options.channel = channel;
  options.line = line;
  return note_words(read_sound(hex(digits), options));
}

class SpecificationFile : public testing::TestWithParam<std::string_view> {};

TEST_P(SpecificationFile, HasTheNotesOfItsThreeChannels) {
  EXPECT_THAT(notes_of_channel(GetParam(), 1, Line::top), ElementsAre("76 at 2 for 2"));
  EXPECT_THAT(notes_of_channel(GetParam(), 2, Line::top), ElementsAre("67 at 1 for 3"));
  EXPECT_THAT(notes_of_channel(GetParam(), 3, Line::top), ElementsAre("60 at 0 for 4"));
  EXPECT_THAT(notes_of_channel(GetParam(), 3, Line::bottom), ElementsAre("48 at 0 for 4"));
}

TEST_P(SpecificationFile, HasItsMeterAndTempo) {
  const model::Score score = read_sound(hex(GetParam()));
  EXPECT_EQ(score.header.meter, (model::Meter{4, 4}));
  ASSERT_TRUE(score.header.tempo);
  EXPECT_EQ(score.header.tempo->quarters_per_minute(), model::Rational(120));
  ASSERT_EQ(score.measures.size(), 1U);
  EXPECT_EQ(score.measures[0].length, model::Rational(4));
}

// Both channels 1 and 2 play one note at a time in a singable register: the first is taken, an
// instrument (electric piano) or a name does not decide.
TEST_P(SpecificationFile, SaysOnlyWhichPartIsTheMelody) {
  const auto found = read_messages(hex(GetParam()));
  EXPECT_THAT(told(found), ElementsAre("note track-chosen"));
}

INSTANTIATE_TEST_SUITE_P(Midi, SpecificationFile, testing::Values(kFormatZero, kFormatOne),
                         [](const auto& test) {
                           return test.index == 0 ? "FormatZero" : "FormatOne";
                         });

}  // namespace
}  // namespace yubifu::midi
