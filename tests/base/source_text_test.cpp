#include "base/source_text.h"

#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "base/diagnostic.h"
#include "support/rounds.h"

namespace yubifu::base {
namespace {

const std::string kMark = "\xEF\xBB\xBF";

Position at(const std::string& text, std::size_t offset) {
  return SourceText("song", text).position(offset);
}

Position place(std::size_t line, std::size_t column) {
  return {line, column};
}

TEST(SourceText, CountsLinesAndColumnsFromOne) {
  const std::string text = "ab\ncd\n";
  EXPECT_EQ(at(text, 0), place(1, 1));
  EXPECT_EQ(at(text, 1), place(1, 2));
  EXPECT_EQ(at(text, 2), place(1, 3));
  EXPECT_EQ(at(text, 3), place(2, 1));
  EXPECT_EQ(at(text, 5), place(2, 3));
  EXPECT_EQ(at(text, 6), place(3, 1));
}

TEST(SourceText, TakesAnOffsetPastTheEndAsTheEnd) {
  EXPECT_EQ(at("ab", 3), place(1, 3));
  EXPECT_EQ(at("ab\n", 1000), place(2, 1));
  EXPECT_EQ(at("", 0), place(1, 1));
  EXPECT_EQ(at("", 7), place(1, 1));
}

TEST(SourceText, CountsColumnsInCodePoints) {
  // Three bytes each; 2̇ is two code points of one and two bytes.
  const std::string text = "三メ 2̇ x";
  EXPECT_EQ(at(text, 3), place(1, 2));
  EXPECT_EQ(at(text, 6), place(1, 3));
  EXPECT_EQ(at(text, 7), place(1, 4));
  EXPECT_EQ(at(text, 8), place(1, 5));
  EXPECT_EQ(at(text, 11), place(1, 7));
  EXPECT_EQ(at("🎶a", 4), place(1, 2));
  // Each byte that is no UTF-8 is a column.
  EXPECT_EQ(at("\xFF\xFE"
               "a",
               2),
            place(1, 3));
}

TEST(SourceText, EveryKindOfLineEndEndsALine) {
  const std::string text = "a\r\nb\rc\nd";
  EXPECT_EQ(at(text, 0), place(1, 1));
  EXPECT_EQ(at(text, 3), place(2, 1));
  EXPECT_EQ(at(text, 5), place(3, 1));
  EXPECT_EQ(at(text, 7), place(4, 1));
  const SourceText source("song", text);
  EXPECT_EQ(source.line(1), "a");
  EXPECT_EQ(source.line(2), "b");
  EXPECT_EQ(source.line(3), "c");
  EXPECT_EQ(source.line(4), "d");
  EXPECT_EQ(source.line(5), "");
  EXPECT_EQ(at("\r\r\n\r", 4), place(4, 1));
  EXPECT_EQ(at("\n\r", 2), place(3, 1));
}

TEST(SourceText, FindsEveryLineOfALongText) {
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    std::string text;
    std::vector<std::size_t> starts;
    const std::string tail(200, '.');  // so that the text is longer than what is looked at at once
    for (std::size_t i = 1; i <= 300; ++i) {
      starts.push_back(text.size());
      text += std::to_string(i) + "三" + tail + end;
    }
    const SourceText source("song", text);
    for (std::size_t i = 1; i <= 300; ++i) {
      const std::string number = std::to_string(i);
      EXPECT_EQ(source.line(i), number + "三" + tail);
      EXPECT_EQ(source.position(starts[i - 1]), place(i, 1));
      EXPECT_EQ(source.position(starts[i - 1] + number.size()), place(i, number.size() + 1));
      // The bytes of its end still belong to the line.
      const std::size_t last = starts[i - 1] + number.size() + 3 + tail.size() + end.size() - 1;
      EXPECT_EQ(source.position(last), place(i, number.size() + 1 + tail.size() + end.size()));
    }
    EXPECT_EQ(source.position(text.size()), place(301, 1));
  }
}

TEST(SourceText, FindsPlacesInALineLongerThanWhatIsLookedAtAtOnce) {
  const std::string line(50'000, '.');
  const SourceText source("song", line + "\n" + line + "\r\n三");
  EXPECT_EQ(source.position(49'999), place(1, 50'000));
  EXPECT_EQ(source.position(50'001), place(2, 1));
  EXPECT_EQ(source.position(100'000), place(2, 50'000));
  EXPECT_EQ(source.position(100'003), place(3, 1));
  EXPECT_EQ(source.line(1), line);
  EXPECT_EQ(source.line(2), line);
  EXPECT_EQ(source.line(3), "三");
  // Lines end where one look ends and the next begins.
  for (std::size_t i = 16'380; i < 16'390; ++i) {
    const std::string text = std::string(i, '.') + "\r\nb";
    EXPECT_EQ(at(text, i + 1), place(1, i + 2));
    EXPECT_EQ(at(text, i + 2), place(2, 1));
  }
}

// Places are found from marks on the way; where a mark would part a character, the one before
// holds.
TEST(SourceText, CountsColumnsOfLongLinesOfEveryKindOfCharacter) {
  const std::vector<std::string> characters{"a", "é", "三", "🎶", "\xFF", "\x80"};
  for (std::size_t first = 0; first < 8; ++first) {
    std::string text(first, '.');
    std::vector<std::pair<std::size_t, Position>> places;
    for (std::size_t line = 1; line <= 3; ++line) {
      const std::size_t before = line == 1 ? first : 0;
      for (std::size_t i = 0; i < 1500; ++i) {
        places.push_back({text.size(), place(line, before + i + 1)});
        text += characters[i / 40 % characters.size()];
      }
      text += line == 1 ? "\r\n" : "\n";
    }
    const SourceText source("song", text);
    for (const auto& [offset, expected] : places) ASSERT_EQ(source.position(offset), expected);
  }
}

// As a message about each of its words asks for it; the work grows with the line (bench/growth.sh).
TEST(SourceText, FindsThePlaceAndTheLineOfEveryWordOfOneLine) {
  std::string text;
  const std::size_t words = support::size(5000);
  for (std::size_t i = 0; i < words; ++i) text += "三メ ";
  const SourceText source("song", text);
  for (std::size_t i = 0; i < words; ++i) {
    const auto [line, column] = source.position(i * 7);
    ASSERT_EQ(column, i * 3 + 1);
    ASSERT_EQ(source.line(line).size(), text.size());
  }
}

TEST(SourceText, HasNoLineOutsideItsText) {
  const SourceText source("song", "a\n");
  EXPECT_EQ(source.line(0), "");
  EXPECT_EQ(source.line(2), "");
  EXPECT_EQ(source.line(3), "");
}

TEST(SourceText, AByteOrderMarkStandsBeforeTheFirstColumn) {
  const SourceText source("song", kMark + "ab\nc");
  EXPECT_EQ(source.position(0), place(1, 1));
  EXPECT_EQ(source.position(2), place(1, 1));
  EXPECT_EQ(source.position(3), place(1, 1));
  EXPECT_EQ(source.position(4), place(1, 2));
  EXPECT_EQ(source.position(6), place(2, 1));
  EXPECT_EQ(source.line(1), "ab");
  EXPECT_EQ(SourceText("song", kMark).position(3), place(1, 1));
  // Elsewhere it is a character like others.
  EXPECT_EQ(at("a" + kMark + "b", 4), place(1, 3));
}

TEST(Diagnostic, IsPrintedOnOneLine) {
  static constexpr Rule kRule{"wet-ink", Severity::warning, "Ink is dry.", "", ""};
  const SourceText source("song.yubifu", "三\n三 四");
  EXPECT_EQ(one_line(report(kRule, SourceRange{8, 11}, "wait", "use sand"), source),
            "song.yubifu:2:3: warning: wait (use sand) [wet-ink]");
  EXPECT_EQ(one_line(report(kRule, std::nullopt, "wait"), source),
            "song.yubifu: warning: wait [wet-ink]");
}

TEST(Diagnostic, OnlyErrorsAreErrors) {
  static constexpr Rule kRule{"wet-ink", Severity::warning, "Ink is dry.", "", ""};
  Diagnostics list{report(kRule, std::nullopt, "wait")};
  EXPECT_FALSE(has_errors(list));
  Diagnostic raised = report(kRule, std::nullopt, "stop");
  raised.severity = Severity::error;
  append(list, {raised});
  ASSERT_EQ(list.size(), 2u);
  EXPECT_EQ(list[1].message, "stop");
  EXPECT_TRUE(has_errors(list));
}

}  // namespace
}  // namespace yubifu::base
