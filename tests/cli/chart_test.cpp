// The verb chart from end to end.
#include <cstdlib>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"
#include "support/flute_files.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

TEST(Chart, GoesToTextAndSvg) {
  const TemporaryFolder folder;
  const ProgramRun text = run_yubifu({"chart", "--flute", "6"}, folder.path());
  EXPECT_EQ(text.status, 0);
  EXPECT_THAT(text.err, IsEmpty());
  EXPECT_THAT(text.out, AllOf(HasSubstr("三メ  ●●●●◐○○  D♭5     554.4      0"),
                              HasSubstr("A♭5     830.6  about"), HasSubstr("noise rules")));
  ASSERT_EQ(run_yubifu({"chart", "--flute", "6", "-o", "six.svg"}, folder.path()).status, 0);
  EXPECT_THAT(folder.read("six.svg"),
              AllOf(HasSubstr("<svg"), HasSubstr("viewBox=\"0 0 210 297\""), HasSubstr(">554.4<"),
                    HasSubstr(">about<"), HasSubstr("hearing protection")));
  ASSERT_EQ(run_yubifu({"chart", "--flute", "6", "-o", "six.txt"}, folder.path()).status, 0);
  EXPECT_EQ(folder.read("six.txt"), text.out);
  const ProgramRun screen =
      run_yubifu({"chart", "--flute", "6", "--to", "svg", "--size", "screen"}, folder.path());
  EXPECT_THAT(screen.out, HasSubstr("viewBox=\"0 0 124 "));
}

TEST(Chart, ShowsTheFluteOfAFileAtItsOwnPitch) {
  const TemporaryFolder folder;
  const ProgramRun run =
      run_yubifu({"chart", "--flute", flute_file("equal-holes-seven.json")}, folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, AllOf(HasSubstr("Flute Equal holes, seven"), HasSubstr("  539.0    -49"),
                             HasSubstr(" 1012.0    +42"), Not(HasSubstr("hearing"))));
}

TEST(Chart, IsLimitedToWhatAScoreUses) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n三 五 三メ↓20 - |=\n");
  const ProgramRun text = run_yubifu({"chart", "--score", "tune.yubifu"}, folder.path());
  EXPECT_EQ(text.status, 0) << text.err;
  EXPECT_THAT(text.out, AllOf(StartsWith("Flute 6"), HasSubstr("  三メ  "), HasSubstr("  五    "),
                              Not(HasSubstr("四")), Not(HasSubstr("kan"))));
  // The same numbers on another flute.
  const ProgramRun eight =
      run_yubifu({"chart", "--score", "tune.yubifu", "--flute", "8"}, folder.path());
  EXPECT_THAT(eight.out, AllOf(StartsWith("Flute 8"), HasSubstr("  五    ●●○○○○◎  G5 ")));
  ASSERT_EQ(run_yubifu({"chart", "--score", "tune.yubifu", "-o", "used.svg"}, folder.path()).status,
            0);
  EXPECT_THAT(folder.read("used.svg"), AllOf(HasSubstr(">698.5<"), Not(HasSubstr(">622.3<"))));
}

TEST(Chart, ShowsEachFluteOfAScore) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n三 五 六 - | {flute 7} 三 四 三 - |=\n");
  const ProgramRun text = run_yubifu({"chart", "--score", "tune.yubifu"}, folder.path());
  EXPECT_THAT(text.out, AllOf(StartsWith("Flute 6"), HasSubstr("\n\nFlute 7, tuned"),
                              HasSubstr("四    ●●●○○○◎  E5 ")));
  ASSERT_EQ(run_yubifu({"chart", "--score", "tune.yubifu", "-o", "both.svg"}, folder.path()).status,
            0);
  EXPECT_THAT(folder.names(), ElementsAre("both-1.svg", "both-2.svg", "tune.yubifu"));
  const ProgramRun both =
      run_yubifu({"chart", "--score", "tune.yubifu", "--to", "svg"}, folder.path());
  EXPECT_EQ(both.status, 2);
  EXPECT_THAT(both.err, HasSubstr("takes 2 pages"));
}

// 三 of size 6 is D5, 587.33 Hz at A4 = 440 (440 times 2 to the 5/12); half-holed a semitone lower.
TEST(Chart, GoesToJsonThatItsSchemaKnows) {
  const TemporaryFolder folder;
  const ProgramRun six = run_yubifu({"chart", "--flute", "6", "--to", "json"}, folder.path());
  EXPECT_EQ(six.status, 0) << six.err;
  EXPECT_THAT(
      six.out,
      AllOf(HasSubstr(R"({"sign": "三", "ascii": "r3", "register": "low", "half": false, )"
                      R"("holes": ["●●●●○○○"], "note": "D5", "hz": 587.33, "cents": 0})"),
            HasSubstr(R"({"sign": "三メ", "ascii": "r3m", "register": "low", "half": true, )"
                      R"("holes": ["●●●●◐○○"], "note": "Db5", "hz": 554.365, "cents": 0})"),
            HasSubstr(R"({"sign": "0", "ascii": "0", "register": "second", "half": false, )"
                      R"("cross": true, )")));
  EXPECT_EQ(run_yubifu({"chart", "--flute", "6", "-o", "six.json"}, folder.path()).status, 0);
  EXPECT_EQ(run_yubifu({"chart", "--flute", flute_file("equal-holes-seven.json"), "-o", "own.json"},
                       folder.path())
                .status,
            0);
  const std::string command = fmt::format(
      "/usr/bin/python3 {0}/tests/oracles/score_schema.py {0}/schemas/chart.schema.json {1}",
      YUBIFU_SOURCE_DIR, folder.path().string());
  EXPECT_EQ(std::system(command.c_str()), 0);
}

TEST(Chart, RefusesWhatItCannotShow) {
  const TemporaryFolder folder;
  folder.write("bad.json", R"({"yubifu-flute": 1, "title": "T", "like": 14})");
  const auto refused = [&](std::vector<std::string> arguments, const std::string& part) {
    arguments.insert(arguments.begin(), "chart");
    const ProgramRun run = run_yubifu(arguments, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, HasSubstr(part));
  };
  refused({"tune.yubifu"}, "a score with --score");
  refused({"--flute", "6,7"}, "one flute at a time");
  refused({"--flute", "6", "-o", "six.png"}, "text (.txt), SVG (.svg), PDF (.pdf) or JSON (.json)");
  refused({"--flute", "6", "--to", "png"}, "text, svg, pdf or json");
  refused({"--flute", "6", "--to", "json", "--ascii"}, "text only");
  refused({"--flute", "6", "--to", "json", "--size", "letter"}, "SVG or PDF only");
  refused({"--flute", "6", "--size", "letter"}, "SVG or PDF only");
  refused({"--flute", "6", "--size", "a3"}, "screen, a4 or letter");
  refused({"--flute", "bad.json"},
          "bad.json:1:43: error: there is no built-in flute \"14\" (a size from 1 to 13 such as "
          "\"6\" or \"7.5\") [json-value]");
  refused({"--flute", "none.json"}, "none.json");
  refused({"--score", "none.yubifu"}, "none.yubifu");
  EXPECT_THAT(folder.names(), ElementsAre("bad.json"));
}

}  // namespace
}  // namespace yubifu::tests
