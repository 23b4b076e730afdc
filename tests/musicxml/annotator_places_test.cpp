// Where annotate puts what, and that nothing else changes.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"
#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using support::count_of;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

// On size 7, where 一 is B4 (Japanese Wikipedia, 篠笛): 三 is D#5, 四 E5, 五 F#5.
constexpr const char* kSmall = R"(<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
  <identification>
    <encoding><software>a pen</software></encoding>
  </identification>
  <part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>
  <part id="P1">
    <measure number="1">
      <attributes>
        <divisions>1</divisions>
        <time><beats>4</beats><beat-type>4</beat-type></time>
      </attributes>
      <note>
        <pitch><step>E</step><octave>5</octave></pitch>
        <duration>2</duration>
        <type>half</type>
      </note>
      <note>
        <rest/>
        <duration>2</duration>
      </note>
    </measure>
  </part>
</score-partwise>
)";

std::string with(const std::string& text, const std::string& behind, const std::string& what) {
  const std::size_t at = text.find(behind);
  EXPECT_NE(at, std::string::npos) << behind;
  return std::string(text).insert(at + behind.size(), what);
}

std::string fields(const std::string& kind) {
  return "<miscellaneous><miscellaneous-field name=\"yubifu.annotated\">miscellaneous"
         "</miscellaneous-field><miscellaneous-field name=\"yubifu.fingering\">" +
         kind +
         "</miscellaneous-field><miscellaneous-field name=\"yubifu.flute\">7"
         "</miscellaneous-field></miscellaneous>";
}

std::string small_with_fields(const std::string& kind) {
  return with(kSmall, "</encoding>", "\n    " + fields(kind));
}

TEST(Annotate, AddsALyricAndFieldsAndNothingElse) {
  EXPECT_EQ(annotated(kSmall),
            with(small_with_fields("lyric"), "<type>half</type>",
                 "\n        <lyric number=\"1\" name=\"fingering\" placement=\"below\">"
                 "<syllabic>single</syllabic><text>四</text></lyric>"));
}

TEST(Annotate, AddsALyricAbove) {
  AnnotateOptions options;
  options.kind = Annotation::lyric_above;
  EXPECT_EQ(annotated(kSmall, options),
            with(small_with_fields("lyric-above"), "<type>half</type>",
                 "\n        <lyric number=\"1\" name=\"fingering\" placement=\"above\">"
                 "<syllabic>single</syllabic><text>四</text></lyric>"));
}

TEST(Annotate, AddsNotationsOfItsOwn) {
  AnnotateOptions options;
  options.kind = Annotation::technical;
  EXPECT_EQ(annotated(kSmall, options),
            with(small_with_fields("technical"), "<type>half</type>",
                 "\n        <notations print-object=\"yes\"><technical><fingering>四</fingering>"
                 "</technical></notations>"));
}

TEST(Annotate, AddsWordsBeforeTheNote) {
  AnnotateOptions options;
  options.kind = Annotation::words;
  EXPECT_EQ(annotated(kSmall, options),
            with(small_with_fields("words"), "</attributes>",
                 "\n      <direction directive=\"no\" placement=\"below\"><direction-type>"
                 "<words>四</words></direction-type></direction>"));
}

// 四 has the foot hole as it likes and holes 2 to 4 from the foot open (common practice).
TEST(Annotate, AddsStrokesAndHoles) {
  AnnotateOptions options;
  options.strokes = true;
  options.holes = true;
  const std::string text = annotated(kSmall, options);
  EXPECT_THAT(text, HasSubstr("<text>四／</text>"));
  const std::string closed = "<hole><hole-closed>yes</hole-closed></hole>";
  const std::string open = "<hole><hole-closed>no</hole-closed></hole>";
  EXPECT_THAT(text, HasSubstr("<type>half</type>\n        <notations print-object=\"yes\">"
                              "<technical>" +
                              closed + closed + closed + open + open + open + closed +
                              "</technical></notations>\n        <lyric"));
}

std::string lyrics_only(const std::string& text) {
  std::string found;
  for (std::size_t at = text.find("name=\"fingering\""); at != std::string::npos;
       at = text.find("name=\"fingering\"", at + 1)) {
    const std::size_t begin = text.find("<text>", at) + 6;
    found += text.substr(begin, text.find('<', begin) - begin) + ' ';
  }
  return found;
}

