// Header, song text, directions and marks.
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "model/words.h"
#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using model::Mark;
using testing::ElementsAre;
using testing::IsEmpty;

// --- Header

std::string with_header(std::string_view header) {
  return fmt::format("<score-partwise>{}<part id=\"P1\">{}</part></score-partwise>", header,
                     measure("1", attributes(1, "4/4") + note("D5", 4)));
}

std::string identification(std::string_view content) {
  return with_header(fmt::format("<identification>{}</identification>", content));
}

TEST(HeaderTexts, TitleAndSubtitle) {
  const Reading both = read(
      with_header("<work><work-title>Ferry\n  Lanterns</work-title></work><movement-title>Evening"
                  "</movement-title>"));
  EXPECT_EQ(both.score.header.title, "Ferry Lanterns");
  EXPECT_EQ(both.score.header.subtitle, "Evening");
  const Reading movement = read(with_header("<movement-title>Evening</movement-title>"));
  EXPECT_EQ(movement.score.header.title, "Evening");
  EXPECT_EQ(movement.score.header.subtitle, "");
  const Reading twice = read(with_header(
      "<work><work-title>Evening</work-title></work><movement-title>Evening</movement-title>"));
  EXPECT_EQ(twice.score.header.subtitle, "");
}

TEST(HeaderTexts, NamesAndRights) {
  const Reading reading = read(identification(
      "<creator type=\"composer\">A. Reed</creator><creator type=\"composer\">B. Cane</creator>"
      "<creator type=\"lyricist\">C. Rush</creator><creator type=\"poet\">D. Sedge</creator>"
      "<rights>free to copy</rights><rights>and to sing</rights><source>an old book</source>"));
  EXPECT_EQ(reading.score.header.composer, "A. Reed, B. Cane");
  EXPECT_EQ(reading.score.header.lyricist, "C. Rush, D. Sedge");
  EXPECT_EQ(reading.score.header.rights, "free to copy, and to sing");
  EXPECT_EQ(reading.score.header.source, "an old book");
  EXPECT_THAT(reading.remarks, IsEmpty());
  EXPECT_EQ(read(identification("<creator>A. Reed</creator>")).score.header.composer, "A. Reed");
}

TEST(HeaderTexts, WhatHasNoFieldIsTold) {
  EXPECT_THAT(read(identification("<creator type=\"arranger\">E. Fern</creator>")).remarks,
              ElementsAre("warning left-out: 1 creator left out (arranger E. Fern)"));
  EXPECT_THAT(read(with_header("<work><work-number>op. 3</work-number></work>")).remarks,
              ElementsAre("warning left-out: 1 number of the work left out (op. 3)"));
  EXPECT_THAT(read(identification("<miscellaneous><miscellaneous-field name=\"mood\">calm"
                                  "</miscellaneous-field></miscellaneous>"))
                  .remarks,
              ElementsAre("note detail-left-out: 1 miscellaneous field left out (mood)"));
}

TEST(HeaderTexts, TextOnThePageGivesATitleToThoseWithout) {
  const std::string credits =
      "<credit><credit-type>title</credit-type><credit-words>Ferry Lanterns</credit-words></credit>"
      "<credit><credit-type>subtitle</credit-type><credit-words>Evening</credit-words></credit>"
      "<credit><credit-words>Page 1</credit-words></credit>";
  const Reading reading = read(with_header(credits));
  EXPECT_EQ(reading.score.header.title, "Ferry Lanterns");
  EXPECT_EQ(reading.score.header.subtitle, "Evening");
  EXPECT_THAT(reading.remarks,
              ElementsAre("note detail-left-out: 1 text on the page left out (Page 1)"));
  // What repeats the header says nothing new.
  EXPECT_THAT(read(with_header("<work><work-title>X</work-title></work>"
                               "<credit><credit-words>X</credit-words></credit>"))
                  .remarks,
              IsEmpty());
}

// --- Song text

std::string sung(std::string_view pitch, std::string_view lyrics, int duration = 2) {
  return note(pitch, duration, lyrics);
}

