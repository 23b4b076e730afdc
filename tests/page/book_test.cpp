// Many tunes in one book.
#include "page/book/book.h"

#include <map>
#include <memory>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "flute/flute.h"
#include "page/drawn.h"
#include "support/rounds.h"
#include "support/score_generator.h"

namespace yubifu::page {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

FluteList flute_of_size(int size) {
  return {std::make_shared<const flute::Flute>(flute::built_in_flute({size, 0}, 440))};
}

// A score as it is after resolving: the flute in use is known.
model::Score tune(const std::string& text, int size = 8) {
  model::Score score = score_of(text);
  score.flutes = {{0, model::FluteSize{size, 0}, std::to_string(size), {}, 440}};
  return score;
}

std::vector<Sheet> bound(Book& book) {
  auto sheets = book.bind();
  EXPECT_THAT(sheets.diagnostics, IsEmpty());
  return std::move(sheets.value).value();
}

std::string all_text(const Sheet& sheet, Role role) {
  std::string all;
  for (const std::string& text : texts(sheet, role)) all += text + "\n";
  return all;
}

// The page numbers that a list gives for its lines; the number follows its line.
std::map<std::string, std::size_t> pages_in(const Sheet& list) {
  std::map<std::string, std::size_t> pages;
  std::string line;
  for (const std::string& text : texts(list, Role::heading)) {
    if (!text.empty() && text.find_first_not_of("0123456789") == std::string::npos) {
      pages[line] = std::stoul(text);
    } else {
      line = text;
    }
  }
  return pages;
}

TEST(Book, HasTitleContentsTunesFingeringsAndIndex) {
  Book book("祭の笛", {}, TuneStart::new_sheet);
  EXPECT_THAT(
      book.add("a", tune("title: 川べり\n\n三 四 五 六 |=\n> か わ べ り\n"), flute_of_size(8)),
      IsEmpty());
  EXPECT_THAT(
      book.add("b", tune("title: 山みち\n\n8 7 三 四 |=\n> あ さ の み\n"), flute_of_size(8)),
      IsEmpty());
  EXPECT_THAT(book.add("no title", tune("三 四 五 六 |=\n"), flute_of_size(8)), IsEmpty());
  const std::vector<Sheet> sheets = bound(book);
  ASSERT_EQ(sheets.size(), 7u);
  EXPECT_THAT(texts(sheets[0], Role::heading), ElementsAre("祭の笛"));
  EXPECT_THAT(texts(sheets[0], Role::footer), IsEmpty());
  const auto pages = pages_in(sheets[1]);
  EXPECT_EQ(pages.at("川べり"), 3u);
  EXPECT_EQ(pages.at("山みち"), 4u);
  EXPECT_EQ(pages.at("no title"), 5u);
  EXPECT_EQ(pages.at("Fingerings"), 6u);
  EXPECT_EQ(pages.at("Index of first words"), 7u);
  EXPECT_THAT(texts(sheets[2], Role::heading), Contains("川べり"));
  EXPECT_THAT(texts(sheets[3], Role::heading), Contains("山みち"));
  EXPECT_THAT(with_role(sheets[5], Role::chart), Not(IsEmpty()));
  // By their letters, あ before か.
  const std::string index = all_text(sheets[6], Role::heading);
  EXPECT_LT(index.find("あさのみ"), index.find("かわべり"));
  for (std::size_t i = 1; i < sheets.size(); ++i) {
    EXPECT_EQ(texts(sheets[i], Role::footer).back(), std::to_string(i + 1));
    EXPECT_THAT(texts(sheets[i], Role::footer), Contains("祭の笛"));
  }
  // The caution stands once, at the end.
  for (const Sheet& sheet : sheets) {
    const bool last = &sheet == &sheets.back();
    EXPECT_EQ(all_text(sheet, Role::footer).find("hearing protection") != std::string::npos, last);
  }
}

TEST(Book, PartsBeginWithALeaf) {
  Book book("Book", {}, TuneStart::following_on);
  book.begin_part("Spring");
  book.add("a", tune("title: A\n\n三 四 五 六 |=\n"), flute_of_size(8));
  book.begin_part("Summer");
  book.add("b", tune("title: B\n\n三 四 五 六 |=\n"), flute_of_size(8));
  book.begin_part("A part without tunes");
  const std::vector<Sheet> sheets = bound(book);
  EXPECT_THAT(texts(sheets[2], Role::heading), ElementsAre("Spring"));
  EXPECT_THAT(texts(sheets[4], Role::heading), ElementsAre("Summer"));
  const auto pages = pages_in(sheets[1]);
  EXPECT_EQ(pages.at("Spring"), 3u);
  EXPECT_EQ(pages.at("A"), 4u);
  EXPECT_EQ(pages.at("Summer"), 5u);
  EXPECT_EQ(pages.at("B"), 6u);
}

// Short tunes share a sheet; none begins where its heading and a column have no room.
TEST(Book, TunesMayFollowOn) {
  for (const PageOptions& options : {PageOptions{}, across()}) {
    Book book("Book", options, TuneStart::following_on);
    for (int i = 0; i < 12; ++i) {
      book.add("",
               tune("title: Tune " + std::to_string(i) +
                    "\nsource: somewhere\n\n三↓20 四 五 六 | 七 六 五 三 |=\n"),
               flute_of_size(8));
    }
    const std::vector<Sheet> sheets = bound(book);
    EXPECT_LT(sheets.size(), 12u);
    const auto pages = pages_in(sheets[1]);
    for (int i = 0; i < 12; ++i) {
      const std::string title = "Tune " + std::to_string(i);
      ASSERT_TRUE(pages.contains(title));
      EXPECT_THAT(texts(sheets[pages.at(title) - 1], Role::heading), Contains(title));
    }
    const Box area = area_of(sheet_size(options.paper, options.orientation));
    std::string feet;
    for (const Sheet& sheet : sheets) {
      for (const Item& item : sheet.items) {
        if (item.role == Role::footer) continue;
        EXPECT_GE(item.box.left, area.left - 0.01);
        EXPECT_LE(item.box.right, area.right + 0.01);
        EXPECT_LE(item.box.bottom, area.bottom + 0.01);
      }
      feet += all_text(sheet, Role::footer);
    }
    const std::size_t said = feet.find("20 cents lower");
    EXPECT_NE(said, std::string::npos);
    EXPECT_EQ(feet.find("20 cents lower", said + 1), std::string::npos);
    EXPECT_THAT(all_text(sheets.back(), Role::heading), HasSubstr("Tune 11: somewhere"));
  }
}

TEST(Book, OneChartForEachFlute) {
  Book book("Book", {}, TuneStart::new_sheet);
  book.add("", tune("title: A\n\n三 四 - - |=\n", 6), flute_of_size(6));
  book.add("", tune("title: B\n\n五 六 - - |=\n", 6), flute_of_size(6));
  book.add("", tune("title: C\n\n五 六 - - |=\n", 7), flute_of_size(7));
  const std::vector<Sheet> sheets = bound(book);
  ASSERT_EQ(sheets.size(), 2u + 3u + 2u);
  EXPECT_THAT(texts(sheets[5], Role::chart), Contains("六本調子"));
  EXPECT_THAT(glyph_names(with_role(sheets[5], Role::chart)),
              ElementsAre("kanji-3", "kanji-4", "flat", "kanji-5", "kanji-6"))
      << "with the E flat that 四 is on size 6";
  EXPECT_THAT(texts(sheets[6], Role::chart), Contains("七本調子"));
}

// Scores in two folders name one flute file by two paths, and two files by one.
TEST(Book, FluteFilesAreToldApartByWhatTheySay) {
  const auto flute = [](const std::string& path, double second) {
    flute::FluteTable table;
    table.title = "Festival";
    table.name = model::FlutePath{path};
    table.hole_count = 7;
    table.entries = flute::built_in_flute({6, 0}, 440).entries();
    table.entries[1].cents = second;
    return std::make_shared<const flute::Flute>(std::move(table));
  };
  Book book("Book", {}, TuneStart::new_sheet);
  book.add("", tune("title: A\n\n三 四 - - |=\n"), {flute("flute.json", 190)});
  book.add("", tune("title: B\n\n三 四 - - |=\n"), {flute("../flute.json", 190)});
  book.add("", tune("title: C\n\n三 四 - - |=\n"), {flute("flute.json", 210)});
  EXPECT_EQ(bound(book).size(), 2u + 3u + 2u);
}

TEST(Book, TwoTunesOfOneTitleAreTold) {
  Book book("Book", {}, TuneStart::new_sheet);
  book.add("", tune("title: Song\n\n三 四 - - |=\n"), flute_of_size(8));
  book.add("", tune("title: Song\n\n五 六 - - |=\n"), flute_of_size(8));
  const auto sheets = book.bind();
  ASSERT_EQ(sheets.diagnostics.size(), 1u);
  EXPECT_EQ(sheets.diagnostics[0].rule->name, "page-same-title");
  EXPECT_THAT(sheets.diagnostics[0].message, HasSubstr("(pages 3, 4)"));
}

TEST(Book, ALongTitleIsWhole) {
  std::string title = "W";
  while (title.size() < 300) title += " and walk";
  Book book(title, {}, TuneStart::new_sheet);
  book.add("", tune("title: " + title + "\n\n三 四 - - |=\n"), flute_of_size(8));
  const std::vector<Sheet> sheets = bound(book);
  const Box area = area_of(sheet_size(PaperSize::a4, Orientation::portrait));
  for (const Sheet& sheet : sheets) {
    for (const Item& item : sheet.items) EXPECT_LE(item.box.right, area.right + 0.01);
  }
  std::string joined;
  for (const std::string& line : texts(sheets[1], Role::heading)) joined += line + " ";
  EXPECT_THAT(joined, HasSubstr(title));
}

// A tune that cannot be laid out stops nothing but itself.
TEST(Book, ATuneTooFineIsLeftOut) {
  Book book("Book", {}, TuneStart::new_sheet);
  model::Score fine = tune("title: A\n\n三 四 五 - |=\n");
  const model::Rational early(1, 103);
  const model::Rational late(1, 101);
  fine.notes[0].duration = early;
  fine.notes[1].onset = early;
  fine.notes[1].duration = late - early;
  fine.notes[2].onset = late;
  const auto found = book.add("", fine, flute_of_size(8));
  EXPECT_TRUE(base::has_errors(found));
  EXPECT_EQ(book.tune_count(), 0u);
  book.add("", tune("title: B\n\n三 四 - - |=\n"), flute_of_size(8));
  EXPECT_EQ(book.tune_count(), 1u);
  EXPECT_EQ(bound(book).size(), 4u);
}

// Whatever marks, forms and song text a tune has, the contents and the index know its page.
TEST(Book, KnowsThePageOfEveryTune) {
  for (const TuneStart start : {TuneStart::new_sheet, TuneStart::following_on}) {
    Book book("Book", {}, start);
    std::mt19937_64 random(5);
    for (int i = 0; i < 60; ++i) {
      model::Score score = support::random_score(random, {});
      score.header.title = "Tune " + std::to_string(i);
      const auto found = book.add("", score, {});
      for (const auto& one : found) EXPECT_NE(one.severity, base::Severity::error) << one.message;
    }
    const auto sheets = book.bind().value.value();
    std::map<std::string, std::size_t> pages;
    for (const Sheet& sheet : sheets) {
      if (!sheet.bars.empty()) break;
      for (const auto& [title, page] : pages_in(sheet)) pages[title] = page;
    }
    for (int i = 0; i < 60; ++i) {
      const std::string title = "Tune " + std::to_string(i);
      ASSERT_TRUE(pages.contains(title)) << title;
      EXPECT_THAT(texts(sheets.at(pages.at(title) - 1), Role::heading), Contains(title));
    }
  }
}

// A long book takes as many times the work as it has tunes: a tune of fifty notes each.
TEST(Book, GrowsWithItsTunes) {
  Book book("Book", {}, TuneStart::new_sheet);
  const std::size_t count = support::size(2000) / 50;
  std::string music;
  for (int i = 0; i < 12; ++i) music += "三 四 五 六 |\n";
  for (std::size_t i = 0; i < count; ++i) {
    book.add("", tune("title: Tune " + std::to_string(i) + "\n\n" + music + "三 四 - - |=\n"),
             flute_of_size(8));
  }
  EXPECT_GE(bound(book).size(), count + 3);
}

}  // namespace
}  // namespace yubifu::page
