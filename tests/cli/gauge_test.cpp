// The verb gauge from end to end: recordings are made here, of a flute that is nobody's.
#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/encoding.h"
#include "cli/program.h"
#include "support/flute_files.h"
#include "support/played.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

// 筒 一 二 三 四 五 六 七 of a pipe with equal holes, in Hz, a good half tone over size 6.
const std::vector<double> kLow{410, 489.5, 540.2, 587, 640.3, 703.1, 777, 861.6};

std::string recording(const std::vector<double>& hz) {
  std::vector<support::PlayedTone> tones;
  for (const double one : hz) tones.push_back({one, 0.6, 0.25});
  return support::wav_of(support::played(tones, {22'050, 0.004}), 22'050);
}

class Gauge : public testing::Test {
 protected:
  ProgramRun gauge(std::vector<std::string> words) const {
    words.insert(words.begin(), "gauge");
    return run_yubifu(words, folder.path());
  }

  const TemporaryFolder folder;
};

constexpr const char* kSigns = "筒 一 二 三 四 五 六 七";

TEST_F(Gauge, MakesAFluteFileOfARecording) {
  folder.write("take.wav", recording(kLow));
  const ProgramRun run = gauge({"take.wav", "--like", "6", "--signs", kSigns, "-o", "mine.json"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, StartsWith("mine: 8 signs, their notes and cents at A4 = 440 Hz\n"));
  EXPECT_THAT(run.out, AllOf(HasSubstr("sign      Hz  note  cents  from 6  steadiness  seconds\n"),
                             HasSubstr("一    489.50  B4    -15.4   +84.6        ±0.0  1.2-1.7\n"),
                             HasSubstr("七    861.60  A5    -36.6   -36.6")));
  EXPECT_THAT(run.err, HasSubstr("note: not in the flute file: 二メ "));
  EXPECT_THAT(
      folder.read("mine.json"),
      AllOf(HasSubstr("\"source\": \"measured from the recording take.wav\""),
            HasSubstr("{\"sign\": \"三\", \"pattern\": \"●●●●○○○\", \"hz\": 587, \"spread\": ")));
  const ProgramRun chart = run_yubifu({"chart", "--flute", "mine.json"}, folder.path());
  EXPECT_EQ(chart.status, 0) << chart.err;
  EXPECT_THAT(chart.out, AllOf(HasSubstr("Flute mine"), HasSubstr("  587.0  "), HasSubstr("861.6"),
                               Not(HasSubstr("°C"))));
  folder.write("tune.yubifu", "flute: mine.json\nmeter: 3/4\n\n三 四 五 |=\n");
  EXPECT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", "tune.mid"}, folder.path()).status, 0);
  EXPECT_EQ(run_yubifu({"check", "mine.json", "tune.yubifu"}, folder.path()).out, "");
}

TEST_F(Gauge, LeavesASignOutThatItDidNotHear) {
  folder.write("take.wav", recording({489.5, 549, 653, 733}));
  const ProgramRun run =
      gauge({"take.wav", "--like", "6", "--signs", "一 二 三 四 五", "-o", "mine.json"});
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err, HasSubstr("take.wav: warning: left out, since no tone is surely theirs: 三 "
                                 "(signs asked for: 5, tones heard: 4)"));
  EXPECT_THAT(folder.read("mine.json"), AllOf(HasSubstr("\"四\""), Not(HasSubstr("\"三\""))));
  EXPECT_EQ(gauge({"take.wav", "--like", "6", "--signs", "一 二 三 四 五", "--strict"}).status, 1);
}

TEST_F(Gauge, BringsPitchesToTwentyDegrees) {
  folder.write("take.wav", recording({489.5, 540.2}));
  const ProgramRun run = gauge(
      {"take.wav", "--like", "6", "--signs", "一,二", "--temperature", "28", "-o", "mine.json"});
  // 480 Hz and a little: 2.95 cents a degree.
  EXPECT_THAT(run.out,
              AllOf(HasSubstr("Measured at 28 °C, shown as at 20 °C"), HasSubstr("482.95")));
  EXPECT_THAT(folder.read("mine.json"),
              AllOf(HasSubstr("\"hz\": 489.5,"), HasSubstr("\"temperature\": 28")));
  const ProgramRun chart = run_yubifu({"chart", "--flute", "mine.json"}, folder.path());
  EXPECT_THAT(chart.out,
              AllOf(HasSubstr("Measured pitches, brought to 20 °C"), HasSubstr("  483.0")));
}

TEST_F(Gauge, ReportsToPrograms) {
  folder.write("take.wav", recording({489.5, 540.2}));
  const ProgramRun run = gauge({"take.wav", "--like", "6", "--signs", "r1 r2", "--report", "json",
                                "--tuning", "442", "-o", "mine.json"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, AllOf(HasSubstr("\"yubifu-gauge\": 1"), HasSubstr("\"tuning\": 442"),
                             HasSubstr("{\"sign\": \"一\", \"hz\": 489.5, \"note\": \"B4\", "
                                       "\"cents\": -23.3, \"cents-from-like\": 76.7")));
  EXPECT_THAT(run.err, IsEmpty());
  EXPECT_THAT(run.out, HasSubstr("{\"rule\": \"signs-unnamed\", \"severity\": \"note\", "));
  EXPECT_EQ(gauge({"take.wav", "--report", "json"}).status, 2);
}

TEST_F(Gauge, ReportsToProgramsWhyThereIsNoFlute) {
  folder.write("silent.wav", support::wav_of(std::vector<float>(40'000), 8'000));
  const ProgramRun run =
      gauge({"silent.wav", "--like", "6", "--report", "json", "-o", "mine.json"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, IsEmpty());
  EXPECT_THAT(run.out,
              AllOf(HasSubstr("\"signs\": []"), HasSubstr("\"rule\": \"recording-silent\"")));
  EXPECT_THAT(folder.names(), ElementsAre("silent.wav"));
}

TEST_F(Gauge, TakesATableOfReadings) {
  const std::string table = "指;音名;セント\n一;B4;-15\n二;C#5;-45\n";
  folder.write("utf8.csv", table);
  folder.write("sjis.csv", base::from_utf8(table, base::kShiftJis).text);
  for (const char* name : {"utf8.csv", "sjis.csv"}) {
    const ProgramRun run = gauge({name, "--like", "6", "-o", "mine.json"});
    EXPECT_EQ(run.status, 0) << run.err;
    EXPECT_THAT(run.out,
                AllOf(HasSubstr("一    489.62  B4    -15.0   +85.0\n"), Not(HasSubstr("seconds"))));
    EXPECT_THAT(folder.read("mine.json"), HasSubstr("\"hz\": 489.62}"));
  }
}

// So far under 七 of size 6 that 一 would lie under every pitch that a flute file can name.
TEST_F(Gauge, WritesAFluteFileWhateverATableHolds) {
  for (const char* row : {"七,26", "二,20", "筒,20000"}) {
    folder.write("deep.csv", row);
    EXPECT_EQ(gauge({"deep.csv", "--like", "6", "-o", "mine.json"}).status, 0) << row;
  }
}

TEST_F(Gauge, TellsWhereATableIsWrong) {
  folder.write("readings.csv", "sign,Hz\n一,489.5\n二,what\n");
  const ProgramRun run = gauge({"readings.csv", "--like", "6", "-o", "mine.json"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("readings.csv:3:3: error: \"what\" is no pitch"));
  EXPECT_THAT(folder.names(), ElementsAre("readings.csv"));
}

TEST_F(Gauge, WritesNothingForWhatIsNoFlute) {
  folder.write("empty.wav", "");
  folder.write("silent.wav", support::wav_of(std::vector<float>(40'000), 8'000));
  folder.write("half.wav", recording(kLow).substr(0, 30));
  folder.write("noise.wav", std::string("\x01\x02 no sound"));
  for (const char* name : {"empty.wav", "silent.wav", "half.wav", "noise.wav", "absent.wav"}) {
    const ProgramRun run = gauge({name, "--like", "6", "-o", "mine.json"});
    EXPECT_EQ(run.status, 2) << name;
    EXPECT_THAT(run.err, StartsWith(std::string(name) + ": error: ")) << name;
    EXPECT_THAT(folder.read("mine.json"), IsEmpty());
  }
}

TEST_F(Gauge, RefusesWrongUsage) {
  folder.write("take.wav", recording({489.5}));
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{},
                                             {"take.wav", "take.wav"},
                                             {"take.wav", "--signs", "neu"},
                                             {"take.wav", "--signs", "一 一"},
                                             {"take.wav", "--signs", " "},
                                             {"take.wav", "--temperature", "90"},
                                             {"take.wav", "--like", "14"},
                                             {"take.wav", "--like", "absent.json"}}) {
    const ProgramRun run = gauge(words);
    EXPECT_EQ(run.status, 2) << testing::PrintToString(words);
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, Not(IsEmpty()));
  }
}

// A flute with signs of its own, to standard output; the table goes beside the messages.
TEST_F(Gauge, KnowsTheSignsOfAnotherFluteFile) {
  folder.write("take.wav", recording({470, 560, 610}));
  const ProgramRun run =
      gauge({"take.wav", "--like", flute_file("lantern-procession.json"), "--signs", "い、ろ、は"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, AllOf(StartsWith("{\n  \"yubifu-flute\": 1,\n  \"title\": \"take\""),
                             HasSubstr("\"ichi\": "), HasSubstr("\"bend-limits\""),
                             HasSubstr("{\"sign\": \"い\", \"register\": \"tube\"")));
  EXPECT_THAT(run.err, HasSubstr("steadiness"));
}

}  // namespace
}  // namespace yubifu::tests