TEST(Annotate, LeavesRestsGraceNotesCueNotesAndTiesAlone) {
  const std::string tie_start = "<tie type=\"start\"/>";
  const std::string tie_stop = "<tie type=\"stop\"/>";
  const std::string text =
      one_bar(grace("D#5") + note("E5", 2, tie_start) + note("E5", 2, tie_stop) + rest(1) +
              note_with("<cue/>", "F#5", 1) + note("F#5", 2));
  EXPECT_EQ(lyrics_only(annotated(text)), "四 五 ");
}

TEST(Annotate, PutsTheHighestOfAChordOnItsFirstNote) {
  const std::string first = note("E5", 8);
  const std::string text = one_bar(first + note_with("<chord/>", "F#5", 8));
  for (const Annotation kind : {Annotation::lyric, Annotation::technical, Annotation::words}) {
    AnnotateOptions options;
    options.kind = kind;
    const std::string result = annotated(text, options);
    EXPECT_EQ(count_of(result, "五"), 1u);
    EXPECT_LT(result.find("五"), result.find("<chord/>"));
    EXPECT_EQ(bare(result), text);
  }
}

TEST(Annotate, TakesTheVerseAfterTheLastOfThePart) {
  const std::string sung =
      "<part id=\"P1\">" +
      measure("1", attributes(1, "4/4") + note("E5", 2, lyric("1", "single", "ka")) +
                       note("E5", 2, lyric("3", "single", "wa"))) +
      "</part>";
  const std::string choir =
      "<part id=\"P2\">" +
      measure("1", attributes(1, "4/4") + note("E5", 4, lyric("7", "single", "ka"))) + "</part>";
  EXPECT_THAT(annotated(document(sung + choir)), HasSubstr("<lyric number=\"4\" name=\"fing"));
}

TEST(Annotate, TakesAVerseOfItsOwnBesideNumbersInWords) {
  const std::string text =
      one_bar(note("E5", 4, lyric("part1verse1", "single", "ka")) +
              note("E5", 4, lyric("part1verse2", "single", "ki") + lyric("", "single", "ku")));
  EXPECT_THAT(annotated(text), HasSubstr("<lyric number=\"4\" name=\"fingering\""));
}

TEST(Annotate, PutsLyricsBehindLyricsAndBeforePlay) {
  const std::string play = "<play><ipa>u</ipa></play>";
  const std::string text = one_bar(
      note("E5", 8, "<notations><fermata/></notations>" + lyric("1", "single", "ka") + play));
  AnnotateOptions options;
  options.holes = true;
  const std::string result = annotated(text, options);
  EXPECT_LT(result.find("<fermata/>"), result.find("<technical>"));
  EXPECT_LT(result.find("<technical>"), result.find(">ka<"));
  EXPECT_LT(result.find(">ka<"), result.find("name=\"fingering\""));
  EXPECT_LT(result.find("name=\"fingering\""), result.find("<play>"));
  EXPECT_EQ(bare(result), text);
}

TEST(Annotate, NamesTheStaffOfTheNoteBesideWords) {
  AnnotateOptions options;
  options.kind = Annotation::words;
  MusicXmlReadOptions reading;
  reading.staff_number = 2;
  const std::string text =
      one_bar(note("E5", 8, "<staff>1</staff>") + "<backup><duration>8</duration></backup>" +
              note("F#5", 8, "<voice>2</voice><staff> 2 </staff>"));
  const std::string result = annotated(text, options, {7, 0}, reading);
  EXPECT_THAT(result, HasSubstr("<words>五</words></direction-type><staff>2</staff></direction>"));
  EXPECT_THAT(result, Not(HasSubstr("四")));
}

TEST(Annotate, MarksTheVoiceThatIsAskedFor) {
  MusicXmlReadOptions reading;
  reading.voice = "2";
  const std::string text =
      one_bar(note("E5", 4, "<voice>1</voice>") + note("E5", 4, "<voice>1</voice>") +
              "<backup><duration>8</duration></backup>" + note("F#5", 8, "<voice>2</voice>"));
  EXPECT_EQ(lyrics_only(annotated(text)), "四 四 ");
  EXPECT_EQ(lyrics_only(annotated(text, {}, {7, 0}, reading)), "五 ");
}

