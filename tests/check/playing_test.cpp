// Where a player runs out of breath, and where not.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "check/reading.h"

namespace yubifu::check {
namespace {

using testing::Contains;
using testing::Not;

// Nineteen seconds of even quarters at 100: 0.6 seconds each, too short to give a breath.
std::string quarters(const std::string& fourth_bar) {
  const std::string bar = "五 六 七 六 | ";
  return "flute: 6\ntempo: 100\n\n" + bar + bar + bar + fourth_bar + " " + bar + bar + bar +
         "五 六 七 六 |=\n";
}

bool is_told(const std::string& text) {
  const auto rules = tests::reported(text, base::Severity::note);
  return testing::Matches(Contains("long-breath"))(rules);
}

TEST(LongBreath, IsToldOfNotesThatNeverEnd) {
  EXPECT_TRUE(is_told(quarters("五 六 七 六 |")));
  EXPECT_TRUE(is_told("flute: 6\ntempo: 60\n\n五 - - - | - - - - | - - - - | - - - - |=\n"));
}

// A held note can give away its end, a re-struck one as well; a slur binds it to the next.
TEST(LongBreath, ANoteThatLastsGivesTheBreath) {
  EXPECT_FALSE(is_told(quarters("五 六 七 - |")));
  EXPECT_TRUE(is_told(quarters("五 六 七~ - |")));
  EXPECT_FALSE(is_told("flute: 6\ntempo: 60\n\n五 六 七 六 | % | % | 五 - - - |=\n"));
  EXPECT_TRUE(
      is_told("flute: 6\ntempo: 60\n\n五~ 六~ 七~ 六~ | 五~ 六~ 七~ 六~ | "
              "五~ 六~ 七~ 六~ | 五 - - - |=\n"));
}

TEST(LongBreath, RestsMarksAndPhraseEndsAreBreaths) {
  for (const char* bar : {"五 六 七 ・ |", "五 六 七{breath} 六 |", "五 六 七{breath?} 六 |",
                          "五 六 {caesura} 七 六 |", "五 六 七{fermata} 六 |", "五 六 七 六 ||",
                          "五 六 七 六 | {section \"B\"}"}) {
    EXPECT_FALSE(is_told(quarters(bar))) << bar;
  }
  EXPECT_TRUE(is_told(quarters("五 六 七 六~ ||")));
}

}  // namespace
}  // namespace yubifu::check
