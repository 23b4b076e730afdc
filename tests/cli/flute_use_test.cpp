// Flutes and fingers from the command line: flute files, choices, explanations, local signs.
#include <regex>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const std::string kExamples = std::string(YUBIFU_SOURCE_DIR) + "/examples/";

// A♭5 B♭5 and so on as the staff of a tune for size 8.
void write_melody(const TemporaryFolder& folder) {
  folder.write("tune.yubifu", "flute: 8\nmeter: 4/4\ntempo: 60\n\n七 七メ 七 三メ |=\n");
  const ProgramRun run = run_yubifu(
      {"convert", "tune.yubifu", "--fingering", "none", "-o", "melody.musicxml"}, folder.path());
  ASSERT_EQ(run.status, 0) << run.err;
}

std::string music_of(const std::string& text) {
  return text.substr(text.find("\n\n") + 2);
}

// The music without its breath marks, and without the columns that they make wider.
std::string unbreathed(const std::string& text) {
  std::string music = std::regex_replace(music_of(text), std::regex(R"(\{breath\})"), "");
  return std::regex_replace(music, std::regex(" +"), " ");
}

TEST(Fingers, TellWhyEachNoteGotThem) {
  const TemporaryFolder folder;
  write_melody(folder);
  const ProgramRun run =
      run_yubifu({"convert", "melody.musicxml", "--flute", "8", "--explain"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(music_of(run.out), "七 七メ 七 三メ |=\n");
  EXPECT_THAT(run.err, AllOf(HasSubstr("bar 1: Bb5 七メ: 0 ●○●●●●● would cost"),
                             HasSubstr("* 七メ"), HasSubstr("half hole 25"),
                             HasSubstr("bar 1: Eb5 三メ: the only way to play it")));
}

TEST(Fingers, AvoidAndForbidWhatTheyAreTold) {
  const TemporaryFolder folder;
  write_melody(folder);
  const auto fingered = [&](std::vector<std::string> options) {
    std::vector<std::string> arguments{"convert", "melody.musicxml", "--flute", "8"};
    arguments.insert(arguments.end(), options.begin(), options.end());
    return run_yubifu(arguments, folder.path());
  };
  // Nothing else sounds E♭: avoiding is not forbidding.
  EXPECT_EQ(music_of(fingered({"--avoid", "half-holes"}).out), "七 0 七 三メ |=\n");
  EXPECT_EQ(music_of(fingered({"--avoid", "bends,third"}).out), "七 七メ 七 三メ |=\n");
  const ProgramRun plain = fingered({"--only", "plain"});
  EXPECT_EQ(music_of(plain.out), "七 0 七 ?Eb5 |=\n");
  EXPECT_THAT(plain.err, HasSubstr("[out-of-reach]"));
  const ProgramRun wrong = fingered({"--avoid", "sharps"});
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.err, HasSubstr("half-holes, bends, third"));
}

TEST(Fingers, AreWrittenForSeveralFlutesByTheirNames) {
  const TemporaryFolder folder;
  write_melody(folder);
  folder.write("own.json", R"({"yubifu-flute": 1, "title": "Own", "like": 8})");
  const ProgramRun run = run_yubifu(
      {"convert", "melody.musicxml", "--flute", "6,7,8,own.json", "--out-dir", "d", "--to", "text"},
      folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(folder.read("d/melody-6.yubifu"), HasSubstr("flute: 6\n"));
  EXPECT_THAT(folder.read("d/melody-7.yubifu"), HasSubstr("flute: 7\n"));
  EXPECT_EQ(music_of(folder.read("d/melody-8.yubifu")), "七 七メ 七 三メ |=\n");
  EXPECT_THAT(folder.read("d/melody-own.yubifu"), HasSubstr("flute: ../own.json\n"));
}

// The same tunes come back from every format, though the staff has only the nearest tempered
// notes.
TEST(FluteFiles, TakeLocalSignsToEveryFormatAndBack) {
  for (const std::string name : {"lantern-procession", "harvest-song"}) {
    const TemporaryFolder folder;
    const std::string score = kExamples + "scores/" + name + ".yubifu";
    const ProgramRun first = run_yubifu({"convert", score, "-o", "first.yubifu"}, folder.path());
    ASSERT_EQ(first.status, 0) << first.err;
    const std::string written = folder.read("first.yubifu");
    for (const std::string copy : {"copy.mid", "copy.json", "copy.musicxml", "copy.mxl"}) {
      const ProgramRun out = run_yubifu({"convert", "first.yubifu", "-o", copy}, folder.path());
      EXPECT_EQ(out.status, 0) << out.err;
      const ProgramRun back = run_yubifu({"convert", copy}, folder.path());
      EXPECT_EQ(back.status, 0) << back.err;
      EXPECT_EQ(unbreathed(back.out), unbreathed(written)) << name << " from " << copy;
      // MIDI has no breath marks.
      if (copy != "copy.mid") {
        EXPECT_EQ(music_of(back.out), music_of(written)) << copy;
      }
      EXPECT_THAT(back.out, HasSubstr(".json\n")) << copy;
    }
  }
}

TEST(FluteFiles, GiveMidiTheirTruePitch) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu",
               "flute: " + kExamples + "flutes/equal-holes-seven.json\n\n一 二 三 七 |=\n");
  ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", "tune.mid"}, folder.path()).status, 0);
  // The score's pitches come back to the cent: on a size 8 flute they are bent notes and gaps.
  const ProgramRun json = run_yubifu({"convert", "tune.mid", "--to", "json"}, folder.path());
  EXPECT_EQ(json.status, 0) << json.err;
  // 539 Hz is 49 cents under C♯5 (key 73), 1012 Hz 42 cents over B5 (key 83).
  EXPECT_THAT(json.out, AllOf(HasSubstr("\"midi\": 73, \"cents\": -48.6"),
                              HasSubstr("\"midi\": 83, \"cents\": 41.9")));
}

