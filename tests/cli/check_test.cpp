// The verb check: what it finds, where, and with which status.
#include <filesystem>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kGood = "flute: 6\nmeter: 4/4\n\n五 六 七 六 |=\n";
constexpr const char* kShort = "flute: 6\n\n五 六 七 六 | 五 六 七 | 五 - - - |=\n";

ProgramRun check(const TemporaryFolder& folder, std::vector<std::string> words) {
  words.insert(words.begin(), "check");
  return run_yubifu(words, folder.path());
}

TEST(Check, GoodFilesGiveNothing) {
  const TemporaryFolder folder;
  folder.write("good.yubifu", kGood);
  const ProgramRun run = check(folder, {"good.yubifu"});
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(run.err, "1 file checked: 0 errors, 0 warnings, 0 notes\n");
  EXPECT_THAT(run.out, IsEmpty());
}

TEST(Check, AFaultIsShownAtItsPlace) {
  const TemporaryFolder folder;
  folder.write("short.yubifu", kShort);
  const ProgramRun run = check(folder, {"short.yubifu"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("short.yubifu:3:11: error: bar 2 has 3 words"));
  EXPECT_THAT(run.err, HasSubstr("\n    五 六 七 六 | 五 六 七 | 五 - - - |=\n"));
  EXPECT_THAT(run.err, HasSubstr("[bar-length]"));
  EXPECT_THAT(run.err, HasSubstr("1 file checked: 1 error, 0 warnings, 0 notes\n"));
}

TEST(Check, ReadsStandardInput) {
  const TemporaryFolder folder;
  const ProgramRun run = run_yubifu({"check", "-"}, folder.path(), kShort);
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("standard input:3:11: error"));
}

TEST(Check, NotesAreNoFindings) {
  const TemporaryFolder folder;
  folder.write("loud.yubifu", "flute: 6\n\n7 8 7 - |=\n");
  const ProgramRun run = check(folder, {"loud.yubifu"});
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err, AllOf(HasSubstr("note: one note is loud next to the ear"),
                             HasSubstr("hearing protection")));
}

TEST(Check, RulesCanBeChosen) {
  const TemporaryFolder folder;
  folder.write("loud.yubifu", "flute: 6\n\n7 8 7 - |=\n");
  EXPECT_EQ(check(folder, {"loud.yubifu", "--rule", "third-register=error"}).status, 1);
  folder.write("short.yubifu", kShort);
  EXPECT_EQ(check(folder, {"short.yubifu", "--rule", "bar-length=note"}).status, 0);
  const ProgramRun off = check(folder, {"short.yubifu", "loud.yubifu", "--rule", "bar-length=off",
                                        "--rule", "third-register=off"});
  EXPECT_EQ(off.status, 0);
  EXPECT_EQ(off.err, "2 files checked: 0 errors, 0 warnings, 0 notes\n");
}

TEST(Check, UnknownRulesAndWordsAreRefused) {
  const TemporaryFolder folder;
  folder.write("good.yubifu", kGood);
  const ProgramRun unknown = check(folder, {"good.yubifu", "--rule", "bar-lenght=off"});
  EXPECT_EQ(unknown.status, 2);
  EXPECT_THAT(unknown.err, HasSubstr("did you mean bar-length?"));
  const ProgramRun word = check(folder, {"good.yubifu", "--rule", "bar-length=loud"});
  EXPECT_EQ(word.status, 2);
  EXPECT_THAT(word.err, HasSubstr("bar-length=warning"));
  EXPECT_EQ(check(folder, {}).status, 2);
}

