// Repeats, endings, jumps, sections, double bars.
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "model/play_out.h"
#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using model::BarStyle;
using testing::ElementsAre;
using testing::IsEmpty;

std::string barline(std::string_view location, std::string_view content) {
  return fmt::format("<barline location=\"{}\">{}</barline>\n", location, content);
}

std::string forward() {
  return barline("left", "<repeat direction=\"forward\"/>");
}

std::string backward(std::string_view more = {}) {
  return barline("right", fmt::format("<repeat direction=\"backward\"{}/>", more));
}

std::string ending(std::string_view number, std::string_view type, std::string_view repeat = {}) {
  return barline(type == "start" ? "left" : "right",
                 fmt::format("<ending number=\"{}\" type=\"{}\"/>{}", number, type, repeat));
}

std::string form_direction(std::string_view types, std::string_view sound = {}) {
  return fmt::format("<direction><direction-type>{}</direction-type>{}</direction>\n", types,
                     sound);
}

std::string form_words(std::string_view text, std::string_view sound = {}) {
  return form_direction(fmt::format("<words>{}</words>", text), sound);
}

// Bars of one half note each in 2/4, D5 E5 F5 …, with what stands before and behind the note.
struct Bar {
  std::string before;
  std::string behind;
};

std::string form_bars(const std::vector<Bar>& contents) {
  std::string measures;
  for (std::size_t i = 0; i < contents.size(); ++i) {
    const std::string pitch = std::string(1, "DEFGABC"[i % 7]) + (i % 7 < 4 ? "5" : "4");
    measures +=
        measure(std::to_string(i + 1), (i == 0 ? attributes(1, "2/4") : "") + contents[i].before +
                                           note(pitch, 2) + contents[i].behind);
  }
  return one_part(measures);
}

// The form in short: "|: 1 :|x3 2[1,2] |= …".
std::string form(const model::Score& score) {
  std::string out;
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    const model::Measure& measure = score.measures[i];
    if (!out.empty()) out += ' ';
    if (measure.repeat_start) out += "|: ";
    out += std::to_string(i + 1);
    if (!measure.ending.empty()) out += fmt::format("[{}]", fmt::join(measure.ending, ","));
    if (measure.repeat_end) out += " :|";
    if (measure.times != 2) out += fmt::format("x{}", measure.times);
    if (measure.right == BarStyle::section) out += " ||";
    if (measure.right == BarStyle::final) out += " |=";
  }
  return out;
}

// The bars in the order in which they are played.
std::vector<std::size_t> played(const model::Score& score) {
  std::vector<std::size_t> order = model::played_order(score).value.value();
  for (std::size_t& bar : order) ++bar;
  return order;
}

TEST(Form, RepeatsHaveSignsAndTimes) {
  const Reading reading =
      read(form_bars({{forward(), {}}, {{}, backward(" times=\"3\"")}, {}, {{}, backward()}}));
  EXPECT_EQ(form(reading.score), "|: 1 2 :|x3 3 4 :|");
  EXPECT_THAT(played(reading.score), ElementsAre(1, 2, 1, 2, 1, 2, 3, 4, 3, 4));
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Form, TimesThatCannotBeReadAreTwo) {
  for (const char* times : {"many", "0", "1", "100", "-3"}) {
    const Reading reading = read(form_bars({{{}, backward(fmt::format(" times=\"{}\"", times))}}));
    EXPECT_EQ(form(reading.score), "1 :|") << times;
    EXPECT_THAT(reading.remarks, ElementsAre("warning unknown-value: 1 repeat count cannot be "
                                             "read; two is taken: bar 1"));
  }
}

TEST(Form, ARepeatWithoutADirectionIsTold) {
  const Reading reading = read(form_bars({{barline("right", "<repeat/>"), {}}}));
  EXPECT_EQ(form(reading.score), "1");
  EXPECT_THAT(reading.remarks, ElementsAre("warning unknown-value: 1 repeat without a direction or "
                                           "a bar left out: bar 1"));
}

