// Encodings of staff files, and XML that is broken or means harm.
#include <array>
#include <string>
#include <string_view>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/encoding.h"
#include "musicxml/staff_text.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/document_text.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

using namespace std::string_literals;
using namespace std::string_view_literals;

constexpr std::string_view kTitle = "渡し場の灯";

std::string titled_file(std::string_view declaration, std::string_view title = kTitle) {
  return fmt::format(
      "{}<score-partwise><work><work-title>{}</work-title></work><part id=\"P1\">"
      "<measure number=\"1\"><note><rest/><duration>1</duration></note></measure></part>"
      "</score-partwise>\n",
      declaration, title);
}

std::string converted(std::string_view text, std::string_view encoding) {
  const base::Conversion conversion = base::from_utf8(text, encoding);
  EXPECT_FALSE(conversion.stopped_at) << encoding;
  return conversion.text;
}

// "rule: message" of each diagnostic.
std::vector<std::string> told(const base::Diagnostics& diagnostics) {
  std::vector<std::string> list;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    list.push_back(std::string(diagnostic.rule->name) + ": " + diagnostic.message);
  }
  return list;
}

std::string only_error(std::string_view bytes) {
  const base::Outcome<std::string> text = xml_text(bytes);
  EXPECT_FALSE(text.value);
  EXPECT_EQ(text.diagnostics.size(), 1u);
  EXPECT_FALSE(is_xml_text(bytes));
  return text.diagnostics.empty() ? std::string() : told(text.diagnostics).front();
}

TEST(Encodings, GiveTheSameTextPlainAndPacked) {
  const std::string text = titled_file("<?xml version=\"1.0\"?>\n");
  const std::array<std::string, 6> forms{text,
                                         "\xEF\xBB\xBF" + text,
                                         converted(text, "UTF-16LE"),
                                         converted(text, "UTF-16BE"),
                                         "\xFF\xFE" + converted(text, "UTF-16LE"),
                                         "\xFE\xFF" + converted(text, "UTF-16BE")};
  for (const std::string& form : forms) {
    const base::Outcome<std::string> plain = xml_text(form);
    EXPECT_TRUE(plain.diagnostics.empty());
    EXPECT_EQ(plain.value.value(), text);
    EXPECT_EQ(is_xml_text(form), form == text);
    const std::string container = make_container(form).value.value();
    EXPECT_FALSE(is_xml_text(container));
    const base::Outcome<std::string> packed = xml_text(container);
    EXPECT_TRUE(packed.diagnostics.empty());
    EXPECT_EQ(packed.value.value(), text);
    EXPECT_EQ(read(plain.value.value()).score.header.title, kTitle);
  }
}

TEST(Encodings, ThatAreDeclaredAreConverted) {
  for (const char* name : {"Shift_JIS", "EUC-JP", "ISO-2022-JP"}) {
    const std::string text =
        titled_file(fmt::format("<?xml version=\"1.0\" encoding=\"{}\"?>", name));
    const base::Outcome<std::string> outcome = xml_text(converted(text, name));
    EXPECT_TRUE(outcome.diagnostics.empty()) << name;
    EXPECT_EQ(outcome.value.value(), text) << name;
  }
  // The byte E9 is é in ISO 8859-1.
  const std::string latin = titled_file("<?xml version='1.0' encoding='iso-8859-1'?>", "F\xE9te");
  EXPECT_EQ(read(xml_text(latin).value.value()).score.header.title, "Féte");
}

TEST(Encodings, OfUtf32AreConverted) {
  const std::string text = titled_file("");
  EXPECT_EQ(xml_text(converted(text, "UTF-32LE")).value.value(), text);
  EXPECT_EQ(xml_text("\x00\x00\xFE\xFF"s + converted(text, "UTF-32BE")).value.value(), text);
}

TEST(Encodings, NobodyKnowsAreRefusedByName) {
  EXPECT_EQ(only_error(titled_file("<?xml version=\"1.0\" encoding=\"X-BAMBOO\"?>")),
            "unreadable-text: the declared encoding 'X-BAMBOO' is not known here");
}

TEST(Encodings, ThatDoNotFitAreRefusedWithTheByte) {
  // Byte 5 of the file is an E9 with nothing after it that UTF-8 would allow.
  const std::string bytes = "<!--\xE9--><score-partwise/>";
  const base::Outcome<std::string> text = xml_text(bytes);
  // It would need no conversion, so that the reader may come upon the byte itself.
  EXPECT_TRUE(is_xml_text(bytes));
  const auto read = read_musicxml(base::SourceText("tune", bytes), {});
  for (const base::Diagnostics& found : {text.diagnostics, read.diagnostics}) {
    EXPECT_THAT(told(found),
                testing::ElementsAre("unreadable-text: byte E9 is not part of a UTF-8 character"));
    EXPECT_EQ(found.front().where, (base::SourceRange{4, 5}));
    EXPECT_EQ(found.front().hint, text.diagnostics.front().hint);
  }
  // An odd number of bytes is no UTF-16.
  EXPECT_EQ(only_error("\xFF\xFE<\0x"sv),
            "unreadable-text: byte 5 of the file does not fit the encoding UTF-16LE");
}