TEST(Check, TheLayoutIsCheckedWhenAskedFor) {
  const TemporaryFolder folder;
  folder.write("untidy.yubifu", "flute: 6\nmeter: 4/4\n\n五 六  七 六 |=\n");
  EXPECT_EQ(check(folder, {"untidy.yubifu"}).status, 0);
  const ProgramRun run = check(folder, {"untidy.yubifu", "--rule", "layout=warning"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("untidy.yubifu:4:5: warning: "));
}

TEST(Check, ListsItsRules) {
  const TemporaryFolder folder;
  const ProgramRun all = check(folder, {"--rules"});
  EXPECT_EQ(all.status, 0);
  for (const char* rule :
       {"bar-length", "hold-without-note", "sign-not-on-flute", "bend-too-far", "third-register",
        "fast-leap", "verse-too-long", "long-breath", "lone-eight", "zero-or-tube", "look-alike",
        "unpaired-repeat", "unknown-header", "layout", "tie-without-partner",
        "fingering-disagrees"}) {
    EXPECT_THAT(all.out, HasSubstr("\n" + std::string(rule) + " (")) << rule;
  }
  const ProgramRun one = check(folder, {"--rules", "bar-length"});
  EXPECT_THAT(one.out, AllOf(HasSubstr("bar-length (error)\n"), HasSubstr("  wrong  | "),
                             HasSubstr("  right  | ")));
  EXPECT_EQ(check(folder, {"--rules", "bar-lenth"}).status, 2);
}

// What kinds of files there are, and files that only say so.
TEST(Check, KnowsFilesByTheirContent) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGood);
  for (const char* name : {"tune.musicxml", "tune.mxl", "tune.mid", "tune.json"}) {
    ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", name}, folder.path()).status, 0);
    EXPECT_EQ(check(folder, {name}).status, 0) << name << check(folder, {name}).err;
  }
  folder.write("lie.mid", folder.read("tune.musicxml"));
  const ProgramRun lie = check(folder, {"lie.mid"});
  EXPECT_EQ(lie.status, 1);
  EXPECT_THAT(lie.err, HasSubstr("the name says midi, the content is musicxml"));
  folder.write("noise.mid", "this is no music");
  EXPECT_EQ(check(folder, {"noise.mid"}).status, 1);
  EXPECT_THAT(check(folder, {"noise.mid"}).err, HasSubstr("MThd"));
  folder.write("picture", "\x89PNG\r\n");
  EXPECT_EQ(check(folder, {"picture"}).status, 2);
  EXPECT_THAT(check(folder, {"picture"}).err, HasSubstr("[unknown-format]"));
}

// The events of a track, with its head and its end (SMF 1.1).
std::string midi_file(const std::string& events) {
  const std::string track = events + std::string("\x00\xFF\x2F\x00", 4);
  return std::string("MThd\0\0\0\6\0\0\0\1\0\x60MTrk\0\0\0", 21) + static_cast<char>(track.size()) +
         track;
}

TEST(Check, FindsFluteFilesWhateverTheirMarksAndNames) {
  const TemporaryFolder folder;
  folder.write("one.json", "\xEF\xBB\xBF{\"yubifu-flute\": 1, \"title\": \"No holes\"}");
  folder.write("TWO.JSON", "{\"colour\": \"red\"}");
  const ProgramRun run = check(folder, {"."});
  EXPECT_THAT(run.err + run.out, HasSubstr("one.json"));
  EXPECT_THAT(run.err + run.out, Not(HasSubstr("TWO.JSON")));
}

TEST(Check, FindsBendsThatAreNotResetAndHangingNotes) {
  const TemporaryFolder folder;
  const std::string bend("\x00\xE0\x00\x48", 4);
  const std::string note("\x00\x90\x48\x50\x60\x80\x48\x40", 8);
  const std::string centre("\x00\xE0\x00\x40", 4);
  folder.write("bent.mid", midi_file(bend + note));
  const ProgramRun bent = check(folder, {"bent.mid"});
  EXPECT_EQ(bent.status, 1);
  EXPECT_THAT(bent.err, HasSubstr("bent.mid: warning: channel 1 is still bent"));
  folder.write("reset.mid", midi_file(bend + note + centre));
  EXPECT_EQ(check(folder, {"reset.mid"}).status, 0) << check(folder, {"reset.mid"}).err;
  folder.write("hanging.mid", midi_file(std::string("\x00\x90\x48\x50\x60\x80\x49\x40", 8)));
  EXPECT_THAT(check(folder, {"hanging.mid"}).err, HasSubstr("[open-note]"));
}

TEST(Check, ChecksFluteFiles) {
  const TemporaryFolder folder;
  folder.write("good.json", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})");
  EXPECT_EQ(check(folder, {"good.json"}).status, 0) << check(folder, {"good.json"}).err;
  folder.write("bad.json", R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●●○", "cents": 0}]})");
  const ProgramRun run = check(folder, {"bad.json"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, AllOf(HasSubstr("bad.json:2:"), HasSubstr("[flute-pattern]")));
}