TEST(Form, EndingsCoverTheirBars) {
  const Reading reading =
      read(form_bars({{forward(), {}},
                      {ending("1", "start"), {}},
                      {{}, ending("1", "stop", "<repeat direction=\"backward\"/>")},
                      {ending("2", "start"), ending("2", "stop")},
                      {}}));
  EXPECT_EQ(form(reading.score), "|: 1 2[1] 3[1] :| 4[2] 5");
  EXPECT_THAT(played(reading.score), ElementsAre(1, 2, 3, 1, 4, 5));
}

TEST(Form, EndingsHaveListsOfNumbers) {
  for (const auto& [number, numbers] :
       {std::pair("1,2", "1,2"), std::pair("1, 3", "1,3"), std::pair("1-3", "1,2,3"),
        std::pair("1.-2.", "1,2"), std::pair("2 1", "1,2"),
        std::pair("1, 10000000000000002", "1")}) {
    const Reading reading =
        read(form_bars({{}, {ending(number, "start"), ending(number, "stop")}, {}}));
    EXPECT_EQ(form(reading.score), fmt::format("1 2[{}] 3", numbers)) << number;
  }
  // The number may stand in the printed text alone.
  const Reading text = read(form_bars(
      {{},
       {barline("left", "<ending number=\"\" type=\"start\">2.</ending>"), ending("", "stop")}}));
  EXPECT_EQ(form(text.score), "1 2[2]");
}

TEST(Form, AnEndingWithoutANumberIsTold) {
  const Reading reading = read(form_bars({{}, {ending("x", "start"), ending("x", "stop")}}));
  EXPECT_EQ(form(reading.score), "1 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning unknown-value: 1 ending without a number left "
                                           "out: bar 2"));
}

TEST(Form, AnEndThatNoEndingBeganIsTold) {
  const Reading reading = read(form_bars({{}, {ending("1", "stop"), backward()}, {}}));
  EXPECT_EQ(form(reading.score), "1 2 :| 3");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning unknown-value: 1 end of an ending that has not begun left out: "
                          "bar 2"));
}

TEST(Form, AnEndingThatNobodyClosesReachesToTheRepeatOrIsOneBar) {
  EXPECT_EQ(form(read(form_bars({{}, {ending("1", "start"), {}}, {{}, backward()}, {}})).score),
            "1 2[1] 3[1] :| 4");
  EXPECT_EQ(form(read(form_bars({{}, {ending("2", "start"), {}}, {}, {}})).score), "1 2[2] 3 4");
  // The next one closes it.
  EXPECT_EQ(
      form(read(form_bars({{}, {ending("1", "start"), backward()}, {ending("2", "start"), {}}, {}}))
               .score),
      "1 2[1] :| 3[2] 4");
}

TEST(Form, LinesHaveStyles) {
  const auto line = [](std::string_view style) {
    return barline("right", fmt::format("<bar-style>{}</bar-style>", style));
  };
  const Reading reading = read(
      form_bars({{{}, line("light-light")}, {{}, line("regular")}, {{}, line("light-heavy")}}));
  EXPECT_EQ(form(reading.score), "1 || 2 3 |=");
  EXPECT_THAT(reading.remarks, IsEmpty());
  for (const char* plain : {"dotted", "dashed", "tick", "short", "none"}) {
    EXPECT_THAT(read(form_bars({{{}, line(plain)}})).remarks, IsEmpty());
  }
  EXPECT_THAT(read(form_bars({{{}, line("heavy-heavy")}})).remarks,
              ElementsAre("warning left-out: 1 kind of bar line left out (heavy-heavy): bar 1"));
  EXPECT_THAT(read(form_bars({{{}, line("wavy")}})).remarks,
              ElementsAre("warning unknown-value: 1 bar line is of no known kind (wavy): bar 1"));
}

TEST(Form, ADoubleBarAtTheLeftEndsTheBarBefore) {
  EXPECT_EQ(
      form(
          read(form_bars({{}, {barline("left", "<bar-style>light-light</bar-style>"), {}}})).score),
      "1 || 2");
}

