// Tags with their places, and changes to a text at many places.
#include "musicxml/splice.h"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/xml_tags.h"

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// The tags as they stand, with what they are: "+" start, "-" end, "." empty.
std::vector<std::string> tags(std::string_view text) {
  std::vector<std::string> list;
  TagScanner scanner(text);
  while (const auto tag = scanner.next()) {
    const char kind = tag->kind == TagKind::start ? '+' : tag->kind == TagKind::end ? '-' : '.';
    list.push_back(kind + std::string(tag->name) + ' ' +
                   std::string(text.substr(tag->begin, tag->end - tag->begin)));
  }
  return list;
}

TEST(Tags, HaveNamesAndPlaces) {
  EXPECT_THAT(tags("<a ><b-c x='1'/>text</a\n>"),
              ElementsAre("+a <a >", ".b-c <b-c x='1'/>", "-a </a\n>"));
}

TEST(Tags, MayHoldAnythingInQuotes) {
  EXPECT_THAT(tags("<a x='/>' y=\"<b> it's\"><c z='\"/>\"'/></a>"),
              ElementsAre("+a <a x='/>' y=\"<b> it's\">", ".c <c z='\"/>\"'/>", "-a </a>"));
}

TEST(Tags, AreNotLookedForInOtherMarkup) {
  EXPECT_THAT(tags("<?xml version='1.0'?><!DOCTYPE a [<!-- ]> <x> it's --><!ELEMENT a (b)>]>"
                   "<!-- <b> --><a><![CDATA[<c>]]><?d <e>?></a>"),
              ElementsAre("+a <a>", "-a </a>"));
}

TEST(Tags, OfABrokenTextEnd) {
  EXPECT_THAT(tags("<a><!-- "), ElementsAre("+a <a>"));
  EXPECT_THAT(tags("<a><![CDATA["), ElementsAre("+a <a>"));
  EXPECT_THAT(tags("<!DOCTYPE a ['"), IsEmpty());
  EXPECT_THAT(tags("<a x='"), ElementsAre("+a <a x='"));
  EXPECT_THAT(tags("<"), ElementsAre("+ <"));
}

TEST(Tags, HaveAttributes) {
  constexpr std::string_view kTag = "<lyric  number='2'\r\n name = \"a='b' > c\"\tx=''/>";
  EXPECT_EQ(attribute_in(kTag, "number"), "2");
  EXPECT_EQ(attribute_in(kTag, "name"), "a='b' > c");
  EXPECT_EQ(attribute_in(kTag, "x"), "");
  EXPECT_EQ(attribute_in(kTag, "a"), "");
  EXPECT_EQ(attribute_in("<lyric>", "number"), "");
  EXPECT_EQ(attribute_in("<lyric number>", "number"), "");
  EXPECT_EQ(attribute_in("<lyric number='", "number"), "");
}

TEST(Space, IsFoundBeforeAndBehind) {
  EXPECT_EQ(start_of_space("a \t\r\nb", 5), 1u);
  EXPECT_EQ(start_of_space("ab", 1), 1u);
  EXPECT_EQ(start_of_space("  b", 2), 0u);
  EXPECT_EQ(end_of_space("a \t\r\nb", 1), 5u);
  EXPECT_EQ(end_of_space("a  ", 1), 3u);
}

TEST(Splice, InsertsInOrder) {
  EXPECT_EQ(spliced("abc", {{3, "!"}, {1, "X"}, {0, "<"}, {1, "Y"}}), "<aXYbc!");
  EXPECT_EQ(spliced("abc", {}), "abc");
}

TEST(Splice, CutsInAnyOrder) {
  EXPECT_EQ(without("abcdef", {{4, 6}, {0, 1}, {1, 2}}), "cd");
  EXPECT_EQ(without("abc", {}), "abc");
}

}  // namespace
}  // namespace yubifu::musicxml
