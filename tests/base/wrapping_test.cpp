#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(Wrapping, BreaksAtSpacesAndDropsThem) {
  EXPECT_THAT(wrapped("the flute in your hand", 9), ElementsAre("the flute", "in your", "hand"));
  EXPECT_THAT(wrapped("", 9), IsEmpty());
}

TEST(Wrapping, FillsALineToItsLastColumn) {
  EXPECT_THAT(wrapped("to me or us", 5), ElementsAre("to me", "or us"));
  EXPECT_THAT(wrapped("to me or us", 4), ElementsAre("to", "me", "or", "us"));
}

TEST(Wrapping, CutsAWordThatIsWiderThanALine) {
  EXPECT_THAT(wrapped("fingerings", 4), ElementsAre("fing", "erin", "gs"));
}

TEST(Wrapping, BreaksBetweenWideCharacters) {
  EXPECT_THAT(wrapped("篠笛の譜", 4), ElementsAre("篠笛", "の譜"));
  EXPECT_THAT(wrapped("五線譜をMIDIに", 8), ElementsAre("五線譜を", "MIDIに"));
}

TEST(Wrapping, KeepsLatinWordsWhole) {
  EXPECT_THAT(wrapped("音をMIDIに", 6), ElementsAre("音を", "MIDIに"));
}

// JIS X 4051: closing marks and small kana begin no line, opening brackets end none.
TEST(Wrapping, KeepsMarksWithTheirCharacters) {
  EXPECT_THAT(wrapped("譜です。次", 6), ElementsAre("譜で", "す。次"));
  EXPECT_THAT(wrapped("音「呂」", 6), ElementsAre("音", "「呂」"));
  EXPECT_THAT(wrapped("四きゃ", 4), ElementsAre("四", "きゃ"));
}

}  // namespace
}  // namespace yubifu::base