TEST(Form, SignsInsideAMeasurePartIt) {
  const std::string middle = barline("middle", "<repeat direction=\"backward\"/>");
  const Reading reading =
      read(one_part(measure("1", attributes(1, "4/4") + note("D5", 3) + middle + note("E5", 1)) +
                    measure("2", note("F5", 4))));
  EXPECT_EQ(melody(reading.score), "0 D5 3 | 0 E5 1 | 0 F5 4");
  EXPECT_EQ(form(reading.score), "1 :| 2 3");
  EXPECT_EQ(lengths(reading.score), "3 1 4");
  EXPECT_EQ(reading.score.measures[1].number, "1");
}

TEST(Form, RepeatsOfSoundAloneCount) {
  const Reading reading = read(form_bars({{}, {"<sound forward-repeat=\"yes\"/>", backward()}}));
  EXPECT_EQ(form(reading.score), "1 |: 2 :|");
}

// --- Jumps

// Printed words are all that many files have; whether they are meant, only a person knows.
TEST(Jumps, InWordsAloneAreTold) {
  const Reading reading =
      read(form_bars({{{}, form_words("Fine")}, {{}, form_words("D.C. al Fine")}}));
  EXPECT_EQ(directions(reading.score), "1:2 fine, 2:2 dc");
  EXPECT_THAT(reading.remarks, ElementsAre("note jump-in-words: 2 jumps that only words give are "
                                           "taken as such (Fine, D.C. al Fine): bars 1, 2"));
  // Beside them, on its own at the same place, or in another part, a sound says it.
  const std::string sound = "<sound dacapo=\"yes\"/>";
  EXPECT_THAT(read(form_bars({{{}, form_words("D.C.", sound)}})).remarks, IsEmpty());
  EXPECT_THAT(read(form_bars({{{}, form_words("D.C.") + sound}})).remarks, IsEmpty());
  const std::string other =
      measure("1", attributes(1, "2/4") + rest(2) + form_words("D.C.", sound));
  const std::string here = measure("1", attributes(1, "2/4") + note("D5", 2) + form_words("D.C."));
  MusicXmlReadOptions first;
  first.part = "P1";
  EXPECT_THAT(
      read(document("<part id=\"P1\">" + here + "</part><part id=\"P2\">" + other + "</part>"),
           first)
          .remarks,
      IsEmpty());
  // Signs and other words are no jumps.
  EXPECT_THAT(read(form_bars({{form_words("rit.") + form_direction("<segno/>"), {}}})).remarks,
              IsEmpty());
}

TEST(Jumps, DaCapoAlFine) {
  const Reading reading =
      read(form_bars({{},
                      {{}, form_words("Fine", "<sound fine=\"yes\"/>")},
                      {{}, form_words("D.C. al Fine", "<sound dacapo=\"yes\"/>")}}));
  EXPECT_EQ(directions(reading.score), "2:2 fine, 3:2 dc");
  EXPECT_THAT(played(reading.score), ElementsAre(1, 2, 3, 1, 2));
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Jumps, DalSegnoAlCoda) {
  const Reading reading =
      read(form_bars({{},
                      {form_direction("<segno/>", "<sound segno=\"s\"/>"), {}},
                      {{}, form_words("To Coda", "<sound tocoda=\"c\"/>")},
                      {{}, form_words("D.S. al Coda", "<sound dalsegno=\"s\"/>")},
                      {form_direction("<coda/>", "<sound coda=\"c\"/>"), {}}}));
  EXPECT_EQ(directions(reading.score), "2:0 segno, 3:2 to-coda, 4:2 ds, 5:0 coda");
  EXPECT_THAT(played(reading.score), ElementsAre(1, 2, 3, 4, 2, 3, 5));
}

TEST(Jumps, WordsAndSignsAloneWillDo) {
  const Reading reading = read(form_bars({{},
                                          {form_direction("<segno/>"), {}},
                                          {{}, form_direction("<coda/>")},
                                          {{}, form_words("dal segno al coda")},
                                          {form_direction("<coda/>"), {}}}));
  EXPECT_EQ(directions(reading.score), "2:0 segno, 3:2 to-coda, 4:2 ds, 5:0 coda");
  for (const char* text : {"D.C.", "d.c.", "Da Capo", "D.C. al Fine", " D.C.\n"}) {
    EXPECT_EQ(directions(read(form_bars({{{}, form_words(text)}})).score), "1:2 dc") << text;
  }
}

