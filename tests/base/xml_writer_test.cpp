#include "base/xml_writer.h"

#include <gtest/gtest.h>

namespace yubifu::base {
namespace {

TEST(XmlText, ReferencesTheSignsOfTheLanguage) {
  EXPECT_EQ(xml_escaped("<三 & \"五\">"), "&lt;三 &amp; &quot;五&quot;&gt;");
}

// XML 1.0, section 2.2: no control characters but tab and line ends, no U+FFFE and U+FFFF.
TEST(XmlText, ReplacesWhatTheLanguageCannotHold) {
  EXPECT_EQ(xml_escaped("a\x01z\x1F"), "a\uFFFDz\uFFFD");
  EXPECT_EQ(xml_escaped("\uFFFE"), "\uFFFD");
  EXPECT_EQ(xml_escaped("a\xFFz"), "a\uFFFDz");
}

// XML 1.0, section 3.3.3: without references an attribute is read back with spaces for them.
TEST(XmlText, KeepsTabsAndLineEnds) {
  EXPECT_EQ(xml_escaped("a\tb\nc\r"), "a&#9;b&#10;c&#13;");
}

TEST(XmlWriter, IndentsElementsAndClosesThem) {
  XmlWriter out;
  out.raw_line("<?xml version=\"1.0\"?>");
  out.open("tune");
  out.attribute("bars", 12);
  out.open("part");
  out.attribute("name", "\"一\"\n");
  out.close();
  out.open("song");
  out.attribute("verse", "1");
  out.close_with_text("<la> & \"lo\"\nli");
  out.number("beats", -3);
  out.empty("end");
  out.close();
  EXPECT_EQ(out.take(),
            "<?xml version=\"1.0\"?>\n"
            "<tune bars=\"12\">\n"
            "  <part name=\"&quot;一&quot;&#10;\"/>\n"
            "  <song verse=\"1\">&lt;la&gt; &amp; \"lo\"\nli</song>\n"
            "  <beats>-3</beats>\n"
            "  <end/>\n"
            "</tune>\n");
}

TEST(XmlWriter, CountsWhatItReplaces) {
  XmlWriter out;
  out.text("a", "\x01\uFFFD\xFF");
  EXPECT_EQ(out.replaced(), 2u);
  EXPECT_EQ(out.take(), "<a>\uFFFD\uFFFD\uFFFD</a>\n");
}

}  // namespace
}  // namespace yubifu::base
