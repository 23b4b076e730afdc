// What players type by habit, and the sentence that leads on, in both languages.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;
using testing::Not;

struct Habit {
  std::string text;
  std::string place;  // line, column and severity
  std::string english;
  std::string japanese;
};

void PrintTo(const Habit& habit, std::ostream* out) {
  *out << habit.text;
}

std::string music(const std::string& bars) {
  return "flute: 6\nmeter: 4/4\n\n" + bars + "\n";
}

class Habits : public testing::TestWithParam<Habit> {
 protected:
  std::string said(const std::string& language) const {
    folder_.write("tune.yubifu", GetParam().text);
    return run_yubifu({"check", "tune.yubifu", "--language", language}, folder_.path()).err;
  }

  // The findings, without the lines that show the text and the count at the end.
  static std::size_t findings(const std::string& said) {
    std::size_t count = 0;
    for (std::size_t at = said.find("tune.yubifu:"); at != std::string::npos;
         at = said.find("tune.yubifu:", at + 1)) {
      ++count;
    }
    return count;
  }

  TemporaryFolder folder_;
};

TEST_P(Habits, AreAnsweredOnceInEnglish) {
  const std::string text = said("en");
  EXPECT_THAT(text, HasSubstr("tune.yubifu:" + GetParam().place + ": "));
  EXPECT_THAT(text, HasSubstr(GetParam().english));
  EXPECT_EQ(findings(text), 1u) << text;
}

TEST_P(Habits, AreAnsweredOnceInJapanese) {
  const std::string text = said("ja");
  EXPECT_THAT(text, HasSubstr("tune.yubifu:" + GetParam().place + ": "));
  EXPECT_THAT(text, HasSubstr(GetParam().japanese));
  EXPECT_EQ(findings(text), 1u) << text;
}

INSTANTIATE_TEST_SUITE_P(
    Words, Habits,
    testing::Values(
        Habit{music("五 / 六 七 |="), "4:3: error",
              "`/` is no sign (a hold is written `-`: it holds the note before it for one more "
              "word)",
              "伸ばしは `-` と書き、前の音を1拍伸ばします"},
        Habit{music("五 六 [3 4] 五 |="), "4:5: error", "groups stand in round brackets: `(3 4)`",
              "丸括弧で括ります: `(3 4)`"},
        Habit{music("七め 六 七 五 |="), "4:1: note", "`め` is read as `メ`",
              "`め` を `メ` と読みます (半開はカタカナで書きます)"},
        Habit{music("五 3b 五 六 |="), "4:3: error", "a semitone under 3 is `3メ`",
              "3 の半音下は `3メ` です"},
        Habit{music("五 b3 五 六 |="), "4:3: error", "a semitone under 3 is `3メ`",
              "3 の半音下は `3メ` です"},
        Habit{music("五 @ 五 六 |="), "4:3: error",
              "signs of this flute are 筒 一 二 三 四 五 六 七 0 1 2 3 4 5 6 7 8 2̇ 3̇ 4̇ 5̇ (",
              "この笛の符号は 筒 一 二 三 四 五 六 七 0 1 2 3 4 5 6 7 8 2̇ 3̇ 4̇ 5̇ "},
        Habit{music("五 四メ 五 六 |="), "4:3: error",
              "三 sounds a semitone under 四; turning the flute is written `四↓30`, in cents",
              "四 の半音下は 三 です。笛を回して下げるなら、セントで `四↓30` と書きます"},
        Habit{music("五 一メ 五 六 |="), "4:3: error",
              "(turning the flute is written `一↓30`, in cents)",
              "(笛を回して下げるなら、セントで `一↓30` と書きます)"}));

INSTANTIATE_TEST_SUITE_P(
    Header, Habits,
    testing::Values(Habit{"flute: C\nmeter: 4/4\n\n三 三 三 三 |=\n", "1:8: error",
                          "一 is C on size 8", "一 が C の笛は 8 本調子です"},
                    Habit{"flute: Bb\nmeter: 4/4\n\n三 三 三 三 |=\n", "1:8: error",
                          "一 is Bb on size 6", "一 が Bb の笛は 6 本調子です"},
                    Habit{"title Sakura\nflute: 6\nmeter: 4/4\n\n三 三 三 三 |=\n", "1:1: error",
                          "a colon is missing after `title` (write `title: Sakura`)",
                          "`title` の後にコロンがありません"}));

