// Tags of an XML text with their places, and faults in reading order.
#include "musicxml/xml/xml_scanner.h"

#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// The tags as they stand, with what they are: "+" start, "-" end, "." empty.
std::vector<std::string> tags(std::string_view text) {
  std::vector<std::string> list;
  XmlScanner scanner(text);
  while (const Tag* tag = scanner.next()) {
    const char kind = tag->kind == TagKind::start ? '+' : tag->kind == TagKind::end ? '-' : '.';
    list.push_back(kind + std::string(tag->name) + ' ' + std::string(tag->text));
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

TEST(Tags, EndAtTheFirstFault) {
  EXPECT_THAT(tags("<a><!-- <b/>"), ElementsAre("+a <a>"));
  EXPECT_THAT(tags("<a><![CDATA["), ElementsAre("+a <a>"));
  EXPECT_THAT(tags("<!DOCTYPE a ['"), IsEmpty());
  EXPECT_THAT(tags("<a><b x='"), ElementsAre("+a <a>"));
  EXPECT_THAT(tags("<a><b></a></b>"), ElementsAre("+a <a>", "+b <b>"));
  EXPECT_THAT(tags("<a/><b/>"), ElementsAre(".a <a/>"));
  EXPECT_THAT(tags("<"), IsEmpty());
}

TEST(Tags, StandInTheElementsAround) {
  XmlScanner scanner("<a><b><c/></b></a>");
  std::vector<std::string> list;
  while (const Tag* tag = scanner.next()) {
    std::string path;
    for (const Tag& around : scanner.around()) path += std::string(around.name) + '/';
    list.push_back(path + std::string(tag->name));
    if (tag->kind == TagKind::end) {
      EXPECT_EQ(scanner.opening().text, '<' + std::string(tag->name) + '>');
    }
  }
  EXPECT_THAT(list, ElementsAre("a", "a/b", "a/b/c", "a/b", "a"));
  EXPECT_FALSE(scanner.fault());
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

// "offset: message".
std::string fault(std::string_view text) {
  const auto found = find_xml_fault(text);
  return found ? std::to_string(found->offset) + ": " + found->message : std::string();
}

TEST(Faults, OfMarkupHaveTheirPlace) {
  EXPECT_EQ(fault("<a>1 < 2</a>"), "5: a start tag is malformed");
  EXPECT_EQ(fault("<a><b <c/></a>"), "6: a start tag is malformed");
  EXPECT_EQ(fault("<a><b/ ></a>"), "5: a start tag is malformed");
  EXPECT_EQ(fault("<a><b c></b></a>"), "7: an attribute is malformed");
  EXPECT_EQ(fault("<a><b c='1></b></a>"), "8: an attribute is malformed");
  EXPECT_EQ(fault("<a b='1'c='2'/>"), "8: a start tag is malformed");
  EXPECT_EQ(fault("<a></a b>"), "3: an end tag is malformed");
  EXPECT_EQ(fault("<a><!-- ></a>"), "3: a comment is not closed");
  EXPECT_EQ(fault("<a><![CDATA[ ></a>"), "3: a CDATA section is not closed");
  EXPECT_EQ(fault("<a><?b ></a>"), "3: a processing instruction is not closed");
  EXPECT_EQ(fault("<!DOCTYPE a [<!ELEMENT b '>'> <a/>"),
            "0: the document type declaration is not closed");
  EXPECT_EQ(fault("<a><!DOC></a>"), "3: the text is not well-formed XML");
  EXPECT_EQ(fault("<?xml version='1.0'?>\n<!-- no more -->"), "38: the text holds no XML element");
}

// A wrong end tag makes what follows look like a second root.
TEST(Faults, ComeInReadingOrder) {
  EXPECT_EQ(fault("<a></b></a><c/>"), "3: </b> stands here while <a> is open");
  EXPECT_EQ(fault("<a>&x;</b>"), "3: '&x;' names no character of XML");
  EXPECT_EQ(fault("<a b='1' b='2'></c>"), "9: the attribute 'b' is given twice");
}

TEST(Faults, OfCharactersComeBeforeAllOthers) {
  EXPECT_EQ(fault("<a></b>\x01"), "7: the control character U+0001 is not allowed in XML");
  EXPECT_EQ(fault("<a></b>\xFF"), "7: byte FF is not part of a UTF-8 character");
}

}  // namespace
}  // namespace yubifu::musicxml
