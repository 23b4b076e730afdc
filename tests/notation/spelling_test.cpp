#include "notation/spelling.h"

#include <string>

#include <gtest/gtest.h>

#include "notation/directions.h"

namespace yubifu::notation {
namespace {

TEST(Spelling, EveryWordOfATableIsReadAsItself) {
  for (const std::string_view word : header_words()) {
    ASSERT_TRUE(header_key(word)) << word;
    EXPECT_EQ(word_of(*header_key(word)), word);
  }
  for (const std::string_view word : mark_words()) {
    ASSERT_TRUE(mark(word) || kValuedMarks.value_of(word)) << word;
    if (mark(word)) {
      EXPECT_EQ(model::word_of(*mark(word)), word);
    }
    if (kValuedMarks.value_of(word)) {
      EXPECT_EQ(kValuedMarks.word_of(*kValuedMarks.value_of(word)), word);
    }
  }
  for (const std::string_view word : direction_words()) {
    const auto cue = model::cue_named(word);
    EXPECT_TRUE(place_of_word(word)) << word;
    if (cue) {
      EXPECT_EQ(model::word_of(*cue), word);
    }
  }
}

TEST(Spelling, MarksHaveTheirJapaneseNames) {
  for (const char* word : {"打", "打ち", "指打ち"}) EXPECT_EQ(mark(word), model::Mark::uchi);
  for (const char* word : {"上", "指上げ"}) EXPECT_EQ(mark(word), model::Mark::age);
  EXPECT_EQ(mark("スリ"), model::Mark::suri);
  EXPECT_EQ(mark("ユリ"), model::Mark::yuri);
  EXPECT_EQ(mark("息"), model::Mark::breath);
  EXPECT_EQ(mark("延"), model::Mark::fermata);
  EXPECT_EQ(mark("寸"), std::nullopt);
}

TEST(Spelling, KeysOfHeaderLinesAreOneWord) {
  for (const char* word : {"troupe", "x-code", "編曲"}) EXPECT_TRUE(may_be_header_key(word));
  for (const char* word : {"", "two words", "a:b", "#", "(a", "a|", "　"}) {
    EXPECT_FALSE(may_be_header_key(word)) << word;
  }
}

TEST(Punctuation, QuotesAreUndone) {
  for (const char* text : {"", "slowly", "\"", "\\", "a \\\" b\\\\", "}"}) {
    EXPECT_EQ(unquoted(notation::quoted(text)), text);
  }
  EXPECT_EQ(quoted("a \"b\" \\"), "\"a \\\"b\\\" \\\\\"");
  EXPECT_EQ(unquoted("\"a\" b"), std::nullopt);
  EXPECT_EQ(unquoted("\"a"), std::nullopt);
  EXPECT_EQ(unquoted("a"), std::nullopt);
  EXPECT_EQ(bare_or_quoted("7.5+3c"), "7.5+3c");
  EXPECT_EQ(bare_or_quoted("my flute"), "\"my flute\"");
  EXPECT_EQ(bare_or_quoted(""), "\"\"");
}

TEST(Punctuation, WritesTheSignsThatEndABar) {
  using model::BarStyle;
  EXPECT_EQ(bar_end_text({BarStyle::regular, false, 2, false}), "|");
  EXPECT_EQ(bar_end_text({BarStyle::section, false, 2, false}), "||");
  EXPECT_EQ(bar_end_text({BarStyle::final, false, 2, false}), "|=");
  EXPECT_EQ(bar_end_text({BarStyle::regular, true, 2, false}), ":|");
  EXPECT_EQ(bar_end_text({BarStyle::regular, true, 3, false}), ":|x3");
  EXPECT_EQ(bar_end_text({BarStyle::final, true, 3, false}), ":|x3 |=");
}

TEST(Punctuation, ASongLabelNamesItsVerse) {
  for (const char* verse : {"1", "2", "12", "shoga"}) {
    EXPECT_EQ(verse_of_label(song_label(verse)), verse);
  }
  EXPECT_EQ(song_label("1"), ">");
  EXPECT_EQ(verse_of_label(">1"), "1");
  for (const char* label : {">0", ">x", "2", "> ", ">2a"}) {
    EXPECT_EQ(verse_of_label(label), std::nullopt) << label;
  }
}

TEST(Punctuation, SongWordsEscapeWhatMeansSomething) {
  EXPECT_EQ(song_word("la"), "la");
  EXPECT_EQ(song_word("o‿i"), "o‿i");
  EXPECT_EQ(song_word("a b\u3000c\u200Bd"), "a\\ b\\\u3000c\\\u200Bd");
  EXPECT_EQ(song_word("~a~"), "\\~a~");
  EXPECT_EQ(song_word("/"), "\\/");
  EXPECT_EQ(song_word("-a-"), "-a\\-");
  EXPECT_EQ(song_word(":|"), ":\\|");
  EXPECT_EQ(song_word("\\"), "\\\\");
}

}  // namespace
}  // namespace yubifu::notation
