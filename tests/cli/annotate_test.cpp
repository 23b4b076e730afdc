// The verb annotate from end to end.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

// E5 and F#5, 四 and 五 of the flute of size 7, whose 一 is B4.
constexpr const char* kStaff =
    "<?xml version='1.0' encoding='UTF-8'?>\r\n<score-partwise>\r\n<part id='P1'>"
    "<measure number='1'><attributes><divisions>1</divisions><time><beats>2</beats>"
    "<beat-type>4</beat-type></time></attributes>\r\n"
    "<note><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration>"
    "<lyric number='1'><text>一</text></lyric></note>\r\n"
    "<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch>"
    "<duration>1</duration></note>\r\n</measure></part>\r\n</score-partwise>\r\n";

TEST(Annotate, AddsReplacesAndRemoves) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", kStaff);
  const ProgramRun added =
      run_yubifu({"annotate", "in.musicxml", "--flute", "7", "-o", "out.musicxml"}, folder.path());
  EXPECT_EQ(added.status, 0) << added.err;
  EXPECT_THAT(added.err, HasSubstr("in.musicxml → out.musicxml: flute 7, 2 notes"));
  const std::string once = folder.read("out.musicxml");
  EXPECT_THAT(once, HasSubstr("<text>四</text>"));
  EXPECT_THAT(once, HasSubstr("<text>五</text>"));
  EXPECT_THAT(once, HasSubstr("<lyric number=\"2\""));
  // In place, for another manner; the flute is remembered.
  ASSERT_EQ(run_yubifu({"annotate", "out.musicxml", "--fingering", "words", "-o", "out.musicxml"},
                       folder.path())
                .status,
            0);
  EXPECT_THAT(folder.read("out.musicxml"), HasSubstr("<words>四</words>"));
  EXPECT_THAT(folder.read("out.musicxml"), Not(HasSubstr("name=\"fingering\"")));
  ASSERT_EQ(run_yubifu({"annotate", "out.musicxml", "-o", "out.musicxml"}, folder.path()).status,
            0);
  EXPECT_EQ(folder.read("out.musicxml"), once);
  ASSERT_EQ(
      run_yubifu({"annotate", "--remove", "out.musicxml", "-o", "out.musicxml"}, folder.path())
          .status,
      0);
  EXPECT_EQ(folder.read("out.musicxml"), kStaff);
}

TEST(Annotate, IsReadBackByConvert) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", kStaff);
  const ProgramRun added = run_yubifu({"annotate", "in.musicxml", "--flute", "7"}, folder.path());
  const ProgramRun text =
      run_yubifu({"convert", "-", "--from", "musicxml"}, folder.path(), added.out);
  EXPECT_EQ(text.status, 0) << text.err;
  EXPECT_THAT(text.out, HasSubstr("flute: 7\n"));
  EXPECT_THAT(text.out, HasSubstr("四 五"));
  EXPECT_THAT(text.out, HasSubstr("> 一"));
}

TEST(Annotate, TakesTheOptionsForTheFingers) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", kStaff);
  const ProgramRun up =
      run_yubifu({"annotate", "in.musicxml", "--flute", "7", "--octave", "1"}, folder.path());
  EXPECT_THAT(up.out, HasSubstr("<text>4</text>"));
  const ProgramRun moved =
      run_yubifu({"annotate", "in.musicxml", "--flute", "7", "--move", "-1"}, folder.path());
  EXPECT_THAT(moved.out, HasSubstr("<text>三</text>"));
  const ProgramRun plain = run_yubifu(
      {"annotate", "in.musicxml", "--flute", "8", "--only", "plain", "--strict"}, folder.path());
  EXPECT_THAT(plain.out, HasSubstr("<text>?F#5</text>"));
  EXPECT_EQ(plain.status, 1);
}

