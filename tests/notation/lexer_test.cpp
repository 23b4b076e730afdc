#include "notation/read/lexer.h"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/characters.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

using testing::ElementsAre;

std::string_view name(TokenKind kind) {
  switch (kind) {
    case TokenKind::header:
      return "header";
    case TokenKind::word:
      return "word";
    case TokenKind::slur:
      return "slur";
    case TokenKind::brace:
      return "brace";
    case TokenKind::open:
      return "open";
    case TokenKind::close:
      return "close";
    case TokenKind::bar:
      return "bar";
    case TokenKind::broken:
      return "broken";
    case TokenKind::comment:
      return "comment";
    case TokenKind::song:
      return "song";
    case TokenKind::line_end:
      return "end";
    case TokenKind::blank_line:
      return "blank";
  }
  return "";
}

// "kind text" of each token, with a + before the text of one that is glued.
std::vector<std::string> tokens(const std::string& text) {
  const base::SourceText source("tune.yubifu", text);
  std::vector<std::string> list;
  Reports reports;
  for (const Token& token : lex(source, reports)) {
    std::string told(name(token.kind));
    if (token.range.begin < token.range.end && token.kind != TokenKind::blank_line) {
      told += token.spaced ? " " : " +";
      told += source.text().substr(token.range.begin, token.range.end - token.range.begin);
    }
    list.push_back(told);
  }
  return list;
}

TEST(Lexer, CutsMusicIntoWordsBracketsAndBars) {
  EXPECT_THAT(tokens("五 (六 七):2 |\n"), ElementsAre("word 五", "open (", "word +六", "word 七",
                                                      "close +):2", "bar |", "end"));
  EXPECT_THAT(tokens("五(六 七)|五"), ElementsAre("word 五", "open +(", "word +六", "word 七",
                                                  "close +)", "bar +|", "word +五", "end"));
  EXPECT_THAT(tokens("(五):1/2"), ElementsAre("open (", "word +五", "close +):1/2", "end"));
}

TEST(Lexer, KnowsEveryBarSign) {
  EXPECT_THAT(
      tokens("五 | || |= |: :| :|x3"),
      ElementsAre("word 五", "bar |", "bar ||", "bar |=", "bar |:", "bar :|", "bar :|x3", "end"));
  EXPECT_THAT(tokens("五:||:六"), ElementsAre("word 五", "bar +:|", "bar +|:", "word +六", "end"));
  EXPECT_THAT(tokens("五 ||: 六"), ElementsAre("word 五", "bar |", "bar +|:", "word 六", "end"));
  EXPECT_THAT(tokens("(五 六):|"),
              ElementsAre("open (", "word +五", "word 六", "close +)", "bar +:|", "end"));
  EXPECT_THAT(tokens("(五 六):2:|x4五"), ElementsAre("open (", "word +五", "word 六", "close +):2",
                                                     "bar +:|x4", "word +五", "end"));
}

TEST(Lexer, ReadsFullWidthPunctuation) {
  EXPECT_THAT(tokens("五　（六　七）：２｜：｜ｘ３"),
              ElementsAre("word 五", "open （", "word +六", "word 七", "close +）：２", "bar +｜：",
                          "bar +｜", "word +ｘ３", "end"));
  EXPECT_THAT(tokens("五｛accent｝～ ＃ 五"),
              ElementsAre("word 五", "brace +｛accent｝", "slur +～", "comment ＃ 五", "end"));
  EXPECT_THAT(tokens("五〜 六"), ElementsAre("word 五", "slur +〜", "word 六", "end"));
}

TEST(Lexer, BracesKeepQuotesTogether) {
  EXPECT_THAT(tokens("五{accent}~ {text \"a } \\\" # b\"} 六"),
              ElementsAre("word 五", "brace +{accent}", "slur +~", "brace {text \"a } \\\" # b\"}",
                          "word 六", "end"));
}

TEST(Lexer, CommentsStandAfterWhiteSpaceAndNowhereElse) {
  EXPECT_THAT(tokens("# a\n  # b\n五 # c\n五#d\n?C#4"),
              ElementsAre("comment # a", "end", "comment # b", "end", "word 五", "comment # c",
                          "end", "word 五#d", "end", "word ?C#4", "end"));
}

TEST(Lexer, LinesOfEveryKind) {
  EXPECT_THAT(tokens("title: x # y\r\n\r\n五 六\r> ka # ze\n \t\n"),
              ElementsAre("header title: x # y", "end", "blank", "word 五", "word 六", "end",
                          "song > ka # ze", "end", "blank"));
  EXPECT_THAT(tokens("\xEF\xBB\xBFtitle: x"), ElementsAre("header title: x", "end"));
  EXPECT_THAT(tokens("題名：　歌\n"), ElementsAre("header 題名：　歌", "end"));
  EXPECT_THAT(tokens("title：歌\n"), ElementsAre("header title：歌", "end"));
  EXPECT_THAT(tokens("五:| 六\n"), ElementsAre("word 五", "bar +:|", "word 六", "end"));
}

TEST(Lexer, AFullWidthRepeatSignAtTheStartOfALineIsMusic) {
  EXPECT_FALSE(header_parts("｜： 五 六"));
  EXPECT_FALSE(header_parts("｜: 五 六"));
  EXPECT_FALSE(header_parts("（五 六）： 2"));
  EXPECT_EQ(header_parts("ｔｉｔｌｅ：夏")->value, "夏");
}

TEST(Lexer, EveryKindOfWhiteSpacePartsWords) {
  EXPECT_THAT(tokens("五\t六\u00A0七\u20091\u200B2\u30003"),
              ElementsAre("word 五", "word 六", "word 七", "word 1", "word 2", "word 3", "end"));
}

TEST(Characters, FoldFullAndHalfWidthForms) {
  EXPECT_EQ(folded("ＡＺａｚ０９！～　"), "AZaz09!~ ");
  EXPECT_EQ(folded("ｱｲｳﾒｶﾝｰ｡･"), "アイウメカンー。・");
  EXPECT_EQ(folded("ｶﾞﾊﾞﾊﾟｳﾞｱﾞ"), "ガバパヴア\u3099");
  EXPECT_EQ(folded("三 r3"), "三 r3");
}

TEST(Characters, AreShownSafely) {
  EXPECT_EQ(shown("五"), "`五`");
  EXPECT_EQ(shown(std::string("a\x1B[2J\0", 6)), "`aU+001B[2JU+0000`");
  EXPECT_EQ(shown("\u202Eab"), "`U+202Eab`");
  EXPECT_EQ(shown(std::string(40, 'x')), "`" + std::string(32, 'x') + "…`");
}

TEST(Characters, AreTrimmedOfEverySpace) {
  EXPECT_EQ(trimmed("\u3000 a b\u00A0\t"), "a b");
  EXPECT_EQ(trimmed(" \u3000"), "");
}

}  // namespace
}  // namespace yubifu::notation
