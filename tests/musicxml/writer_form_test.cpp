// Directions, bars and the header as they stand in the file.
#include <string>
#include <string_view>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using support::compact;
using support::count_of;
using support::fingered_score;
using testing::HasSubstr;

void add(model::Score& score, model::Rational onset, model::DirectionValue value,
         std::size_t measure = 0) {
  model::Direction direction;
  direction.measure = measure;
  direction.onset = onset;
  direction.value = std::move(value);
  score.directions.push_back(direction);
}

TEST(Tempo, IsAMetronomeWithItsSound) {
  model::Score score = fingered_score("三 四 五 六");
  score.header.tempo = model::Tempo{60, model::Rational(3, 2)};
  EXPECT_THAT(compact(score), HasSubstr("<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/>"
                                        "<per-minute>60</per-minute></metronome></direction-type>"
                                        "<sound tempo=\"90\"/></direction>"));
}

TEST(Tempo, WithoutANoteForItsUnitIsToldBeside) {
  model::Score score = fingered_score("三 四 五 六");
  add(score, 2, model::TempoChange{{48, model::Rational(5, 2)}});
  EXPECT_THAT(compact(score),
              HasSubstr("<beat-unit>quarter</beat-unit><per-minute>120</per-minute></metronome>"
                        "</direction-type><direction-type><other-direction print-object=\"no\">"
                        "yubifu:tempo 5/2 48</other-direction></direction-type>"
                        "<sound tempo=\"120\"/>"));
}

TEST(Directions, AreTheirElements) {
  model::Score score = fingered_score("三 四 五 六");
  add(score, 0, model::SectionStart{"A & B"});
  add(score, 1, model::TextDirection{"slowly"});
  add(score, 2, model::Dynamic{"mf"});
  add(score, 2, model::Dynamic{"pfz"});
  add(score, 3, model::TextDirection{"rit."});
  const std::string text = compact(score);
  EXPECT_THAT(text, HasSubstr("<rehearsal>A &amp; B</rehearsal>"));
  EXPECT_THAT(text, HasSubstr("<direction placement=\"above\"><direction-type><words>slowly</words>"
                              "</direction-type></direction>"));
  EXPECT_THAT(text, HasSubstr("<dynamics><mf/></dynamics>"));
  EXPECT_THAT(text, HasSubstr("<dynamics><other-dynamics>pfz</other-dynamics></dynamics>"));
  EXPECT_THAT(text, HasSubstr("yubifu:text rit.<"));
}

TEST(Directions, PlayTheWordsOfTempo) {
  model::Score score = fingered_score("三 四 五 六");
  score.header.tempo = model::Tempo{80, 1};
  add(score, 1, Cue::rit);
  add(score, 2, Cue::a_tempo);
  add(score, 3, Cue::accel);
  const std::string text = compact(score);
  EXPECT_THAT(text,
              HasSubstr("yubifu:rit</other-direction></direction-type><sound tempo=\"60\"/>"));
  EXPECT_THAT(text, HasSubstr("yubifu:a-tempo</other-direction></direction-type>"
                              "<sound tempo=\"80\"/>"));
  EXPECT_THAT(text, HasSubstr("<words>accel.</words>"));
}

TEST(Directions, InsideANoteStandBeforeItWithAnOffset) {
  model::Score score = support::staff_score({4, 4}, "1/2 3 1/2");
  add(score, 2, model::TextDirection{"soft"});
  EXPECT_THAT(compact(score),
              HasSubstr("<words>soft</words></direction-type><offset sound=\"yes\">3</offset>"));
}

TEST(Jumps, HaveTheirSounds) {
  model::Score score = support::staff_score({4, 4}, "4 4");
  add(score, 0, Cue::segno);
  add(score, 4, Cue::to_coda);
  add(score, 0, Cue::coda, 1);
  add(score, 4, Cue::fine, 1);
  add(score, 4, Cue::dal_segno, 1);
  add(score, 4, Cue::da_capo, 1);
  add(score, 4, Cue::until_cue, 1);
  const std::string text = compact(score);
  for (const char* sound :
       {"<segno/></direction-type><sound segno=\"segno\"/>",
        "<coda/></direction-type><sound coda=\"coda\"/>",
        "<words>To Coda</words></direction-type><sound tocoda=\"coda\"/>",
        "<words>Fine</words></direction-type><sound fine=\"yes\"/>",
        "<words>D.S.</words></direction-type><sound dalsegno=\"segno\"/>",
        "<words>D.C.</words></direction-type><sound dacapo=\"yes\"/>", "yubifu:until-cue"}) {
    EXPECT_THAT(text, HasSubstr(sound));
  }
}

TEST(BarLines, TellRepeatsEndingsAndSections) {
  model::Score score = support::staff_score({4, 4}, "4 4 4 4 4");
  score.measures[0].repeat_start = true;
  score.measures[1].ending = {1, 3};
  score.measures[1].repeat_end = true;
  score.measures[1].times = 4;
  score.measures[2].ending = {2};
  score.measures[3].right = model::BarStyle::section;
  score.measures[4].right = model::BarStyle::final;
  const std::string text = compact(score);
  EXPECT_THAT(text, HasSubstr("<barline location=\"left\"><bar-style>heavy-light</bar-style>"
                              "<repeat direction=\"forward\"/></barline>"));
  EXPECT_THAT(text, HasSubstr("<ending number=\"1,3\" type=\"start\"/>"));
  EXPECT_THAT(text, HasSubstr("<bar-style>light-heavy</bar-style>"
                              "<ending number=\"1,3\" type=\"stop\"/>"
                              "<repeat direction=\"backward\" times=\"4\"/>"));
  EXPECT_THAT(text, HasSubstr("<ending number=\"2\" type=\"discontinue\"/>"));
  EXPECT_THAT(text, HasSubstr("<bar-style>light-light</bar-style>"));
  EXPECT_THAT(text, HasSubstr("<bar-style>light-heavy</bar-style></barline></measure></part>"));
}