TEST(SongText, SyllablesJoinToWords) {
  const Reading reading = read(
      one_bar(sung("D5", lyric("1", "begin", "lan")) + sung("E5", lyric("1", "middle", "ter")) +
              sung("F5", lyric("1", "end", "ning")) + sung("G5", lyric("1", "single", "light"))));
  EXPECT_EQ(verse(reading.score, "1"), "lan- ter- ning light");
  EXPECT_THAT(reading.score.verses, ElementsAre("1"));
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(SongText, EveryVerseIsKept) {
  const Reading reading =
      read(one_bar(sung("D5",
                        lyric("1", "single", "one") + lyric("2", "single", "two") +
                            lyric("3", "single", "three"),
                        4) +
                   sung("E5", lyric("3", "single", "drei") + lyric("1", "single", "eins"), 4)));
  EXPECT_EQ(verse(reading.score, "1"), "one eins");
  EXPECT_EQ(verse(reading.score, "2"), "two /");
  EXPECT_EQ(verse(reading.score, "3"), "three drei");
  EXPECT_THAT(reading.score.verses, ElementsAre("1", "2", "3"));
}

TEST(SongText, VersesAreCountedInTheOrderOfTheirNumbers) {
  // Programs begin with 0, leave numbers out, and put a word where a number is meant.
  const Reading reading =
      read(one_bar(sung("D5", lyric("5", "single", "five") + lyric("2", "single", "two"), 4) +
                   sung("E5", lyric("chorus", "single", "all"), 4)));
  EXPECT_EQ(verse(reading.score, "1"), "two /");
  EXPECT_EQ(verse(reading.score, "2"), "five /");
  EXPECT_EQ(verse(reading.score, "3"), "/ all");
  EXPECT_EQ(verse(read(one_bar(sung("D5", "<lyric><text>la</text></lyric>", 8))).score, "1"), "la");
}

TEST(SongText, ElisionJoinsSyllablesOnOneNote) {
  const Reading reading =
      read(one_bar(sung("D5",
                        "<lyric><syllabic>single</syllabic><text>la</text><elision> </elision>"
                        "<syllabic>begin</syllabic><text>o</text></lyric>",
                        4) +
                   sung("E5", lyric("1", "end", "ra"), 4)));
  EXPECT_EQ(verse(reading.score, "1"), "la‿o- ra");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(SongText, IsJoinedFromAllPiecesOfItsElements) {
  const auto sung_as = [](const std::string& inside) {
    return verse(read(one_bar(sung("D5", "<lyric>" + inside + "</lyric>", 8))).score, "1");
  };
  EXPECT_EQ(sung_as("<text>la<!-- high --></text>"), "la");
  EXPECT_EQ(sung_as("<text>l<!-- high -->a</text>"), "la");
  EXPECT_EQ(sung_as("<text><![CDATA[l]]>a</text>"), "la");
  EXPECT_EQ(sung_as("<text>l<![CDATA[a]]><?look here?></text>"), "la");
  EXPECT_EQ(sung_as("<text/><elision/><text>a</text><elision/><text>b<!-- -->c</text>"
                    "<elision/><text>d</text>"),
            "a‿bc‿d");
}

TEST(SongText, OfAVoiceThatIsNotReadNamesNoVerse) {
  // The lines of one part are numbered together.
  const std::string other =
      lyric("1", "single", "no") + "<lyric number=\"2\" name=\"fingering\"><text>三</text></lyric>";
  const std::string upper = sung("D5", "<voice>1</voice>" + lyric("3", "single", "yes"), 4) +
                            sung("E5", "<voice>1</voice>", 4);
  const std::string lower =
      "<backup><duration>8</duration></backup>" + sung("D4", "<voice>2</voice>" + other, 8);
  MusicXmlReadOptions options;
  options.voice = "1";
  const Reading reading = read(one_bar(upper + lower), options);
  EXPECT_EQ(reading.score.verses, std::vector<std::string>{"1"});
  EXPECT_EQ(verse(reading.score, "1"), "yes /");
  EXPECT_FALSE(reading.score.notes[0].tone.fingering);
}

TEST(SongText, ExtendersCarryASyllableOn) {
  const std::string start = "<lyric><text>ah</text><extend type=\"start\"/></lyric>";
  const std::string stop = "<lyric><extend type=\"stop\"/></lyric>";
  const Reading typed = read(one_bar(sung("D5", start) + sung("E5", stop) + sung("F5", "") +
                                     sung("G5", lyric("1", "single", "oh"))));
  EXPECT_EQ(verse(typed.score, "1"), "ah ~ / oh");
  // The old form has no type and reaches to the next syllable or rest.
  const std::string open = "<lyric><text>ah</text><extend/></lyric>";
  EXPECT_EQ(verse(read(one_bar(sung("D5", open) + sung("E5", "") + sung("F5", "") +
                               sung("G5", lyric("1", "single", "oh"))))
                      .score,
                  "1"),
            "ah ~ ~ oh");
  EXPECT_EQ(verse(read(one_bar(sung("D5", open) + rest(2) + sung("F5", "", 4))).score, "1"),
            "ah /");
}

TEST(SongText, PrintedHyphensAndSpacesStay) {
  EXPECT_EQ(verse(read(one_bar(sung("D5", "<lyric><text>a-b c</text></lyric>", 8))).score, "1"),
            "a-b c");
}

TEST(SongText, WhereItCannotStandIsTold) {
  const std::string la = "<lyric><text>la</text></lyric>";
  EXPECT_THAT(read(one_bar(rest(4, la) + note("D5", 4))).remarks,
              ElementsAre("warning left-out: 1 syllable on a rest left out: bar 1"));
  const Reading tied = read(one_bar(note("D5", 4, "<tie type=\"start\"/>" + la) +
                                    note("D5", 4, "<tie type=\"stop\"/>" + la)));
  EXPECT_EQ(verse(tied.score, "1"), "la");
  EXPECT_THAT(tied.remarks,
              ElementsAre("warning left-out: 1 syllable on a held note left out: bar 1"));
  EXPECT_THAT(read(one_bar(note("D5", 8, la + la))).remarks,
              ElementsAre("warning left-out: 1 second syllable of a verse on one note left out: "
                          "bar 1"));
  EXPECT_THAT(read(one_bar(note("D5", 8, "<lyric><humming/></lyric>"))).remarks,
              ElementsAre("warning left-out: 1 humming or laughing sign left out: bar 1"));
  std::string many;
  for (int i = 1; i <= 100; ++i) many += lyric(std::to_string(i), "single", "la");
  EXPECT_THAT(read(one_bar(note("D5", 8, many))).remarks,
              ElementsAre("warning left-out: 1 syllable of a verse past the 99th left out: bar 1"));
}

TEST(SongText, AnUnknownSyllabicIsToldAndReadAsAWord) {
  const Reading reading = read(one_bar(sung("D5", lyric("1", "start", "lan"), 4) +
                                       sung("E5", lyric("1", "end", "tern"), 4)));
  EXPECT_EQ(verse(reading.score, "1"), "lan tern");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning unknown-value: 1 syllable of no known kind read as a word "
                          "(start): bar 1"));
}