TEST(Annotate, TellsGapsByTheirPitch) {
  EXPECT_EQ(lyrics_only(annotated(one_bar(note("C4", 8)))), "?C4 ");
}

TEST(Annotate, TakesATimewiseScore) {
  const std::string text = "<score-timewise><measure number=\"1\"><part id=\"P1\">" +
                           attributes(1, "4/4") + note("E5", 4, lyric("1", "single", "ka")) +
                           "</part></measure><measure number=\"2\">" + "<part id=\"P1\">" +
                           note("F#5", 4) + "</part></measure></score-timewise>";
  const std::string result = annotated(text);
  EXPECT_EQ(lyrics_only(result), "四 五 ");
  EXPECT_EQ(count_of(result, "<lyric number=\"2\""), 2u);
  EXPECT_EQ(bare(result), text);
}

TEST(Annotate, SaysTheTuningWhereTheScoreHasOne) {
  const std::string text = one_bar(note("E5", 8));
  const base::Outcome<BareFile> file = open_bare(text);
  model::Score score = read(text).score;
  score.header.tuning_hz = 442;
  score.flutes = {{0, model::FluteSize{7, 0}, "7", {71, 0}, 442}};
  const base::Outcome<std::string> result = annotate(file.value.value(), score, {});
  EXPECT_THAT(*result.value,
              HasSubstr("<miscellaneous-field name=\"yubifu.tuning\">442</miscellaneous-field>"));
  EXPECT_EQ(bare(*result.value), text);
}

TEST(Annotate, RemembersTheFlute) {
  for (const std::string declaration : {"", "<?xml version='1.0' encoding='ISO-8859-1'?>"}) {
    const std::string text = declaration + "<score-partwise><part id=\"P1\">" +
                             measure("1", attributes(1, "4/4") + note("E5", 4)) +
                             "</part></score-partwise>";
    const base::Outcome<BareFile> file = open_bare(text);
    EXPECT_FALSE(file.value->was_annotated);
    EXPECT_FALSE(file.value->flute);
    model::Score score = read(text).score;
    const model::FluteName flute = model::FlutePath{"笛 & more/<one>.json"};
    score.header.flute = flute;
    score.flutes = {{0, flute, "one", {71, 0}, 440}};
    const base::Outcome<std::string> result = annotate(file.value.value(), score, {});
    const base::Outcome<BareFile> again = open_bare(result.value.value());
    EXPECT_TRUE(again.value->was_annotated);
    EXPECT_EQ(again.value->flute, flute);
    EXPECT_EQ(again.value->document.text, text);
  }
}

// --- Fingerings that are there already

TEST(Annotate, RefusesWhatSomethingElseHasFingered) {
  const std::string named =
      one_bar(note("E5", 8, "<lyric name=\"fingering\"><text>x</text></lyric>"));
  EXPECT_THAT(annotated_with_findings(named).rules, ElementsAre("already-fingered"));
  EXPECT_EQ(annotated_with_findings(named).bytes, "");
  const std::string technical =
      one_bar(note("E5", 8,
                   "<notations print-object=\"yes\"><technical><fingering>2</fingering></technical>"
                   "</notations>"));
  EXPECT_THAT(annotated_with_findings(technical).rules, ElementsAre("already-fingered"));
  const std::string exported =
      "<score-partwise><identification><miscellaneous><miscellaneous-field name=\"yubifu."
      "fingering\">words</miscellaneous-field></miscellaneous></identification><part id=\"P1\">" +
      measure("1", attributes(1, "4/4") + note("E5", 4)) + "</part></score-partwise>";
  EXPECT_THAT(annotated_with_findings(exported).rules, ElementsAre("already-fingered"));
}

TEST(Annotate, LeavesOtherFingeringsAlone) {
  const std::string text = one_bar(
      "<direction placement=\"below\"><direction-type><words>A</words></direction-type>"
      "</direction>" +
      note("E5", 8, "<notations><technical><fingering>2</fingering></technical></notations>"));
  for (const Annotation kind : {Annotation::lyric, Annotation::technical, Annotation::words}) {
    AnnotateOptions options;
    options.kind = kind;
    EXPECT_EQ(bare(annotated(text, options)), text);
  }
}

}  // namespace
}  // namespace yubifu::musicxml