TEST(Check, AScoreIsCheckedOnTheFluteOfItsFile) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "flutes");
  folder.write("flutes/two.json",
               R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})");
  folder.write("tune.yubifu", "flute: flutes/two.json\n\n一 二 一 - |=\n");
  const ProgramRun run = check(folder, {"tune.yubifu"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, AllOf(HasSubstr("tune.yubifu:3:3: error"), HasSubstr("Two Holes"),
                             HasSubstr("[sign-not-on-flute]")));
}

// One flute file may serve a whole folder: its fault is told once, and each score that cannot do
// without it says so at the line that names it.
TEST(Check, AFaultyFluteFileIsToldOnceAndAtEachScore) {
  const TemporaryFolder folder;
  const auto path = folder.path();
  std::filesystem::create_directories(path / "tunes");
  std::filesystem::create_directories(path / "flutes");
  folder.write("tunes/a.yubifu", "title: A\nflute: ../flutes/two.json\n\n一 二 一 - |=\n");
  folder.write("tunes/b.yubifu",
               "flute: 6\n\n一 二 一 - |\n{flute ../flutes/two.json} 一 - - - |=\n");
  folder.write("flutes/two.json", "{\"yubifu-flute\": 1,\n \"holes\": }\n");
  const auto times = [](const std::string& text, const std::string& what) {
    std::size_t found = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++found;
    return found;
  };
  for (const std::string where : {"tunes", "."}) {
    const ProgramRun run = check(folder, {where});
    const std::string tunes = where == "." ? "./tunes/" : "tunes/";
    EXPECT_EQ(run.status, 1);
    EXPECT_THAT(run.err, HasSubstr(tunes + "a.yubifu:2:8: error: the flute file ../flutes/two.json "
                                           "cannot be used"));
    EXPECT_THAT(run.err, HasSubstr(tunes + "b.yubifu:4:8: error: the flute file"));
    EXPECT_EQ(times(run.err, "[json-syntax]"), 1u) << run.err;
    EXPECT_THAT(run.err, HasSubstr("3 files checked: 3 errors"));
  }
  std::filesystem::remove(path / "flutes/two.json");
  const ProgramRun run = check(folder, {"tunes"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("tunes/a.yubifu:2:8: error: the flute file"));
  EXPECT_EQ(times(run.err, "[unreadable-file]"), 1u) << run.err;
}

TEST(Check, AMelodyWithoutAFluteIsNotOutOfItsReach) {
  const TemporaryFolder folder;
  folder.write("low.musicxml", R"(<?xml version="1.0"?><score-partwise version="4.0">
<part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions>
<time><beats>4</beats><beat-type>4</beat-type></time></attributes>
<note><pitch><step>C</step><octave>2</octave></pitch><duration>4</duration></note></measure></part>
</score-partwise>)");
  EXPECT_EQ(check(folder, {"low.musicxml"}).status, 0) << check(folder, {"low.musicxml"}).err;
  const ProgramRun run = check(folder, {"low.musicxml", "--flute", "6"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("[out-of-reach]"));
}

TEST(Check, WalksFoldersAndGoesOnAfterFaults) {
  const TemporaryFolder folder;
  const auto path = folder.path();
  std::filesystem::create_directories(path / "tunes/old");
  std::filesystem::create_directories(path / "tunes/.git");
  std::filesystem::create_directories(path / "tunes/folder.mid");
  folder.write("tunes/a.yubifu", kGood);
  folder.write("tunes/old/b.yubifu", kShort);
  folder.write("tunes/.git/c.yubifu", "no music");
  folder.write("tunes/README.md", "no music");
  folder.write("tunes/package.json", "{\"name\": \"tunes\"}");
  folder.write("tunes/build.xml", "<?xml version=\"1.0\"?><project/>");
  std::filesystem::create_symlink("nowhere.mid", path / "tunes/broken.mid");
  std::filesystem::create_directory_symlink("..", path / "tunes/old/up");
  const ProgramRun run = check(folder, {"tunes", "missing.yubifu"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("tunes/old/b.yubifu:3:11: error"));
  EXPECT_THAT(run.err, HasSubstr("tunes/broken.mid: error: this link leads nowhere"));
  EXPECT_THAT(run.err, HasSubstr("missing.yubifu: error"));
  EXPECT_THAT(run.err, HasSubstr("tunes/old/up: note: this link to a folder is not followed"));
  EXPECT_THAT(run.err, HasSubstr("5 files checked: 3 errors, 0 warnings, 1 note\n"));
  EXPECT_THAT(run.err, Not(HasSubstr(".git")));
}

TEST(Check, AFolderWithoutMusicIsToldOf) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "empty");
  const ProgramRun run = check(folder, {"empty"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("[nothing-to-check]"));
}

TEST(Check, UnreadableFilesAndFoldersAreToldOf) {
  if (::geteuid() == 0) GTEST_SKIP() << "root may read everything";
  const TemporaryFolder folder;
  folder.write("a.yubifu", kGood);
  folder.write("secret.yubifu", kGood);
  std::filesystem::create_directory(folder.path() / "closed");
  std::filesystem::permissions(folder.path() / "secret.yubifu", std::filesystem::perms::none);
  std::filesystem::permissions(folder.path() / "closed", std::filesystem::perms::none);
  const ProgramRun run = check(folder, {"."});
  std::filesystem::permissions(folder.path() / "closed", std::filesystem::perms::owner_all);
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, AllOf(HasSubstr("secret.yubifu: error"), HasSubstr("closed: error")));
  EXPECT_THAT(run.err, HasSubstr("3 files checked"));
}

// A pipe would keep a reader waiting for ever.
TEST(Check, APipeInAFolderIsNotWaitedFor) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "tunes");
  folder.write("tunes/a.yubifu", kGood);
  ASSERT_EQ(::mkfifo((folder.path() / "tunes/pipe.mid").c_str(), 0600), 0);
  const ProgramRun run = check(folder, {"tunes"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("pipe.mid: error: this is not a file"));
}

