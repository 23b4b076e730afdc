#include "notation/read/parser.h"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/read/lexer.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using testing::ElementsAre;

class Parsed {
 public:
  explicit Parsed(const std::string& text) : source_("tune.yubifu", text) {
    Reports reports;
    tree = parse(source_, lex(source_, reports), reports);
    EXPECT_FALSE(base::has_errors(reports.take())) << text;
  }

  // Each bar as text: groups in brackets with their length, free braces and attachments as written.
  std::vector<std::string> bars() const {
    std::vector<std::string> list;
    for (const Bar& bar : tree.bars) list.push_back(told(bar.items));
    return list;
  }

  std::string text(base::SourceRange range) const {
    return std::string(source_.text().substr(range.begin, range.end - range.begin));
  }

  Tree tree;

 private:
  std::string told(const Item& item) const {
    if (const auto* word = std::get_if<Word>(&item.value)) {
      std::string out = text(word->range);
      for (const Token& attachment : word->attached) out += "+" + text(attachment.range);
      return out;
    }
    if (const auto* group = std::get_if<Group>(&item.value)) {
      std::string out = "(" + told(group->items) + ")";
      return group->length == model::Rational(1) ? out : out + model::to_text(group->length);
    }
    return text(range_of(item));
  }

  std::string told(const std::vector<Item>& items) const {
    std::string out;
    for (const Item& item : items) out += (out.empty() ? "" : " ") + told(item);
    return out;
  }

  base::SourceText source_;
};

TEST(Parser, NestsGroups) {
  EXPECT_THAT(Parsed("((5 6) (7 1):2) 2 | (3):1/2 |\n").bars(),
              ElementsAre("((5 6) (7 1)2) 2", "(3)1/2"));
  std::string deep = "5 6";
  for (int i = 0; i < kDeepestNesting - 1; ++i) deep = "(" + deep + ") 7";
  EXPECT_EQ(Parsed("(" + deep + ")\n").bars().size(), 1u);
}

TEST(Parser, AttachesWhatIsGlued) {
  EXPECT_THAT(Parsed("5{a}{b}~ {c} 6~{d} ({e} 7 8){f} |\n").bars(),
              ElementsAre("5+{a}+{b}+~ {c} 6+~+{d} ({e} 7 8) {f}"));
}

TEST(Parser, GroupsGoOnInTheNextLine) {
  EXPECT_THAT(Parsed("(5 6\n7) |\n").bars(), ElementsAre("(5 6 7)"));
}

TEST(Parser, SignsWithNoWordBetweenAreOneBoundary) {
  const Parsed parsed("| 5 | || :| {a} |: 6 :|x3 |= 7\n");
  EXPECT_THAT(parsed.bars(), ElementsAre("5", "6", "7"));
  const auto& bars = parsed.tree.bars;
  EXPECT_EQ(bars[0].end.style, model::BarStyle::section);
  EXPECT_TRUE(bars[0].end.repeat_end);
  EXPECT_FALSE(bars[0].repeat_start);
  ASSERT_EQ(bars[1].between.size(), 1u);
  EXPECT_EQ(parsed.text(bars[1].between[0].range), "{a}");
  EXPECT_TRUE(bars[1].repeat_start);
  EXPECT_EQ(bars[1].end.style, model::BarStyle::final);
  EXPECT_EQ(bars[1].end.times, 3);
  EXPECT_EQ(bars[2].end, BarSign());
}

TEST(Parser, BracesAfterTheLastBarTrail) {
  const Parsed parsed("5 |= {a} | {b}\n");
  ASSERT_EQ(parsed.tree.trailing.size(), 2u);
  EXPECT_EQ(parsed.text(parsed.tree.trailing[0].range), "{a}");
  EXPECT_EQ(parsed.text(parsed.tree.trailing[1].range), "{b}");
}

TEST(Parser, KeepsLineBreaksAtBars) {
  const Parsed parsed("5 | 6 |\n7 |\n> a\n\n# c\n8\n| 1\n2 | 3 |\n\n{a}\n|: 4\n");
  std::vector<model::LineBreak> breaks;
  for (const Bar& bar : parsed.tree.bars) breaks.push_back(bar.break_before);
  using model::LineBreak;
  // The blank line above the comment is the comment's.
  EXPECT_THAT(breaks,
              ElementsAre(LineBreak::none, LineBreak::none, LineBreak::line, LineBreak::line,
                          LineBreak::line, LineBreak::none, LineBreak::blank_line));
  EXPECT_TRUE(parsed.tree.comments.front().blank_before);
}

TEST(Parser, PlacesCommentsWithTheBarTheyFollow) {
  const Parsed parsed("# h\n5 # a\n6 | # b\n# c\n{d} # e\n7 |\n\n# f\n");
  std::vector<std::string> list;
  for (const PlacedComment& comment : parsed.tree.comments) {
    list.push_back(parsed.text(comment.range) + " " +
                   (comment.after_bar ? std::to_string(*comment.after_bar) : "header") +
                   (comment.own_line ? " own" : ""));
  }
  EXPECT_THAT(list,
              ElementsAre("# h header own", "# a 0", "# b 0", "# c 0 own", "# e 1", "# f 1 own"));
}

TEST(Parser, SongLinesBelongToTheMusicAboveThem) {
  const Parsed parsed("5 6 |\n> a b\n\n# c\n>2 d e\n7 |\n");
  ASSERT_EQ(parsed.tree.songs.size(), 2u);
  EXPECT_EQ(parsed.text(parsed.tree.songs[0].music.value()), "5 6 |");
  EXPECT_EQ(parsed.text(parsed.tree.songs[1].music.value()), "5 6 |");
  EXPECT_EQ(parsed.text(parsed.tree.songs[1].range), ">2 d e");
}

}  // namespace
}  // namespace yubifu::notation
