#include <gtest/gtest.h>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

TEST(XmlText, ReferencesTheSignsOfTheLanguage) {
  EXPECT_EQ(xml_escaped("<三 & \"五\">"), "&lt;三 &amp; &quot;五&quot;&gt;");
}

// XML 1.0, section 2.2: no control characters but tab and line ends, no U+FFFE and U+FFFF.
TEST(XmlText, ReplacesWhatTheLanguageCannotHold) {
  EXPECT_EQ(xml_escaped("a\x01\tb\n\x1F"), "a\uFFFD\tb\n\uFFFD");
  EXPECT_EQ(xml_escaped("\uFFFE"), "\uFFFD");
  EXPECT_EQ(xml_escaped("a\xFFz"), "a\uFFFDz");
}

}  // namespace
}  // namespace yubifu::base