TEST(Check, TakesAThousandFiles) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "many");
  for (int i = 0; i < 1000; ++i) {
    folder.write("many/" + std::to_string(i) + ".yubifu", i % 100 == 7 ? kShort : kGood);
  }
  const ProgramRun run = check(folder, {"many"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("1000 files checked: 10 errors, 0 warnings, 0 notes\n"));
}

TEST(Check, ReportsForMachinesGoToStandardOutput) {
  const TemporaryFolder folder;
  folder.write("short.yubifu", kShort);
  folder.write("good.yubifu", kGood);
  const ProgramRun json = check(folder, {"short.yubifu", "good.yubifu", "--report", "json"});
  EXPECT_EQ(json.status, 1);
  EXPECT_THAT(json.err, IsEmpty());
  EXPECT_THAT(json.out, AllOf(HasSubstr("\"rule\": \"bar-length\""), HasSubstr("\"status\": 1"),
                              HasSubstr("\"path\": \"good.yubifu\"")));
  EXPECT_THAT(check(folder, {"short.yubifu", "--report", "sarif"}).out,
              HasSubstr("\"ruleId\": \"bar-length\""));
  EXPECT_THAT(check(folder, {"short.yubifu", "--report", "junit"}).out,
              HasSubstr("type=\"bar-length\""));
}

TEST(Convert, ReportsItsLossesForMachines) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n五{yuri} 六 七 六 |= # remember\n");
  const ProgramRun to_file =
      run_yubifu({"convert", "tune.yubifu", "-o", "tune.mid", "--report", "json"}, folder.path());
  EXPECT_EQ(to_file.status, 0);
  EXPECT_THAT(to_file.err, IsEmpty());
  EXPECT_THAT(to_file.out, AllOf(HasSubstr("\"verb\": \"convert\""), HasSubstr("\"findings\": ["),
                                 HasSubstr("\"remarks\": [")));
  // The score itself takes the standard output.
  const ProgramRun to_output =
      run_yubifu({"convert", "tune.yubifu", "--to", "json", "--report", "json"}, folder.path());
  EXPECT_THAT(to_output.out, HasSubstr("\"yubifu-score\""));
  EXPECT_THAT(to_output.err, HasSubstr("\"yubifu-report\""));
}

}  // namespace
}  // namespace yubifu::tests