TEST(Encodings, ThatLieAreReadAsUtf8WithAWarning) {
  for (const char* name : {"ISO-8859-1", "Shift_JIS", "UTF-16"}) {
    const std::string text =
        titled_file(fmt::format("<?xml version=\"1.0\" encoding=\"{}\"?>", name));
    const base::Outcome<std::string> outcome = xml_text(text);
    EXPECT_EQ(outcome.value.value(), text);
    EXPECT_FALSE(is_xml_text(text));
    EXPECT_THAT(told(outcome.diagnostics),
                testing::ElementsAre(fmt::format("declared-encoding: the file declares the "
                                                 "encoding {} but holds UTF-8, and is read as "
                                                 "UTF-8",
                                                 name)));
  }
  // Plain ASCII is right in both.
  const std::string ascii =
      titled_file("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>", "Lanterns");
  EXPECT_TRUE(xml_text(ascii).diagnostics.empty());
}

// --- Faults of XML

std::string nested(int depth) {
  std::string text;
  for (int i = 0; i < depth; ++i) text += "<a>";
  for (int i = 0; i < depth; ++i) text += "</a>";
  return text;
}

TEST(XmlFaults, AreTheOnlyErrorWithTheirPlace) {
  EXPECT_EQ(refusal(""), "1:1 xml-syntax: the text holds no XML element");
  EXPECT_EQ(refusal("\xEF\xBB\xBF"), "1:1 xml-syntax: the text holds no XML element");
  EXPECT_EQ(refusal(" \n "), "2:2 xml-syntax: the text holds no XML element");
  EXPECT_EQ(refusal("do re mi"), "1:1 xml-syntax: text stands outside the root element");
  EXPECT_EQ(refusal("<a>\n  <b></a>"), "2:6 xml-syntax: </a> stands here while <b> is open");
  EXPECT_EQ(refusal("<a/><b/>"), "1:5 xml-syntax: a second root element begins here");
  EXPECT_EQ(refusal("<a/>tail"), "1:5 xml-syntax: text stands outside the root element");
  EXPECT_EQ(refusal("<a b='1' b='2'/>"), "1:10 xml-syntax: the attribute 'b' is given twice");
  EXPECT_EQ(refusal("<a>\x01</a>"),
            "1:4 xml-syntax: the control character U+0001 is not allowed in XML");
  EXPECT_EQ(refusal("<a>&#0;</a>"), "1:4 xml-syntax: '&#0;' names no character of XML");
  EXPECT_EQ(refusal("<a>&#xD800;</a>"), "1:4 xml-syntax: '&#xD800;' names no character of XML");
  // The two code points at the end of the basic plane are no characters; the one before them is.
  EXPECT_EQ(refusal("<a>&#xFFFE;</a>"), "1:4 xml-syntax: '&#xFFFE;' names no character of XML");
  EXPECT_EQ(refusal("<a>&#65535;</a>"), "1:4 xml-syntax: '&#65535;' names no character of XML");
  EXPECT_THAT(refusal("<a>&#xFFFD;</a>"), testing::HasSubstr("not-a-staff-file"));
  EXPECT_EQ(refusal("<a>&nbsp;</a>"), "1:4 xml-syntax: '&nbsp;' names no character of XML");
  EXPECT_EQ(refusal("<a>R & B</a>"), "1:6 xml-syntax: this '&' begins no entity");
  EXPECT_EQ(refusal("<a b='&x;'/>"), "1:7 xml-syntax: '&x;' names no character of XML");
  EXPECT_EQ(refusal("<a>\xC3</a>"),
            "1:4 unreadable-text: byte C3 is not part of a UTF-8 character");
}