TEST(SongText, SongsThatCountStaySongs) {
  const Reading reading =
      read(one_bar(sung("D5", lyric("1", "single", "一")) + sung("D5", lyric("1", "single", "二")) +
                   sung("D5", lyric("1", "single", "三"), 4)));
  EXPECT_EQ(fingerings(reading.score), "- - -");
  EXPECT_EQ(verse(reading.score, "1"), "一 二 三");
}

// --- Directions

std::string direction(std::string_view types, std::string_view more = {}) {
  return fmt::format("<direction><direction-type>{}</direction-type>{}</direction>\n", types, more);
}

std::string words(std::string_view text, std::string_view sound = {}) {
  return direction(fmt::format("<words>{}</words>", text), sound);
}

std::string metronome(std::string_view unit, std::string_view number) {
  return direction(fmt::format(
      "<metronome><beat-unit>{}</beat-unit>{}<per-minute>{}</per-minute>"
      "</metronome>",
      unit.substr(0, unit.find('.')), unit.ends_with('.') ? "<beat-unit-dot/>" : "", number));
}

// What a direction in the middle of a bar gives.
std::string after_first_note(std::string_view content) {
  return directions(read(one_bar(note("D5", 4) + std::string(content) + note("E5", 4))).score);
}

TEST(Directions, TempoIsTheMetronomesOrTheSounds) {
  EXPECT_EQ(read(one_bar(metronome("quarter", "96") + note("D5", 8))).score.header.tempo,
            (model::Tempo{96, 1}));
  EXPECT_EQ(read(one_bar(metronome("quarter.", "60") + note("D5", 8))).score.header.tempo,
            (model::Tempo{60, model::Rational(3, 2)}));
  EXPECT_EQ(read(one_bar("<sound tempo=\"72.5\"/>" + note("D5", 8))).score.header.tempo,
            (model::Tempo{model::Rational(145, 2), 1}));
  // A sound counts quarters. In compound time they are told as dotted quarters where that gives a
  // whole number.
  const auto in_six_eighths = [](const std::string& number) {
    return read(one_part(measure("1", attributes(2, "6/8") + "<sound tempo=\"" + number + "\"/>" +
                                          note("D5", 6))))
        .score.header.tempo;
  };
  EXPECT_EQ(in_six_eighths("90"), (model::Tempo{60, model::Rational(3, 2)}));
  EXPECT_EQ(in_six_eighths("100"), (model::Tempo{100, 1}));
  EXPECT_EQ(after_first_note(metronome("half", "50")), "1:2 tempo 1/2=50");
  EXPECT_EQ(after_first_note("<sound tempo=\"80\"/>"), "1:2 tempo 80");
  // Both at one place are one tempo; the printed one counts.
  EXPECT_EQ(after_first_note(direction("<metronome><beat-unit>quarter</beat-unit><per-minute>60"
                                       "</per-minute></metronome>",
                                       "<sound tempo=\"60\"/>")),
            "1:2 tempo 60");
}

