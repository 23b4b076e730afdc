// Staff files of other programs as input: encodings, names that lie, the report of what is lost.
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;

std::string note(int bar, bool in_chord) {
  // Only ASCII, so that the wide encodings below are easy to make.
  return std::string("<note>") + (in_chord ? "<chord/>" : "") + "<pitch><step>" +
         (in_chord ? 'A' : "DEFG"[bar % 4]) + "</step><octave>" + (in_chord ? '4' : '5') +
         "</octave></pitch><duration>2</duration></note>";
}

// Eleven bars of a half note each; the bars named have so many more notes under it.
std::string staff_file(const std::vector<std::pair<int, int>>& chords) {
  std::string measures;
  for (int bar = 1; bar <= 11; ++bar) {
    measures += "<measure number=\"" + std::to_string(bar) + "\">";
    if (bar == 1) {
      measures +=
          "<attributes><divisions>1</divisions><time><beats>2</beats><beat-type>4</beat-type>"
          "</time></attributes>";
    }
    measures += note(bar, false);
    for (const auto& [chord_bar, notes] : chords) {
      for (int i = 0; chord_bar == bar && i < notes; ++i) measures += note(bar, true);
    }
    measures += "</measure>";
  }
  return "<?xml version=\"1.0\"?>\n<score-partwise><part-list><score-part id=\"P1\"><part-name>"
         "Flute</part-name></score-part></part-list><part id=\"P1\">" +
         measures + "</part></score-partwise>\n";
}

enum class ByteOrder { little, big };

std::string as_utf16(const std::string& ascii, ByteOrder order) {
  std::string bytes;
  for (const char c : ascii) {
    if (order == ByteOrder::little) bytes += {c, '\0'};
    if (order == ByteOrder::big) bytes += {'\0', c};
  }
  return bytes;
}

TEST(StaffInput, GivesTheSameBytesInEveryEncoding) {
  const TemporaryFolder folder;
  const std::string text = staff_file({});
  folder.write("0.musicxml", text);
  folder.write("1.musicxml", "\xEF\xBB\xBF" + text);
  folder.write("2.musicxml", "\xFF\xFE" + as_utf16(text, ByteOrder::little));
  folder.write("3.musicxml", "\xFE\xFF" + as_utf16(text, ByteOrder::big));
  folder.write("4.musicxml", as_utf16(text, ByteOrder::little));
  folder.write("5.musicxml", as_utf16(text, ByteOrder::big));
  for (const std::string to : {"text", "musicxml", "midi", "json"}) {
    const auto converted = [&](int form) {
      const ProgramRun run = run_yubifu(
          {"convert", "--flute", "8", "--to", to, std::to_string(form) + ".musicxml", "-o", "out"},
          folder.path());
      EXPECT_EQ(run.status, 0) << run.err;
      return folder.read("out");
    };
    const std::string plain = converted(0);
    EXPECT_FALSE(plain.empty());
    for (int form = 1; form <= 5; ++form) EXPECT_EQ(converted(form), plain) << form << " " << to;
  }
}

TEST(StaffInput, IsKnownByItsFirstBytesUnderAnyName) {
  const TemporaryFolder folder;
  const std::string text = staff_file({});
  folder.write("tune.musicxml", text);
  ASSERT_EQ(
      run_yubifu({"convert", "tune.musicxml", "--flute", "8", "-o", "tune.mxl"}, folder.path())
          .status,
      0);
  const std::string packed = folder.read("tune.mxl");
  const ProgramRun plain = run_yubifu({"convert", "tune.mxl"}, folder.path());
  EXPECT_EQ(plain.status, 0) << plain.err;
  for (const std::string name : {"a.xml", "a.musicxml", "a.mxl", "a.mid", "a.json", "a.yubifu"}) {
    folder.write(name, packed);
    EXPECT_EQ(run_yubifu({"convert", name}, folder.path()).out, plain.out) << name;
    folder.write(name, text);
    const std::string read = run_yubifu({"convert", name, "--flute", "8"}, folder.path()).out;
    EXPECT_THAT(read, HasSubstr("三 - |")) << name;
    for (const ByteOrder order : {ByteOrder::little, ByteOrder::big}) {
      const std::string wide = as_utf16(text, order);
      const std::string mark = order == ByteOrder::little ? "\xFF\xFE" : "\xFE\xFF";
      for (const std::string& bytes : {wide, mark + wide}) {
        folder.write(name, bytes);
        EXPECT_EQ(run_yubifu({"convert", name, "--flute", "8"}, folder.path()).out, read) << name;
      }
    }
  }
}

TEST(StaffInput, ToldLossesHaveTheirBars) {
  const TemporaryFolder folder;
  folder.write("chords.musicxml", staff_file({{3, 2}, {4, 2}, {9, 3}, {10, 2}, {11, 3}}));
  const ProgramRun run =
      run_yubifu({"convert", "chords.musicxml", "--flute", "8", "-o", "out.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err, HasSubstr("warning: 12 chord notes left out: bars 3, 4, 9-11 [left-out]"));
  const ProgramRun report = run_yubifu(
      {"convert", "chords.musicxml", "--flute", "8", "--report", "json", "-o", "out.yubifu"},
      folder.path());
  EXPECT_EQ(report.status, 0);
  EXPECT_THAT(report.out, HasSubstr("\"message\": \"12 chord notes left out: bars 3, 4, 9-11\", "
                                    "\"measures\": [\"3\", \"4\", \"9\", \"10\", \"11\"]"));
}

TEST(StaffInput, StrictTurnsALossIntoAStatus) {
  const TemporaryFolder folder;
  folder.write("chords.musicxml", staff_file({{3, 1}}));
  folder.write("plain.musicxml", staff_file({}));
  const auto strict = [&](const std::string& name) {
    return run_yubifu({"convert", name, "--flute", "8", "--strict", "-o", "out.yubifu"},
                      folder.path())
        .status;
  };
  EXPECT_EQ(strict("chords.musicxml"), 1);
  EXPECT_EQ(strict("plain.musicxml"), 0);
}

TEST(StaffInput, ThatIsBrokenLeavesNothingBehind) {
  const TemporaryFolder folder;
  folder.write("cut.musicxml", staff_file({}).substr(0, 300));
  const ProgramRun run =
      run_yubifu({"convert", "cut.musicxml", "--flute", "8", "-o", "out.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("[xml-syntax]"));
  EXPECT_THAT(folder.names(), testing::ElementsAre("cut.musicxml"));
}

}  // namespace
}  // namespace yubifu::tests
