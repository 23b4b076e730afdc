// What a user sees of bad input: one clear line at the right place, status 2, and no half-written
// file.
#include <ostream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

struct BadScore {
  std::string name;
  std::string text;
  std::string start;  ///< of the message
  std::string rule;
};

std::ostream& operator<<(std::ostream& out, const BadScore& bad) {
  return out << bad.name;
}

class BadScores : public testing::TestWithParam<BadScore> {};

TEST_P(BadScores, AreRefusedWithTheirPlace) {
  const TemporaryFolder folder;
  folder.write("bad.yubifu", GetParam().text);
  const ProgramRun run = run_yubifu({"convert", "bad.yubifu", "-o", "out.musicxml"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr(GetParam().start));
  EXPECT_THAT(run.err, HasSubstr("[" + GetParam().rule + "]"));
  EXPECT_THAT(folder.names(), ElementsAre("bad.yubifu"));
}

INSTANTIATE_TEST_SUITE_P(
    Text, BadScores,
    testing::Values(BadScore{"unknown sign", "flute: 6\n\n一 二 @ 四 |=\n",
                             "bad.yubifu:3:5: error: ", "unknown-sign"},
                    BadScore{"numbered half hole", "flute: 6\n\n一 二 三メ20 四 |=\n",
                             "bad.yubifu:3:5: error: ", "half-hole-number"},
                    BadScore{"bar too long", "flute: 6\n\n一 二 三 四 五 | 一 二 三 四 |=\n",
                             "bad.yubifu:3:", "bar-length"},
                    BadScore{"bar too short",
                             "flute: 6\n\n一 二 三 四 | 一 二 三 | 一 二 三 四 | 一 二 三 四 |=\n",
                             "bad.yubifu:3:", "bar-length"},
                    BadScore{"hold at the start", "flute: 6\n\n- 二 三 四 |=\n",
                             "bad.yubifu:3:1: error: ", "hold-without-note"},
                    BadScore{"unclosed group", "flute: 6\n\n一 (二 三 三 四 |=\n",
                             "bad.yubifu:3:3: error: ", "unclosed-group"},
                    BadScore{"no such size", "flute: 14\n\n一 二 三 四 |=\n",
                             "bad.yubifu:1:8: error: ", "unknown-flute"},
                    BadScore{"empty", "", "bad.yubifu", "empty-input"}));

TEST(BadInput, TextInAnotherEncodingIsRefusedWithTheWayToSaveIt) {
  const TemporaryFolder folder;
  // é in Latin-1, which is no Shift_JIS here.
  folder.write("bad.yubifu", "flute: 6\n\n\xE9 三 |=\n");
  const ProgramRun run = run_yubifu({"convert", "bad.yubifu", "-o", "out.mid"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, StartsWith("bad.yubifu:3:1: error: "));
  EXPECT_THAT(run.err, HasSubstr("save it with the encoding UTF-8"));
  EXPECT_THAT(run.err, HasSubstr("[not-utf8]"));
  EXPECT_THAT(folder.names(), ElementsAre("bad.yubifu"));
}

// It is no XML, though staff files of that encoding are read.
TEST(BadInput, TextInUtf16IsReadAsTextWithANote) {
  const std::string marked_text(
      "\xFF\xFE"
      "1\0 \0|\0=\0",
      10);
  const TemporaryFolder folder;
  folder.write("tune.yubifu", marked_text);
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "-o", "out.mid"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err, StartsWith("tune.yubifu: note: the text is UTF-16"));
}

TEST(BadInput, MalformedXmlIsRefusedWithItsPlace) {
  const TemporaryFolder folder;
  folder.write("bad.musicxml", "<?xml version=\"1.0\"?>\n<score-partwise>\n  <part-list></part>\n");
  const ProgramRun run =
      run_yubifu({"convert", "bad.musicxml", "--flute", "6", "-o", "out.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, StartsWith("bad.musicxml:3:14: error: </part> stands here while "
                                  "<part-list> is open ("));
  EXPECT_THAT(run.err, HasSubstr("[xml-syntax]"));
  EXPECT_THAT(folder.names(), ElementsAre("bad.musicxml"));
}

TEST(BadInput, AFileThatIsNotThereIsNamed) {
  const TemporaryFolder folder;
  const ProgramRun run = run_yubifu({"convert", "gone.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, StartsWith("gone.yubifu: error: "));
  EXPECT_THAT(run.err, HasSubstr("[unreadable-file]"));
}

TEST(BadInput, AFileOfNoKnownFormatIsNotGuessedAt) {
  const TemporaryFolder folder;
  folder.write("tune.doc", "\xD0\xCF\x11\xE0");
  const ProgramRun run = run_yubifu({"convert", "tune.doc"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("--from"));
}

TEST(BadOutput, AFolderThatIsNotThereLeavesNothingBehind) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n一 二 三 四 |=\n");
  const ProgramRun run =
      run_yubifu({"convert", "tune.yubifu", "-o", "no/such/out.mid"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_EQ(
      run.err,
      "yubifu: error: there is no folder no/such; make it first, or choose another place with "
      "-o\n");
  EXPECT_THAT(folder.names(), ElementsAre("tune.yubifu"));
}

TEST(BadOutput, AFaultInTheInputLeavesAnOldResultWhole) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n一 二 三 |= 9\n");
  folder.write("out.mid", "old");
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "-o", "out.mid"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_EQ(folder.read("out.mid"), "old");
}

}  // namespace
}  // namespace yubifu::tests
