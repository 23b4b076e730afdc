// The printed page from end to end.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

constexpr const char* kSung = "title: Gate\nflute: 6\n\n三 四 (五 六) - |=\n> か き く け\n";

std::string long_tune() {
  std::string text = "title: Gate\nflute: 6\n\n";
  for (int i = 0; i < 300; ++i) text += "三 四 五 六 |\n";
  return text + "三 - - - |=\n";
}

TEST(Page, IsOneFileWhenItFitsOnOneSheet) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kSung);
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "-o", "tune.svg"}, folder.path());
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(folder.names(), ElementsAre("tune.svg", "tune.yubifu"));
  EXPECT_THAT(folder.read("tune.svg"), HasSubstr("aria-label=\"bar 1: 三 四 (五 六) - |=\""));
}

TEST(Page, HasAFileForEachSheetOrOneTallOne) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", long_tune());
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "-o", "tune.svg"}, folder.path());
  ASSERT_EQ(run.status, 0) << run.err;
  const std::vector<std::string> names = folder.names();
  ASSERT_GE(names.size(), 3u);
  EXPECT_EQ(names[0], "tune-1.svg");
  EXPECT_EQ(names[1], "tune-2.svg");
  EXPECT_EQ(names.back(), "tune.yubifu");
  EXPECT_THAT(run.err, HasSubstr("tune-1.svg to tune-" + std::to_string(names.size() - 1)));
  ASSERT_EQ(
      run_yubifu({"convert", "tune.yubifu", "-o", "tall.svg", "--tall"}, folder.path()).status, 0);
  // Sheets of 297 mm with 6 mm between them.
  const std::size_t height = 297 * (names.size() - 1) + 6 * (names.size() - 2);
  const std::string tall = folder.read("tall.svg").substr(0, 200);
  EXPECT_THAT(tall, HasSubstr("width=\"210mm\" height=\"" + std::to_string(height) + "mm\""));
}

TEST(Page, GoesToStandardOutputAsOneDocument) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", long_tune());
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "--to", "svg"}, folder.path());
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_EQ(run.out.find("<svg "), run.out.rfind("<svg "));
}

TEST(Page, TakesItsOptions) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kSung);
  const auto html = [&](std::vector<std::string> options) {
    std::vector<std::string> arguments{"convert", "tune.yubifu", "--to", "html"};
    arguments.insert(arguments.end(), options.begin(), options.end());
    const ProgramRun run = run_yubifu(arguments, folder.path());
    EXPECT_EQ(run.status, 0) << run.err;
    return run.out;
  };
  EXPECT_THAT(html({}), HasSubstr("@page { size: 210mm 297mm;"));
  EXPECT_THAT(html({"--size", "letter", "--landscape"}),
              HasSubstr("@page { size: 279.4mm 215.9mm;"));
  EXPECT_THAT(html({"--direction", "across"}), HasSubstr("Rows are read from left to right."));
  EXPECT_THAT(html({"--scale", "3"}), HasSubstr("scale(0.1800)"));
  EXPECT_THAT(html({}), HasSubstr(">か</tspan>"));
  EXPECT_THAT(html({"--no-text"}), Not(HasSubstr(">か</tspan>")));
  EXPECT_NE(html({"--tied", "dashes"}), html({"--tied", "strokes"}));
  EXPECT_THAT(html({"--columns", "3"}), StartsWith("<!DOCTYPE html>"));
  EXPECT_THAT(html({"--with-chart"}),
              HasSubstr("<section class=\"sheet\" aria-labelledby=\"yf-title-2\""));
}

TEST(Page, RefusesValuesThatItDoesNotKnow) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kSung);
  const std::vector<std::pair<std::vector<std::string>, std::string>> wrong{
      {{"--size", "a3"}, "expected a4 or letter"},
      {{"--columns", "0"}, "expected auto or a number from 1 to 40"},
      {{"--scale", "4"}, "expected a number from 0.5 to 3"},
      {{"--tied", "lines"}, "expected strokes or dashes"},
      {{"--direction", "up"}, "expected down or across"}};
  for (const auto& [options, complaint] : wrong) {
    std::vector<std::string> arguments{"convert", "tune.yubifu", "-o", "tune.svg"};
    arguments.insert(arguments.end(), options.begin(), options.end());
    const ProgramRun run = run_yubifu(arguments, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.err, HasSubstr(complaint));
  }
  EXPECT_THAT(folder.names(), ElementsAre("tune.yubifu"));
}

// The flute says which signs are loud, also when repeats are played out.
TEST(Page, PlaysOutRepeatsWithTheFluteOfEachBar) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n|: 三 四 五 六 | {flute 7} 三 - - 8 :|\n");
  const ProgramRun run = run_yubifu(
      {"convert", "tune.yubifu", "--to", "html", "--play-out", "--with-chart"}, folder.path());
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, HasSubstr("shinobue, 4 bars."));
  EXPECT_THAT(run.out, HasSubstr("use hearing protection"));
}

TEST(Page, RefusesPagesThatWouldTakeTheNameOfAnotherScore) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kSung);
  folder.write("tune-1.yubifu", kSung);
  const std::vector<std::string> arguments{
      "convert", "tune.yubifu", "tune-1.yubifu", "--out-dir", "pages", "--to", "svg"};
  const ProgramRun run = run_yubifu(arguments, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("a page of tune.yubifu and tune-1.yubifu would both become"));
  EXPECT_THAT(folder.names(), ElementsAre("tune-1.yubifu", "tune.yubifu"));
  std::vector<std::string> tall = arguments;
  tall.emplace_back("--tall");
  EXPECT_EQ(run_yubifu(tall, folder.path()).status, 0);
}

// Found by what they are, whatever they are called: a page is no staff file with faults.
TEST(Page, IsToldApartFromAStaffFile) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "title: Rain\nflute: 6\n\n一 二 三 四 |=\n");
  for (const std::string form : {"svg", "html"}) {
    for (const std::string& name : {"page." + form, std::string("page.musicxml")}) {
      ASSERT_EQ(
          run_yubifu({"convert", "tune.yubifu", "--to", form, "-o", name}, folder.path()).status,
          0);
      for (const std::vector<std::string>& words :
           std::vector<std::vector<std::string>>{{"convert", name, "--to", "text"},
                                                 {"check", name},
                                                 {"compare", "tune.yubifu", name}}) {
        const ProgramRun run = run_yubifu(words, folder.path());
        EXPECT_EQ(run.status, 2) << words.front();
        EXPECT_THAT(run.err,
                    HasSubstr(name + ": error: this is " + form + ", which is only written"));
      }
    }
  }
}

TEST(Page, CannotBeReadBack) {
  const TemporaryFolder folder;
  folder.write("tune.svg", "<svg/>");
  const ProgramRun run =
      run_yubifu({"convert", "tune.svg", "--from", "svg", "-o", "x.mid"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("text, musicxml, mxl, midi, json can be read)"));
}

}  // namespace
}  // namespace yubifu::tests
