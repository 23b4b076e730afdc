// Books from end to end.
#include <filesystem>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

std::string tune(const std::string& title) {
  return "title: " + title + "\nflute: 6\n\n三 四 五 六 |=\n> か わ べ り\n";
}

class BookVerb : public testing::Test {
 protected:
  ProgramRun bind(std::vector<std::string> words) {
    words.insert(words.begin(), "bind");
    return run_yubifu(words, folder_.path());
  }

  TemporaryFolder folder_;
};

TEST_F(BookVerb, BindsTunesInTheOrderGiven) {
  folder_.write("b.yubifu", tune("Bridge"));
  folder_.write("a.yubifu", tune("Alder"));
  const ProgramRun run = bind({"b.yubifu", "a.yubifu", "-o", "book.html", "--title", "River"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_EQ(run.err, "book.html: 2 tunes on 6 pages\n");
  const std::string book = folder_.read("book.html");
  EXPECT_THAT(book, AllOf(HasSubstr("<title>River</title>"), HasSubstr(">Contents<")));
  EXPECT_LT(book.find(">Bridge<"), book.find(">Alder<"));
}

TEST_F(BookVerb, TakesAFolderByName) {
  std::filesystem::create_directory(folder_.path() / "songs");
  folder_.write("songs/b.yubifu", tune("Bridge"));
  folder_.write("songs/a.yubifu", tune("Alder"));
  folder_.write("songs/flute.json", "{}");
  ASSERT_EQ(bind({"songs", "-o", "book.html"}).status, 0);
  const std::string book = folder_.read("book.html");
  EXPECT_THAT(book, HasSubstr("<title>songs</title>"));
  EXPECT_LT(book.find(">Alder<"), book.find(">Bridge<"));
}

TEST_F(BookVerb, TakesAListWithParts) {
  std::filesystem::create_directory(folder_.path() / "songs");
  folder_.write("songs/a.yubifu", tune("Alder"));
  folder_.write("songs/b.yubifu", tune("Bridge"));
  folder_.write("songs/evening.txt", "# Water\r\nb.yubifu\r\n\r\n# Trees\r\na.yubifu\r\n");
  ASSERT_EQ(bind({"songs/evening.txt", "-o", "book.html"}).status, 0);
  const std::string book = folder_.read("book.html");
  EXPECT_THAT(
      book, AllOf(HasSubstr("<title>evening</title>"), HasSubstr(">Water<"), HasSubstr(">Trees<")));
  EXPECT_LT(book.find(">Bridge<"), book.find(">Alder<"));
}

TEST_F(BookVerb, SvgSheetsGetAFileEach) {
  folder_.write("a.yubifu", tune("Alder"));
  ASSERT_EQ(bind({"a.yubifu", "-o", "book.svg"}).status, 0);
  EXPECT_THAT(folder_.names(), ElementsAre("a.yubifu", "book-1.svg", "book-2.svg", "book-3.svg",
                                           "book-4.svg", "book-5.svg"));
}

TEST_F(BookVerb, WritesPdfWhereTheProgramCan) {
  folder_.write("a.yubifu", tune("Alder"));
  const ProgramRun run = bind({"a.yubifu", "-o", "book.pdf"});
  if (run.status != 0) {
    EXPECT_THAT(run.err, HasSubstr("built without librsvg and cairo"));
    EXPECT_THAT(folder_.names(), Not(Contains("book.pdf")));
    return;
  }
  EXPECT_THAT(folder_.read("book.pdf"), StartsWith("%PDF-"));
}

// Scores of numbers keep their fingers, staves get them; the chart is that of the flute in hand.
TEST_F(BookVerb, IsForTheFluteInHand) {
  folder_.write("a.yubifu", tune("Alder"));
  folder_.write("staff.yubifu", "title: Brook\nflute: 6\n\n3 5 6 7 |=\n");
  ASSERT_EQ(run_yubifu({"convert", "staff.yubifu", "--fingering", "none", "-o", "b.musicxml"},
                       folder_.path())
                .status,
            0);
  const ProgramRun run =
      bind({"a.yubifu", "b.musicxml", "--flute", "8", "--octave", "0", "-o", "book.html"});
  EXPECT_EQ(run.status, 0) << run.err;
  const std::string book = folder_.read("book.html");
  EXPECT_THAT(book, AllOf(HasSubstr("八本調子"), Not(HasSubstr("六本調子"))));
  EXPECT_THAT(book, HasSubstr("bar 1: 三 四 五 六"));
  EXPECT_THAT(book, HasSubstr("bar 1: 2 4 5 6")) << "a tone lower on a flute a tone higher";
  ASSERT_EQ(bind({"b.musicxml", "--flute", "8", "--octave", "-1", "-o", "low.html"}).status, 0);
  EXPECT_THAT(folder_.read("low.html"), HasSubstr("bar 1: 二 四 五 六"));
}

// It stops nothing but itself.
TEST_F(BookVerb, ATuneThatCannotBeReadIsTold) {
  folder_.write("a.yubifu", tune("Alder"));
  folder_.write("bad.yubifu", "flute: 6\n\n三 9x 五 |=\n");
  const ProgramRun run = bind({"bad.yubifu", "none.yubifu", "a.yubifu", "-o", "book.html"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, AllOf(HasSubstr("bad.yubifu:3:3: error:"), HasSubstr("none.yubifu"),
                             HasSubstr("book.html: one tune on 5 pages")));
}

TEST_F(BookVerb, AListMayNotNameAList) {
  folder_.write("a.yubifu", tune("Alder"));
  folder_.write("book.txt", "a.yubifu\nbook.txt\n");
  const ProgramRun run = bind({"book.txt", "-o", "book.html"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, AllOf(HasSubstr("[list-in-list]"), HasSubstr("one tune")));
}

TEST_F(BookVerb, RefusesWhatMakesNoBook) {
  std::filesystem::create_directory(folder_.path() / "empty");
  folder_.write("a.yubifu", tune("Alder"));
  const auto refused = [&](const std::vector<std::string>& words, const std::string& part) {
    const ProgramRun run = bind(words);
    EXPECT_EQ(run.status, 2) << part;
    EXPECT_THAT(run.err, HasSubstr(part));
  };
  refused({}, "bind needs tunes");
  refused({"empty", "-o", "book.html"}, "there is no tune for the book");
  refused({"a.yubifu", "--flute", "6,7", "-o", "book.html"}, "bind takes one flute at a time");
  refused({"a.yubifu"}, "say what the book is written as");
  refused({"a.yubifu", "-o", "book.mid"}, "known endings: .svg .html .htm .pdf");
  refused({"a.yubifu", "-o", "away/book.html"}, "away");
}

}  // namespace
}  // namespace yubifu::tests