TEST(FluteFiles, WarnOnceOfTheStaff) {
  const TemporaryFolder folder;
  const std::string score = kExamples + "scores/harvest-song.yubifu";
  const ProgramRun staff = run_yubifu({"convert", score, "-o", "song.musicxml"}, folder.path());
  EXPECT_EQ(staff.status, 0);
  const std::size_t first = staff.err.find("nearest tempered");
  ASSERT_NE(first, std::string::npos) << staff.err;
  EXPECT_EQ(staff.err.find("nearest tempered", first + 1), std::string::npos);
  EXPECT_THAT(folder.read("song.musicxml"), Not(HasSubstr("<alter>-0.")));
  const ProgramRun exact = run_yubifu(
      {"convert", score, "--staff", "sounding", "--alter", "exact", "-o", "exact.musicxml"},
      folder.path());
  EXPECT_EQ(exact.status, 0);
  EXPECT_THAT(exact.err, Not(HasSubstr("nearest tempered")));
  EXPECT_THAT(folder.read("exact.musicxml"), testing::ContainsRegex("<alter>-?[01]\\.[0-9]+"));
  const ProgramRun sound = run_yubifu({"convert", score, "-o", "song.mid"}, folder.path());
  EXPECT_THAT(sound.err, Not(HasSubstr("nearest tempered")));
}

TEST(FluteFiles, AreToldWithFileLineAndField) {
  const TemporaryFolder folder;
  folder.write("own.json",
               "{\"yubifu-flute\": 1, \"title\": \"T\", \"like\": 6,\n \"temperature\": 90}");
  folder.write("tune.yubifu", "flute: own.json\n\n一 二 三 四 |=\n");
  for (const std::vector<std::string>& arguments :
       std::vector<std::vector<std::string>>{{"convert", "tune.yubifu"},
                                             {"convert", "tune.yubifu", "--flute", "own.json"},
                                             {"fit", "tune.yubifu"},
                                             {"chart", "--flute", "own.json"}}) {
    const ProgramRun run = run_yubifu(arguments, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, HasSubstr("own.json:2:17: error: \"temperature\" must be from -30 to 60 "
                                   "degrees Celsius, not 90 [json-value]"));
  }
}

TEST(FluteFiles, ThatCannotBeUsedAreToldAtTheLineThatNamesThem) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "title: Tune\nflute: own.json\n\n一 二 三 四 |=\n");
  for (const std::vector<std::string>& arguments :
       std::vector<std::vector<std::string>>{{"convert", "tune.yubifu"},
                                             {"fit", "tune.yubifu"},
                                             {"compare", "tune.yubifu", "tune.yubifu"},
                                             {"chart", "--score", "tune.yubifu"}}) {
    const ProgramRun run = run_yubifu(arguments, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.err, AllOf(HasSubstr("own.json: error: cannot read this: "),
                               HasSubstr("tune.yubifu:2:8: error: the flute file own.json cannot "
                                         "be used (what is wrong with it is told of that file) "
                                         "[flute-file-not-read]\n")));
  }
}

}  // namespace
}  // namespace yubifu::tests