TEST(Directions, TempoMayBeAbout) {
  EXPECT_EQ(after_first_note(metronome("quarter", "c. 108")), "1:2 tempo 108");
  EXPECT_EQ(after_first_note(metronome("quarter", "100-120")), "1:2 tempo 100");
}

TEST(Directions, ATempoWithoutANumberIsTold) {
  const Reading reading =
      read(one_bar(direction("<metronome><beat-unit>quarter</beat-unit><beat-unit>eighth"
                             "</beat-unit></metronome>") +
                   note("D5", 8)));
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 metronome mark without a plain "
                                           "number left out: bar 1"));
}

TEST(Directions, TempoOfAnotherPartHoldsForAll) {
  const std::string first = measure("1", attributes(1, "4/4") + note("D5", 4));
  const std::string second =
      measure("1", attributes(1, "4/4") + words("Lively", "<sound tempo=\"132\"/>") +
                       direction("<dynamics><f/></dynamics>") + rest(4));
  const Reading reading =
      read(document("<part id=\"A\">" + first + "</part><part id=\"B\">" + second + "</part>"));
  EXPECT_EQ(reading.score.header.tempo, (model::Tempo{132, 1}));
  EXPECT_EQ(directions(reading.score), "1:0 text Lively");  // its dynamics are its own
}

TEST(Directions, WordsChangeTheSpeedOrAreText) {
  EXPECT_EQ(after_first_note(words("rit.")), "1:2 rit");
  EXPECT_EQ(after_first_note(words("Rallentando")), "1:2 rit");
  EXPECT_EQ(after_first_note(words("accel.")), "1:2 accel");
  EXPECT_EQ(after_first_note(words("a tempo", "<sound tempo=\"90\"/>")), "1:2 a-tempo");
  EXPECT_EQ(after_first_note(words("like water")), "1:2 text like water");
  EXPECT_EQ(after_first_note(direction("<words>like</words><words>water</words>")),
            "1:2 text like water");
}