TEST(Jumps, SoundAloneWillDo) {
  const Reading reading =
      read(form_bars({{{}, "<sound fine=\"yes\"/>"}, {{}, "<sound dacapo=\"yes\"/>"}}));
  EXPECT_EQ(directions(reading.score), "1:2 fine, 2:2 dc");
  EXPECT_EQ(directions(read(form_bars({{{}, "<sound dacapo=\"no\"/>"}})).score), "");
}

TEST(Jumps, SignsOnBarLinesCount) {
  const Reading reading = read(form_bars({{},
                                          {barline("left", "<segno/>"), {}},
                                          {{}, barline("right", "<coda/>")},
                                          {{}, "<sound dalsegno=\"segno\"/>"},
                                          {barline("left", "<coda/>"), {}}}));
  EXPECT_EQ(directions(reading.score), "2:0 segno, 3:2 to-coda, 4:2 ds, 5:0 coda");
}

TEST(Jumps, SignsInsideABarMoveToItsEdgeAndAreTold) {
  const std::string text = one_part(
      measure("1",
              attributes(1, "2/4") + note("D5", 1) + form_direction("<segno/>") + note("E5", 1)) +
      measure("2", form_words("Fine", "<sound fine=\"yes\"/>") + note("F5", 1) + note("G5", 1)));
  const Reading reading = read(text);
  EXPECT_EQ(directions(reading.score), "1:0 segno, 2:2 fine");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning misplaced-sign: 1 sign inside a bar moved to the bar's start: "
                          "bar 1",
                          "warning misplaced-sign: 1 sign inside a bar moved to the bar's end: "
                          "bar 2"));
}

TEST(Jumps, OfAnotherPartHoldForAll) {
  const std::string measures =
      measure("1", attributes(1, "2/4") + note("D5", 2)) + measure("2", note("E5", 2));
  const std::string other =
      measure("1", form_words("Fine", "<sound fine=\"yes\"/>") + attributes(1, "2/4") + rest(2)) +
      measure("2", rest(2) + form_words("D.C.", "<sound dacapo=\"yes\"/>"));
  const Reading reading =
      read(document("<part id=\"A\">" + measures + "</part><part id=\"B\">" + other + "</part>"));
  EXPECT_EQ(directions(reading.score), "1:2 fine, 2:2 dc");
}

TEST(Jumps, ThatLeadToEachOtherEnd) {
  // D.S. to a segno behind it, D.C. before it: each is followed once.
  const Reading reading =
      read(form_bars({{{}, form_words("D.S.", "<sound dalsegno=\"s\"/>")},
                      {form_direction("<segno/>"), form_words("D.C.", "<sound dacapo=\"yes\"/>")},
                      {{}, form_words("D.S.", "<sound dalsegno=\"s\"/>")}}));
  const base::Outcome<std::vector<std::size_t>> order = model::played_order(reading.score);
  ASSERT_TRUE(order.value);
  EXPECT_LT(order.value->size(), 20u);
}

// --- Sections

TEST(Sections, AreRehearsalMarks) {
  const auto mark = [](std::string_view name) {
    return form_direction(fmt::format("<rehearsal>{}</rehearsal>", name));
  };
  const Reading reading = read(form_bars({{mark("A"), {}}, {{}, mark("B")}, {}}));
  EXPECT_EQ(directions(reading.score), "1:0 section A, 3:0 section B");
  EXPECT_THAT(reading.remarks, IsEmpty());
  const Reading inside = read(
      one_part(measure("1", attributes(1, "2/4") + note("D5", 1) + mark("C") + note("E5", 1))));
  EXPECT_EQ(directions(inside.score), "1:1 text C");
  EXPECT_THAT(inside.remarks, ElementsAre("warning misplaced-sign: 1 section inside a bar read as "
                                          "text: bar 1"));
}

}  // namespace
}  // namespace yubifu::musicxml
