// Annotate, and all bytes come back: for files written in every manner.
// And changes to a text at many places.
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/encoding.h"
#include "fingering/resolve.h"
#include "musicxml/staff_score.h"
#include "musicxml/staff_text.h"
#include "musicxml/write/writer.h"
#include "musicxml/xml/container.h"
#include "musicxml/zip_archive.h"
#include "support/rounds.h"
#include "support/score_generator.h"

namespace yubifu::musicxml {
namespace {

TEST(Splice, InsertsInOrder) {
  EXPECT_EQ(changed("abc", {{3, 3, "!"}, {1, 1, "X"}, {0, 0, "<"}, {1, 1, "Y"}}), "<aXYbc!");
  EXPECT_EQ(changed("abc", {}), "abc");
}

TEST(Splice, CutsInAnyOrder) {
  EXPECT_EQ(changed("abcdef", {{4, 6, ""}, {0, 1, ""}, {1, 2, ""}}), "cd");
}

using support::count_of;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const std::vector<AnnotateOptions>& manners() {
  static const std::vector<AnnotateOptions> list{
      {Annotation::lyric, false, false},       {Annotation::lyric, true, true},
      {Annotation::lyric_above, false, false}, {Annotation::technical, false, false, -1},
      {Annotation::technical, true, true},     {Annotation::words, false, false},
      {Annotation::words, true, true, 1}};
  return list;
}

// Annotating changes the bytes, doing it again changes nothing, another manner replaces it, and
// without it the file is what it was.
void expect_all_bytes_back(const std::string& bytes) {
  SCOPED_TRACE(bytes);
  EXPECT_EQ(bare(bytes), bytes);
  for (const AnnotateOptions& options : manners()) {
    SCOPED_TRACE(annotation_name(options.kind));
    const std::string once = annotated(bytes, options);
    EXPECT_NE(once, bytes);
    EXPECT_EQ(bare(once), bytes);
    EXPECT_EQ(annotated(once, options), once);
    const AnnotateOptions& other = manners().front();
    EXPECT_EQ(annotated(once, other, {6, 0}), annotated(bytes, other, {6, 0}));
  }
}

// What notation programs hardly write, but XML allows.
constexpr const char* kOdd =
    "<?xml version='1.0'?>\r\n"
    "<!DOCTYPE score-partwise PUBLIC '-//Recordare//DTD MusicXML 3.0 Partwise//EN'\r\n"
    "  'http://www.musicxml.org/dtds/partwise.dtd' [<!-- ]> it's <note> --><?x ]> ?>]>\r\n"
    "<?look at='<note>'?>\r\n"
    "<score-partwise version = '3.0' >\r\n"
    "\t<!-- <identification/> -->\r\n"
    "\t<part-list ><score-part id='P>1'><part-name><![CDATA[</part-name><note>]]></part-name>"
    "</score-part></part-list >\r\n"
    "\t<part id='P>1'>\r\n"
    "\t\t<measure number='1'>\r\n"
    "\t\t\t<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type>"
    "</time></attributes>\r\n"
    "\t\t\t<note default-x='80'\r\n\t\t\t\tdefault-y = \"12>3\" ><!-- </note> -->\r\n"
    "\t\t\t\t<pitch><step>E</step ><octave>5</octave></pitch><duration><!--x-->1</duration>"
    "<voice>1</voice><?keep this?>\r\n"
    "\t\t\t\t<notations/>  <!-- behind --></note >\r\n"
    "<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>1</duration>"
    "<voice><![CDATA[1]]></voice><lyric number='2'><text><![CDATA[<a> & b]]></text></lyric></note>"
    "<note/>\r\n"
    "\t\t\t<note><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration></note>"
    "<!-- last -->\r"
    "\t\t\t<note><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration>\n"
    "</note>&#32;\r\n"
    "\t\t</measure>\r\n"
    "\t</part>\r\n"
    "</score-partwise>\r\n"
    "<!-- the end -->";

TEST(AnnotatedBytes, ComeBackFromXmlOfEveryManner) {
  expect_all_bytes_back(kOdd);
}

TEST(AnnotatedBytes, ComeBackWhereTagsStandWithoutSpace) {
  expect_all_bytes_back(one_bar(note("E5", 4) + note("F#5", 4)));
}

// --- Everything that the header can have

std::string headed(const std::string& header) {
  return "<score-partwise>" + header + "<part id=\"P1\">" +
         measure("1", attributes(1, "4/4") + note("E5", 4)) + "</part></score-partwise>";
}

TEST(AnnotatedBytes, ComeBackFromEveryHeader) {
  const std::string other = "<miscellaneous-field name=\"mood\">calm</miscellaneous-field>";
  for (const std::string& header : {
           std::string(),
           std::string("\n  "),
           std::string("\n  <work>\n    <work-title>x</work-title>\n  </work>\n  "),
           std::string("<movement-number/><movement-title>x</movement-title><!-- y --><credit/>"),
           std::string("<identification/>"),
           std::string("\n  <identification />\n  <!-- a comment -->"),
           std::string("<identification></identification>"),
           std::string("<identification>\n</identification>"),
           std::string("\n  <identification>\n    <source>x</source><!-- y -->\n  "
                       "</identification>\n"),
           std::string("<identification><miscellaneous/></identification>"),
           std::string("<identification><source>x</source>\n <miscellaneous />\n</identification>"),
           std::string("<identification><miscellaneous></miscellaneous></identification>"),
           std::string("<identification>\n <miscellaneous>\n </miscellaneous>\n</identification>"),
           "<identification><miscellaneous>" + other + "</miscellaneous></identification>",
           "<identification>\n <miscellaneous>\n  " + other + "\n  " + other +
               "\n </miscellaneous>\n</identification>\n",
           "<identification><miscellaneous><!-- x -->" + other +
               "<!-- y --></miscellaneous></identification>",
       }) {
    expect_all_bytes_back(headed(header));
  }
}

TEST(AnnotatedBytes, EmptyElementsStandInAComment) {
  EXPECT_THAT(annotated(headed("<identification><miscellaneous/></identification>")),
              HasSubstr("</miscellaneous><!--<miscellaneous/>--></identification>"));
  EXPECT_THAT(annotated(headed(" <identification/>")),
              HasSubstr("</identification><!-- <identification/>-->"));
}

// --- Encodings

std::string in(std::string_view encoding, std::string_view text) {
  const base::Conversion conversion = base::from_utf8(text, encoding);
  EXPECT_FALSE(conversion.stopped_at) << encoding;
  return conversion.text;
}

std::string titled(std::string_view declaration, std::string_view title) {
  return std::string(declaration) +
         headed("<work><work-title>" + std::string(title) + "</work-title></work>");
}

TEST(AnnotatedBytes, StayInTheirEncoding) {
  const std::string japanese = titled("<?xml version=\"1.0\"?>\r\n", "渡し場");
  expect_all_bytes_back("\xEF\xBB\xBF" + japanese);
  expect_all_bytes_back(in("UTF-16LE", japanese));
  expect_all_bytes_back(in("UTF-16BE", japanese));
  expect_all_bytes_back("\xFF\xFE" + in("UTF-16LE", japanese));
  expect_all_bytes_back("\xFE\xFF" + in("UTF-16BE", japanese));
  expect_all_bytes_back(
      in("Shift_JIS", titled("<?xml version='1.0' encoding='Shift_JIS'?>", "渡し場")));
  expect_all_bytes_back(in("EUC-JP", titled("<?xml version='1.0' encoding='EUC-JP'?>", "渡し場")));
  expect_all_bytes_back(
      in("ISO-2022-JP", titled("<?xml version='1.0' encoding='ISO-2022-JP'?>", "渡し場")));
  expect_all_bytes_back(
      in("ISO-8859-1", titled("<?xml version='1.0' encoding='ISO-8859-1'?>", "Été")));
  expect_all_bytes_back(titled("<?xml version='1.0' encoding='US-ASCII'?>", "Lanterns"));
}

TEST(AnnotatedBytes, SpellWhatTheEncodingLacks) {
  // 四 is U+56DB.
  EXPECT_THAT(
      annotated(in("ISO-8859-1", titled("<?xml version='1.0' encoding='ISO-8859-1'?>", "Été"))),
      HasSubstr("<text>&#x56DB;</text>"));
  EXPECT_THAT(annotated(titled("<?xml version='1.0' encoding='Shift_JIS'?>", "x")),
              HasSubstr("<text>" + in("Shift_JIS", "四") + "</text>"));
}

// An escape sequence to ASCII in ASCII (ISO/IEC 2022) changes nothing and would not be written.
TEST(AnnotatedBytes, AreRefusedWhereTheyCannotBeWrittenBack) {
  const std::string text =
      titled("<?xml version='1.0' encoding='ISO-2022-JP'?>", "x\x1B(B\x1B$B\x45\x4F\x1B(By");
  EXPECT_THAT(annotated_with_findings(text).rules, ElementsAre("encoding-not-kept"));
}

// --- Containers

TEST(AnnotatedBytes, OtherEntriesOfAContainerStay) {
  const std::string score = "\xFF\xFE" + in("UTF-16LE", titled("", "渡し場"));
  const std::string picture("\x89PNG\0\r\n and so on", 16);
  const std::string packed = zip_archive({{"mimetype", "application/vnd.recordare.musicxml"},
                                          container_naming({"scores/tune.xml"}),
                                          {"pictures/cover.png", picture, 8},
                                          {"scores/tune.xml", score, 8},
                                          {"readme.txt", "hello"}});
  for (const AnnotateOptions& options : manners()) {
    const std::string once = annotated(packed, options);
    EXPECT_EQ(*score_in_container(once).value, annotated(score, options));
    EXPECT_THAT(once, HasSubstr(picture));
    EXPECT_THAT(once, HasSubstr("readme.txt"));
    EXPECT_LT(once.find("mimetype"), once.find("META-INF"));
    EXPECT_EQ(annotated(once, options), once);
    EXPECT_EQ(*score_in_container(bare(once)).value, score);
  }
  EXPECT_EQ(bare(packed), packed);
}

TEST(AnnotatedBytes, ContainersWithoutAListAreAnnotatedToo) {
  const std::string score = headed("");
  const std::string packed = zip_archive({{"readme.txt", "hello"}, {"tune.xml", score}});
  const Annotated once = annotated_with_findings(packed);
  EXPECT_THAT(once.rules, ElementsAre("container-without-rootfile"));
  EXPECT_EQ(*score_in_container(once.bytes).value, annotated(score));
}

TEST(AnnotatedBytes, BrokenFilesAreRefusedAsTheReaderRefusesThem) {
  EXPECT_THAT(annotated_with_findings(std::string("PK\x03\x04 and no more")).rules,
              ElementsAre("broken-container"));
  EXPECT_THAT(annotated_with_findings("<score-partwise>\xFF").rules,
              ElementsAre("unreadable-text"));
  const std::string cut = annotated(headed(""));
  EXPECT_THAT(annotated_with_findings(cut.substr(0, cut.size() - 10)).rules,
              ElementsAre("xml-syntax"));
}

// --- Files that another program has changed

TEST(AnnotatedBytes, WhatIsStillMarkedGoesFromAChangedFile) {
  const std::string once = annotated(headed(""));
  std::string changed = once;
  changed.insert(changed.find("</miscellaneous>"),
                 "<miscellaneous-field name=\"mood\">calm</miscellaneous-field>");
  const std::string left = bare(changed);
  EXPECT_EQ(count_of(left, "yubifu"), 0u);
  EXPECT_EQ(count_of(left, "name=\"fingering\""), 0u);
  EXPECT_THAT(left,
              HasSubstr("<identification><miscellaneous><miscellaneous-field name=\"mood\">"));
}

// --- Many scores

// A random score on a staff without fingering; nothing where a bar is too fine to be written. A
// sign that the flute does not have gets any pitch.
std::optional<std::string> random_staff(std::uint64_t seed) {
  auto resolved = fingering::resolve(support::random_score(seed), fingering::ResolveOptions{});
  model::Score score = std::move(resolved.value.value().score);
  for (model::Note& note : score.notes) {
    if (!note.tone.pitch) note.tone.pitch = model::Pitch{79, 0};
    note.grace_before.clear();
    note.grace_after.clear();
  }
  MusicXmlWriteOptions write;
  write.annotation = Annotation::none;
  return write_musicxml(score, write).value;
}

TEST(AnnotatedBytes, ComeBackFromRandomScores) {
  const std::uint64_t kScores = support::rounds(60);
  std::size_t annotated_files = 0;
  for (std::uint64_t seed = 1; seed <= kScores; ++seed) {
    const std::optional<std::string> text = random_staff(seed);
    if (!text) continue;
    SCOPED_TRACE(seed);
    const AnnotateOptions& options = manners()[seed % manners().size()];
    const std::string once = annotated(*text, options);
    EXPECT_EQ(bare(once), *text);
    EXPECT_EQ(annotated(once, options), once);
    ++annotated_files;
  }
  EXPECT_GT(annotated_files, kScores / 2);
}

}  // namespace
}  // namespace yubifu::musicxml