TEST(BarLines, BesideARepeatAreToldByOurOwnText) {
  model::Score score = support::staff_score({4, 4}, "4");
  score.measures[0].repeat_end = true;
  score.measures[0].right = model::BarStyle::final;
  EXPECT_THAT(compact(score), HasSubstr("yubifu:bar final"));
}

TEST(Bars, ThatDoNotCountAreImplicit) {
  model::Score score = support::staff_score({4, 4}, "1 r3 4 4");
  score.measures[0].length = 1;
  score.measures[2].break_before = model::LineBreak::line;
  model::number_measures(score);
  const std::string text = compact(score);
  EXPECT_THAT(text, HasSubstr("<measure number=\"0\" implicit=\"yes\">"));
  EXPECT_THAT(text, HasSubstr("<measure number=\"1\">"));
  EXPECT_THAT(text, HasSubstr("<measure number=\"2\"><print new-system=\"yes\"/>"));
}

TEST(Bars, TellBeatsAndIrregularity) {
  model::Score score = support::staff_score({4, 4}, "4 4 4");
  score.measures[1].beat = 2;
  score.measures[2].beat = 2;
  score.measures[2].irregular = true;
  const std::string text = compact(score);
  EXPECT_EQ(count_of(text, "yubifu:beat 1/2<"), 1u);
  EXPECT_EQ(count_of(text, "yubifu:irregular<"), 1u);
}

TEST(Bars, OfRestAloneHaveOneRest) {
  EXPECT_THAT(compact(support::staff_score({3, 4}, "3 r3")),
              HasSubstr("<note><rest measure=\"yes\"/><duration>3</duration><voice>1</voice>"
                        "</note></measure>"));
}

TEST(Meters, AreWrittenWhereTheyChange) {
  model::Score score = support::staff_score({4, 4}, "4 3");
  score.measures[1].meter = {3, 4};
  score.measures[1].length = 3;
  const std::string text = compact(score);
  EXPECT_EQ(count_of(text, "<time><beats>4</beats><beat-type>4</beat-type></time>"), 1u);
  EXPECT_EQ(count_of(text, "<time><beats>3</beats><beat-type>4</beat-type></time>"), 1u);
}

TEST(Meters, MayBeFree) {
  model::Score score = support::staff_score({4, 4}, "4");
  score.header.meter = model::Meter::free_time();
  score.measures[0].meter = model::Meter::free_time();
  EXPECT_THAT(compact(score), HasSubstr("<time print-object=\"no\"><senza-misura/></time>"));
}

TEST(Header, IsElementsAndFields) {
  model::Score score = fingered_score("三 四 五 六");
  score.header.title = "Tide <1>";
  score.header.subtitle = "second part";
  score.header.composer = "A";
  score.header.lyricist = "B";
  score.header.source = "C";
  score.header.rights = "D";
  score.header.flute = model::FluteSize{8, 15};
  score.header.tuning_hz = 442.5;
  score.header.beat = 2;
  score.header.zero = model::ZeroSign::tube;
  score.header.staff = model::StaffMode::in_c;
  score.header.unknown = {{"troupe", "E"}};
  const std::string text = compact(score);
  for (const char* part :
       {"<work><work-title>Tide &lt;1&gt;</work-title></work>",
        "<creator type=\"composer\">A</creator><creator type=\"lyricist\">B</creator>"
        "<rights>D</rights>",
        "<source>C</source>", "name=\"yubifu.version\">1<", "name=\"yubifu.subtitle\">second part<",
        "name=\"yubifu.flute\">8+15c<", "name=\"yubifu.tuning\">442.5<",
        "name=\"yubifu.beat\">1/2<", "name=\"yubifu.zero\">tube<", "name=\"yubifu.staff\">in-c<",
        "name=\"yubifu.header.troupe\">E<",
        "<credit-type>subtitle</credit-type><credit-words justify=\"center\" valign=\"top\">"
        "second part</credit-words>"}) {
    EXPECT_THAT(text, HasSubstr(part));
  }
}

TEST(Header, NamesPartInstrumentAndFormat) {
  const std::string text = support::document_of(fingered_score("三 四 五 六"));
  EXPECT_TRUE(text.starts_with(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!DOCTYPE score-partwise PUBLIC "
      "\"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
      "\"http://www.musicxml.org/dtds/partwise.dtd\">\n<score-partwise version=\"4.0\">\n"));
  EXPECT_THAT(text, HasSubstr("<part-name>Shinobue</part-name>"));
  EXPECT_THAT(text, HasSubstr("<instrument-sound>wind.flutes.shinobue</instrument-sound>"));
}

TEST(Header, RemembersAStaffChosenForTheExport) {
  MusicXmlWriteOptions options;
  options.staff = model::StaffMode::sounding;
  EXPECT_THAT(compact(fingered_score("三 四 五 六"), options),
              HasSubstr("name=\"yubifu.staff\">sounding<"));
}

}  // namespace
}  // namespace yubifu::musicxml