TEST(Directions, DynamicsMayStandBesideOrOnANote) {
  EXPECT_EQ(after_first_note(direction("<dynamics><mf/></dynamics>")), "1:2 dyn mf");
  EXPECT_EQ(after_first_note(direction("<dynamics><other-dynamics>più f</other-dynamics>"
                                       "</dynamics>")),
            "1:2 dyn più f");
  EXPECT_EQ(directions(read(one_bar(note("D5", 4) + note("E5", 4,
                                                         "<notations><dynamics><pp/></dynamics>"
                                                         "</notations>")))
                           .score),
            "1:2 dyn pp");
}

TEST(Directions, AnOffsetMovesThem) {
  EXPECT_EQ(after_first_note(direction("<dynamics><p/></dynamics>", "<offset>2</offset>")),
            "1:3 dyn p");
  EXPECT_EQ(after_first_note(direction("<dynamics><p/></dynamics>", "<offset>-99</offset>")),
            "1:0 dyn p");
}

TEST(Directions, WithoutAPlaceInTheScoreAreTold) {
  const Reading reading = read(one_bar(direction("<wedge type=\"crescendo\"/>") + note("D5", 4) +
                                       direction("<wedge type=\"stop\"/>") +
                                       direction("<pedal type=\"start\"/>") + note("E5", 4)));
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 2 directions left out (wedge): bar 1",
                          "warning left-out: 1 direction left out (pedal): bar 1"));
}

// --- Marks

std::string marks_of(std::string_view notations) {
  const std::string marked = fmt::format("<notations>{}</notations>", notations);
  const Reading reading = read(one_bar(note("D5", 4, marked) + note("E5", 4)));
  EXPECT_THAT(reading.remarks, IsEmpty()) << notations;
  std::string list;
  for (const Mark mark : reading.score.notes[0].marks) {
    list += (list.empty() ? "" : " ") + std::string(model::word_of(mark));
  }
  return list;
}

TEST(Marks, AreThoseOfTheNotation) {
  EXPECT_EQ(marks_of("<fermata/>"), "fermata");
  EXPECT_EQ(marks_of("<fermata type=\"inverted\">square</fermata>"), "fermata");
  EXPECT_EQ(marks_of("<articulations><accent/><staccato/><tenuto/></articulations>"),
            "accent staccato tenuto");
  EXPECT_EQ(marks_of("<articulations><detached-legato/></articulations>"), "staccato tenuto");
  EXPECT_EQ(marks_of("<articulations><breath-mark/></articulations>"), "breath");
  EXPECT_EQ(marks_of("<articulations><breath-mark>comma</breath-mark></articulations>"), "breath");
  EXPECT_EQ(marks_of("<articulations><breath-mark>tick</breath-mark></articulations>"), "breath?");
  EXPECT_EQ(marks_of("<ornaments><trill-mark/></ornaments>"), "trill");
  EXPECT_EQ(marks_of("<ornaments><trill-mark/><wavy-line type=\"start\"/></ornaments>"), "trill");
  EXPECT_EQ(marks_of("<slide type=\"start\"/>"), "suri");
  EXPECT_EQ(marks_of("<glissando type=\"start\"/>"), "suri");
  EXPECT_EQ(marks_of("<technical><other-technical>打</other-technical></technical>"), "uchi");
}

TEST(Marks, OnSeveralNotationsAddUp) {
  const Reading reading =
      read(one_bar(note("D5", 4,
                        "<notations><fermata/></notations><notations><articulations><accent/>"
                        "</articulations></notations>") +
                   note("E5", 4)));
  EXPECT_THAT(reading.score.notes[0].marks, ElementsAre(Mark::fermata, Mark::accent));
}