// "E E F G G F E D", a beginner's tune from C4: an octave too low for size 8, whose 一 is C5.
std::string low_tune() {
  std::string notes;
  for (const char* step : {"E", "E", "F", "G", "G", "F", "E", "D"}) {
    notes += std::string("<note><pitch><step>") + step +
             "</step><octave>4</octave></pitch><duration>1</duration></note>";
  }
  return "<score-partwise><part id='P1'><measure number='1'><attributes><divisions>1</divisions>"
         "<time><beats>8</beats><beat-type>4</beat-type></time></attributes>" +
         notes + "</measure></part></score-partwise>";
}

TEST(Annotate, AFileMovedByOctavesAgreesWithItself) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", low_tune());
  const auto run = [&](const std::vector<std::string>& words) {
    return run_yubifu(words, folder.path());
  };
  for (const std::string kind : {"lyric", "lyric-above", "technical", "words"}) {
    const ProgramRun added = run({"annotate", "in.musicxml", "--flute", "8", "--octave", "auto",
                                  "--fingering", kind, "-o", "out.musicxml"});
    EXPECT_THAT(added.err, HasSubstr("one octave up, 8 notes\n")) << kind;
    EXPECT_THAT(folder.read("out.musicxml"), HasSubstr("\"yubifu.octave\">P1 1<"));
    const ProgramRun check = run({"check", "out.musicxml"});
    EXPECT_EQ(check.status, 0) << check.err;
    EXPECT_THAT(check.err, HasSubstr("0 errors, 0 warnings"));
    const ProgramRun text = run({"convert", "out.musicxml", "--to", "text"});
    EXPECT_THAT(text.out, HasSubstr("三 三 四 五 五 四 三 二")) << kind;
    EXPECT_THAT(text.err, HasSubstr("[annotated-octave]"));
    // It sounds as the flute does: 三 is E5.
    EXPECT_THAT(run({"convert", "out.musicxml", "--to", "json"}).out, HasSubstr("\"midi\": 76"));
    // Done again, without a word about the octave, nothing changes.
    const std::string once = folder.read("out.musicxml");
    run({"annotate", "out.musicxml", "--fingering", kind, "-o", "out.musicxml"});
    EXPECT_EQ(folder.read("out.musicxml"), once);
    run({"annotate", "--remove", "out.musicxml", "-o", "out.musicxml"});
    EXPECT_EQ(folder.read("out.musicxml"), low_tune());
  }
}

// Somebody chose another octave than the program would.
TEST(Annotate, KeepsTheOctaveOfItsFlute) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", low_tune());
  const auto annotated = [&](std::vector<std::string> words) {
    words.insert(words.begin(), "annotate");
    words.insert(words.end(), {"-o", "out.musicxml"});
    EXPECT_EQ(run_yubifu(words, folder.path()).status, 0);
    return folder.read("out.musicxml");
  };
  EXPECT_THAT(annotated({"in.musicxml", "--flute", "8", "--octave", "2"}),
              HasSubstr("<text>3</text>"));
  EXPECT_THAT(annotated({"out.musicxml", "--fingering", "words"}), HasSubstr("<words>3</words>"));
  EXPECT_THAT(annotated({"out.musicxml", "--flute", "8"}), HasSubstr("<text>3</text>"));
  EXPECT_THAT(annotated({"out.musicxml", "--flute", "8", "--octave", "1"}),
              HasSubstr("<text>三</text>"));
}

// A program that reads and writes the file may drop the fields, and the name of the verse too.
TEST(Annotate, IsReadBackFromAFileThatHasLostItsFields) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", low_tune());
  run_yubifu({"annotate", "in.musicxml", "--flute", "8", "--octave", "auto", "-o", "out.musicxml"},
             folder.path());
  std::string text = folder.read("out.musicxml");
  const std::size_t begin = text.find("<identification>");
  text.erase(begin, text.find("</identification>") + 17 - begin);
  const std::string name = " name=\"fingering\"";
  for (const bool keeps_name : {true, false}) {
    for (std::size_t at = text.find(name); !keeps_name && at != std::string::npos;
         at = text.find(name)) {
      text.erase(at, name.size());
    }
    folder.write("lost.musicxml", text);
    const ProgramRun check = run_yubifu({"check", "lost.musicxml"}, folder.path());
    EXPECT_EQ(check.status, 0) << check.err;
    const ProgramRun back = run_yubifu({"convert", "lost.musicxml", "--to", "text"}, folder.path());
    EXPECT_THAT(back.out, HasSubstr("三 三 四 五 五 四 三 二")) << keeps_name;
    EXPECT_THAT(back.out, Not(HasSubstr(">"))) << keeps_name;
    EXPECT_THAT(back.err, HasSubstr("[octave-shifted]"));
  }
}