INSTANTIATE_TEST_SUITE_P(
    Braces, Habits,
    testing::Values(Habit{music("五{uchii} 六 七 五 |="), "4:2: error", "did you mean `{uchi}`?",
                          "`{uchi}`"},
                    Habit{music("五 六 七 五 | 1. 二 三 四 :|"), "4:11: error",
                          "an ending begins with `{ending 1}`", "`{ending 1}`"},
                    Habit{music("{tempo 1/4.=92} 五 六 七 五 |="), "4:1: error",
                          "write `{tempo 3/8=92}`", "`{tempo 3/8=92}`"},
                    Habit{music("五 {fermata} 六 七 五 |="), "4:3: error", "write `五{fermata}`",
                          "`五{fermata}`"},
                    Habit{music("五 六 七 -{fermata} |="), "4:8: error",
                          "write it on the sign that is held: `七{fermata}`", "`七{fermata}`"}));

INSTANTIATE_TEST_SUITE_P(
    Bars, Habits,
    testing::Values(
        Habit{music("三 三 三 三 | 三 三 三 |="), "4:11: error",
              "bar 2 has 3 words of 1/4; 4/4 has 4 (a word or hold may be missing; if the bar is "
              "meant so, begin it with `{irregular}`)",
              "`{irregular}`"},
        Habit{"flute: 6\nmeter: 6/8\n\n五 六 七 五 六 七 | 五 六 |=\n", "4:15: error",
              "write `beat: 3/8` in the header", "見出しに `beat: 3/8` と書きます"}));

// 七 1 in Shift_JIS (JIS X 0208), as editors of old save it; and a name that editors give any text.
TEST(Encoding, AShiftJisTextIsReadWithANote) {
  const TemporaryFolder folder;
  const std::string tune = "flute: 6\nmeter: 4/4\n\n\x8E\xB5 1 \x8E\xB5 - |=\n";
  for (const char* name : {"tune.yubifu", "tune.txt"}) {
    folder.write(name, tune);
    const ProgramRun checked = run_yubifu({"check", name}, folder.path());
    EXPECT_EQ(checked.status, 0) << checked.err;
    EXPECT_THAT(checked.err, HasSubstr(std::string(name) + ": note: the text is Shift_JIS"));
    EXPECT_EQ(run_yubifu({"convert", name, "-o", "out.mid"}, folder.path()).status, 0);
    EXPECT_EQ(run_yubifu({"tidy", "--check", name}, folder.path()).status, 1);
    EXPECT_EQ(run_yubifu({"tidy", "--in-place", name}, folder.path()).status, 0);
    EXPECT_EQ(folder.read(name), "flute: 6\nmeter: 4/4\n\n七 1 七 - |=\n");
  }
}

TEST(Encoding, AnUnknownOneIsToldWithoutItsBytes) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "title: Caf\xE9 \xFF\n\n五 六 七 - |=\n");
  const ProgramRun run = run_yubifu({"check", "tune.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("tune.yubifu:1:11: error: "));
  EXPECT_THAT(run.err, HasSubstr("save it with the encoding UTF-8"));
  EXPECT_THAT(run.err, Not(HasSubstr("\xE9")));
}

TEST(TextFiles, AreReadWhereTheyHoldAScore) {
  const TemporaryFolder folder;
  folder.write("tune.txt", "flute: 6\nmeter: 4/4\n\n五 六 七 - |=\n");
  EXPECT_EQ(run_yubifu({"convert", "tune.txt", "-o", "out.mid"}, folder.path()).status, 0);
  folder.write("letter.txt", "Dear Anna,\nthe 3 of us will come.\n");
  const ProgramRun refused = run_yubifu({"convert", "letter.txt", "-o", "out.mid"}, folder.path());
  EXPECT_EQ(refused.status, 2);
  EXPECT_THAT(refused.err, HasSubstr("cannot tell the format"));
}

}  // namespace
}  // namespace yubifu::tests