TEST(Marks, OnTheLaterNoteOfATieBelongToTheWhole) {
  const Reading reading = read(one_bar(note("D5", 4, "<tie type=\"start\"/>") +
                                       note("D5", 4,
                                            "<tie type=\"stop\"/><notations><fermata/>"
                                            "</notations>")));
  EXPECT_THAT(reading.score.notes[0].marks, ElementsAre(Mark::fermata));
}

TEST(Marks, OnRests) {
  const Reading reading =
      read(one_bar(note("D5", 4) + rest(4, "<notations><fermata/></notations>")));
  ASSERT_EQ(reading.score.rests.size(), 1u);
  EXPECT_EQ(reading.score.rests[0].onset, model::Rational(2));
  EXPECT_THAT(reading.score.rests[0].marks, ElementsAre(Mark::fermata));
  EXPECT_THAT(read(one_bar(note("D5", 4) + rest(4,
                                                "<notations><articulations><accent/>"
                                                "</articulations></notations>")))
                  .remarks,
              ElementsAre("warning left-out: 1 mark on a rest left out (accent): bar 1"));
}

TEST(Marks, SlursReachToTheNoteBeforeTheirEnd) {
  const auto slur = [](std::string_view type, int number) {
    return fmt::format("<notations><slur type=\"{}\" number=\"{}\"/></notations>", type, number);
  };
  const Reading reading = read(one_bar(note("D5", 2, slur("start", 1)) + note("E5", 2) +
                                       note("F5", 2, slur("stop", 1)) + note("G5", 2)));
  std::vector<bool> slurred;
  for (const model::Note& note : reading.score.notes) slurred.push_back(note.slur_to_next);
  EXPECT_THAT(slurred, ElementsAre(true, true, false, false));
  EXPECT_THAT(read(one_bar(note("D5", 4, slur("start", 1)) + note("E5", 4))).remarks,
              ElementsAre("warning left-out: 1 slur without an end left out: bar 1"));
  EXPECT_THAT(read(one_bar(note("D5", 4) + note("E5", 4, slur("stop", 1)))).remarks, IsEmpty());
}

TEST(Marks, SlursOfAllNotesOfAChordAreOne) {
  const std::string start = "<notations><slur type=\"start\" number=\"1\"/></notations>";
  const Reading reading =
      read(one_bar(note("D5", 4, start) + note_with("<chord/>", "F5", 4, start) +
                   note("E5", 4, "<notations><slur type=\"stop\" number=\"1\"/></notations>")));
  EXPECT_TRUE(reading.score.notes[0].slur_to_next);
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 chord note left out: bar 1"));
}

TEST(Marks, ASlideWithoutASecondNoteIsTold) {
  EXPECT_THAT(
      read(one_bar(note("D5", 8, "<notations><slide type=\"start\"/></notations>"))).remarks,
      ElementsAre("warning left-out: 1 slide without a second note left out: bar 1"));
}

TEST(Marks, OthersAreToldByName) {
  const auto told = [](std::string_view notations) {
    return read(one_bar(note("D5", 8, fmt::format("<notations>{}</notations>", notations))))
        .remarks;
  };
  EXPECT_THAT(told("<ornaments><turn/></ornaments>"),
              ElementsAre("warning left-out: 1 mark on a note left out (turn): bar 1"));
  EXPECT_THAT(told("<arpeggiate/>"),
              ElementsAre("warning left-out: 1 mark on a note left out (arpeggiate): bar 1"));
  EXPECT_THAT(told("<technical><fingering>3</fingering></technical>"),
              ElementsAre("warning left-out: 1 mark on a note left out (fingering): bar 1"));
  EXPECT_THAT(told("<tuplet type=\"start\"/>"), IsEmpty());
}

TEST(Marks, ACaesuraStandsBehindItsNote) {
  EXPECT_EQ(directions(read(one_bar(note("D5", 4,
                                         "<notations><articulations><caesura/>"
                                         "</articulations></notations>") +
                                    note("E5", 4)))
                           .score),
            "1:2 caesura");
}

}  // namespace
}  // namespace yubifu::musicxml