// The octave of a file that says nothing is its own.
TEST(Annotate, CheckAndCompareMoveNothing) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", low_tune());
  const ProgramRun check = run_yubifu({"check", "in.musicxml", "--flute", "8"}, folder.path());
  EXPECT_THAT(check.err, HasSubstr("[out-of-reach]"));
  run_yubifu({"annotate", "in.musicxml", "--flute", "8", "--octave", "auto", "-o", "out.musicxml"},
             folder.path());
  const ProgramRun compare = run_yubifu({"compare", "in.musicxml", "out.musicxml"}, folder.path());
  EXPECT_EQ(compare.status, 1);
  EXPECT_THAT(compare.err, HasSubstr("E4 here, 三 (E5) there"));
}

TEST(Annotate, ReportsToMachines) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", kStaff);
  const ProgramRun run = run_yubifu({"annotate", "in.musicxml", "--flute", "8", "--only", "plain",
                                     "--report", "json", "-o", "out.musicxml"},
                                    folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, HasSubstr("\"out-of-reach\""));
}

TEST(Annotate, TellsThatThereIsNothingToTakeOut) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", kStaff);
  const ProgramRun run = run_yubifu({"annotate", "--remove", "in.musicxml"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(run.out, kStaff);
  EXPECT_THAT(run.err, HasSubstr("[no-annotation]"));
}

TEST(Annotate, RefusesWhatItCannotDo) {
  const TemporaryFolder folder;
  folder.write("in.musicxml", kStaff);
  folder.write("song.yubifu", "flute: 7\n\n四 五\n");
  folder.write("broken.musicxml", "<score-partwise>");
  const auto refused = [&](const std::vector<std::string>& arguments) {
    std::vector<std::string> all{"annotate"};
    all.insert(all.end(), arguments.begin(), arguments.end());
    all.insert(all.end(), {"-o", "out"});
    const ProgramRun run = run_yubifu(all, folder.path());
    EXPECT_EQ(run.status, 2) << run.err;
    return run.err;
  };
  EXPECT_THAT(refused({}), HasSubstr("annotate needs an input"));
  EXPECT_THAT(refused({"in.musicxml", "in.musicxml"}), HasSubstr("one input at a time"));
  EXPECT_THAT(refused({"in.musicxml", "--flute", "6,7"}), HasSubstr("one flute at a time"));
  EXPECT_THAT(refused({"in.musicxml", "--fingering", "none"}), HasSubstr("would add nothing"));
  EXPECT_THAT(refused({"song.yubifu"}), HasSubstr("annotate takes a staff file"));
  EXPECT_THAT(refused({"broken.musicxml"}), HasSubstr("[xml-syntax]"));
  EXPECT_THAT(refused({"missing.musicxml"}), HasSubstr("[unreadable-file]"));
  EXPECT_THAT(refused({"in.musicxml", "--voice", "7"}), HasSubstr("[unknown-voice]"));
  EXPECT_THAT(folder.names(), ElementsAre("broken.musicxml", "in.musicxml", "song.yubifu"));
}

TEST(Annotate, RefusesAnExportThatIsFingered) {
  const TemporaryFolder folder;
  folder.write("song.yubifu", "flute: 7\nmeter: 2/4\n\n四 五 |=\n");
  ASSERT_EQ(run_yubifu({"convert", "song.yubifu", "-o", "song.mxl"}, folder.path()).status, 0);
  const ProgramRun run = run_yubifu({"annotate", "song.mxl", "-o", "out.mxl"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("[already-fingered]"));
}

}  // namespace
}  // namespace yubifu::tests