TEST(XmlFaults, NameTheTagThatHasNoPartner) {
  EXPECT_EQ(refusal("<score-partwise><part>"),
            "1:17 xml-syntax: the file ends while <part>, which begins here, is still open");
  EXPECT_EQ(refusal("<?xml version='1.0'?>\n<!DOCTYPE a [<!ELEMENT a ANY>]>\n<a>\n <b c='>'>\n"
                    "  <!-- </b> --><![CDATA[</b>]]><?x </b>?><c/><d>1</d>\n"),
            "4:2 xml-syntax: the file ends while <b>, which begins here, is still open");
  EXPECT_EQ(refusal("<a>\n <b c='1'>\n </b >\n"),
            "1:1 xml-syntax: the file ends while <a>, which begins here, is still open");
  EXPECT_EQ(refusal("<a><b c='1'></b><d>\n</b></d></a>"),
            "2:1 xml-syntax: </b> stands here while <d> is open");
  EXPECT_EQ(refusal("</a>"), "1:1 xml-syntax: </a> ends nothing");
  EXPECT_EQ(refusal("<a><b/>\n<part id='P"), "2:1 xml-syntax: the file ends inside this tag");
  EXPECT_EQ(refusal("<a><b/>\n<part"), "2:1 xml-syntax: the file ends inside this tag");
  EXPECT_EQ(refusal("<a><b>1</"), "1:8 xml-syntax: the file ends inside this tag");
  // A fault before the cut comes first.
  EXPECT_EQ(refusal("<a b=1>\n<part"), "1:6 xml-syntax: an attribute is malformed");
}

// A text that breaks off says so, and where: at the tag that it breaks, or at the element whose end
// is missing.
TEST(XmlFaults, EveryCutOfAFileIsRefused) {
  const std::string text = one_bar(note("D5", 8));
  const std::size_t root = text.find("<score-partwise");
  // All but the last line end.
  for (std::size_t size = 0; size + 1 < text.size(); ++size) {
    const std::string told = refusal(text.substr(0, size));
    EXPECT_NE(told.find(" xml-syntax: "), std::string::npos) << size << " " << told;
    if (size > root) {
      EXPECT_NE(told.find(" the file ends "), std::string::npos) << size << told;
    }
  }
}

TEST(HostileXml, DeclaredEntitiesAreRefused) {
  const std::string bomb =
      "<?xml version=\"1.0\"?>\n<!DOCTYPE score-partwise [\n <!ENTITY a \"ha\">\n"
      " <!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">\n <!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\">\n]>\n"
      "<score-partwise>&c;</score-partwise>";
  EXPECT_EQ(refusal(bomb), "3:2 xml-limits: entity declarations are not read");
  const std::string outside =
      "<!DOCTYPE score-partwise [<!ENTITY x SYSTEM \"file:///etc/hostname\">]>\n"
      "<score-partwise>&x;</score-partwise>";
  EXPECT_EQ(refusal(outside), "1:27 xml-limits: entity declarations are not read");
}

TEST(HostileXml, AForeignDocumentTypeIsNeverLoaded) {
  const std::string doctype =
      "<!DOCTYPE score-timewise SYSTEM \"http://nowhere.invalid/score.dtd\" [\n"
      "<!ELEMENT note ANY> <!-- > --> <!ATTLIST note x CDATA 'a>b'>\n]>\n";
  const Reading reading = read(doctype + titled_file(""));
  EXPECT_EQ(reading.score.header.title, kTitle);
}

TEST(HostileXml, DepthHasALimit) {
  EXPECT_FALSE(find_xml_fault(nested(kDeepestNesting)));
  EXPECT_EQ(refusal(nested(kDeepestNesting + 1)),
            "1:601 xml-limits: elements nest more than 200 deep");
  EXPECT_EQ(refusal(nested(1'000'000)), "1:601 xml-limits: elements nest more than 200 deep");
}

TEST(HostileXml, AttributesHaveALimit) {
  std::string text = "<a";
  for (int i = 0; i < 201; ++i) text += fmt::format(" b{}='1'", i);
  EXPECT_EQ(refusal(text + "/>"), "1:1694 xml-limits: an element has more than 200 attributes");
}

TEST(HostileXml, MarkupInsideCommentsAndCdataSaysNothing) {
  const Reading reading =
      read(one_bar("<!-- <note><pitch> & &x; -->" + note("D5", 4) + "<?app <note> ?>" +
                   note("E5", 4, "<lyric><text><![CDATA[<a> & b]]></text></lyric>")));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_EQ(verse(reading.score, "1"), "/ <a> & b");
}

TEST(WrongFiles, AreNamed) {
  EXPECT_EQ(refusal("<opus/>"),
            "1:1 not-a-staff-file: the root element is 'opus', not a score of MusicXML");
  EXPECT_EQ(refusal("<html><body/></html>"),
            "1:1 not-a-staff-file: the root element is 'html', not a score of MusicXML");
  EXPECT_EQ(refusal("<score-partwise/>"), "1:1 no-measures: the file holds no part with a bar");
  EXPECT_EQ(refusal("<score-partwise><part id='P1'/></score-partwise>"),
            "1:1 no-measures: the file holds no part with a bar");
}

}  // namespace
}  // namespace yubifu::musicxml
