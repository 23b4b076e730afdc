// Every reading rule's wrong example breaks that rule and no other; the right one breaks none.
// The report of what could not be carried over: one warning a kind, with its measures.
#include <algorithm>
#include <set>
#include <string>
#include <string_view>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/read/reader.h"
#include "musicxml/rules.h"
#include "musicxml/staff_text.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/document_text.h"
#include "musicxml/zip_archive.h"

namespace yubifu::musicxml {
namespace {

using Names = std::set<std::string_view>;

// The rules broken by bytes. Notes count only for the rule that is one.
Names broken_by(std::string_view bytes, const base::Rule& rule,
                const MusicXmlReadOptions& options = {}) {
  base::Outcome<std::string> text = xml_text(bytes);
  base::Diagnostics all = std::move(text.diagnostics);
  if (text.value) {
    const base::SourceText source("example.musicxml", *std::move(text.value));
    base::append(all, read_musicxml(source, options).diagnostics);
  }
  Names names;
  for (const base::Diagnostic& finding : all) {
    const bool counts = finding.severity != base::Severity::note || finding.rule == &rule;
    if (counts) names.insert(finding.rule->name);
  }
  return names;
}

Names only(const base::Rule& rule) {
  return {rule.name};
}

class ReadingRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(ReadingRule, IsBrokenByItsWrongExampleOnly) {
  const base::Rule& rule = *GetParam();
  EXPECT_EQ(broken_by(rule.wrong, rule), only(rule)) << rule.wrong;
  EXPECT_EQ(broken_by(rule.right, rule), Names{}) << rule.right;
}

INSTANTIATE_TEST_SUITE_P(
    MusicXml, ReadingRule,
    testing::Values(&rule::xml_syntax, &rule::xml_limits, &rule::not_a_staff_file,
                    &rule::no_measures, &rule::unpitched_part, &rule::staff_limits,
                    &rule::staff_overflow, &rule::left_out, &rule::detail_left_out,
                    &rule::tie_without_partner, &rule::odd_duration, &rule::odd_position,
                    &rule::overlapping_notes, &rule::uneven_bar, &rule::strokes_differ,
                    &rule::octave_twice, &rule::silent_voice, &rule::voice_followed,
                    &rule::not_a_fingering, &rule::unknown_value, &rule::misplaced_sign,
                    &rule::annotated_octave, &rule::jump_in_words, &rule::no_meter),
    [](const auto& test) {
      std::string name(test.param->name);
      std::replace(name.begin(), name.end(), '-', '_');
      return name;
    });

// --- Rules whose examples are bytes or options, and so stand in words

TEST(ReadingRuleInWords, UnreadableTextAndDeclaredEncoding) {
  const std::string rest = one_bar(note("D5", 8));
  const std::string title = "<!-- caf\xE9 -->";
  const std::string after = rest.substr(rest.find("?>") + 2);
  EXPECT_EQ(broken_by("<?xml version=\"1.0\"?>" + title + after, rule::unreadable_text),
            only(rule::unreadable_text));
  EXPECT_EQ(broken_by("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" + title + after,
                      rule::unreadable_text),
            Names{});
  const std::string japanese = "<!-- 灯 -->";
  EXPECT_EQ(broken_by("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" + japanese + after,
                      rule::declared_encoding),
            only(rule::declared_encoding));
  EXPECT_EQ(broken_by("<?xml version=\"1.0\" encoding=\"UTF-8\"?>" + japanese + after,
                      rule::declared_encoding),
            Names{});
}

TEST(ReadingRuleInWords, Containers) {
  const std::string score = one_bar(note("D5", 8));
  const std::string whole = make_container(score).value.value();
  EXPECT_EQ(broken_by(whole.substr(0, whole.size() / 2), rule::broken_container),
            only(rule::broken_container));
  EXPECT_EQ(broken_by(whole, rule::broken_container), Names{});
  EXPECT_EQ(broken_by(zip_archive(
                          {container_naming({"../score.musicxml"}), {"../score.musicxml", score}}),
                      rule::unsafe_container),
            only(rule::unsafe_container));
  EXPECT_EQ(
      broken_by(zip_archive({container_naming({"score.musicxml"}), {"score.musicxml", score}}),
                rule::unsafe_container),
      Names{});
  EXPECT_EQ(broken_by(zip_archive({{"score.musicxml", score}}), rule::container_without_rootfile),
            only(rule::container_without_rootfile));
}

TEST(ReadingRuleInWords, PartsAndVoices) {
  const std::string flute = one_bar(note("D5", 8));
  MusicXmlReadOptions options;
  options.part = "Drum";
  EXPECT_EQ(broken_by(flute, rule::unknown_part, options), only(rule::unknown_part));
  options.part = "Flute";
  EXPECT_EQ(broken_by(flute, rule::unknown_part, options), Names{});
  options.voice = "2";
  EXPECT_EQ(broken_by(flute, rule::unknown_voice, options), only(rule::unknown_voice));
  options.voice = "1";
  EXPECT_EQ(broken_by(flute, rule::unknown_voice, options), Names{});
  const std::string voices =
      one_bar(note("D5", 8, "<voice>1</voice>") + "<backup><duration>8</duration></backup>" +
              note("E4", 8, "<voice>2</voice>"));
  EXPECT_EQ(broken_by(voices, rule::voice_chosen), only(rule::voice_chosen));
  EXPECT_EQ(broken_by(voices, rule::voice_chosen, options), Names{});
}

TEST(ReadingRuleInWords, OverflowNamesItsBar) {
  EXPECT_EQ(refusal(std::string(rule::staff_overflow.wrong)),
            "7:5 staff-overflow: the durations of bar 1 are too fine or too long to be added up");
}

using testing::ElementsAre;

constexpr const char* kFreeTime =
    "<attributes><divisions>1</divisions><time><senza-misura/></time></attributes>";

std::string chord(int notes) {
  std::string content;
  for (int i = 0; i < notes; ++i) content += note_with("<chord/>", "A4", 4);
  return content;
}

// Bars of free time with a note; `with` gives what stands behind the note of each.
std::string bars(int count, const std::vector<std::pair<int, std::string>>& with) {
  std::string measures;
  for (int bar = 1; bar <= count; ++bar) {
    std::string content = (bar == 1 ? kFreeTime : "") + note("D5", 4);
    for (const auto& [at, more] : with) content += at == bar ? more : "";
    measures += measure(std::to_string(bar), content);
  }
  return one_part(measures);
}

TEST(LossReport, JoinsThreeBarsAndMoreInARow) {
  const Reading reading =
      read(bars(12, {{3, chord(2)}, {4, chord(2)}, {9, chord(3)}, {10, chord(2)}, {11, chord(3)}}));
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 12 chord notes left out: bars 3, 4, 9-11"));
  EXPECT_EQ(reading.diagnostics[0].rule, &rule::left_out);
  EXPECT_THAT(reading.diagnostics[0].measures, ElementsAre("3", "4", "9", "10", "11"));
}

TEST(LossReport, StandsWhereTheFirstOneStood) {
  const std::string text = bars(3, {{2, chord(1)}, {3, chord(1)}});
  const Reading reading = read(text);
  ASSERT_TRUE(reading.diagnostics.at(0).where);
  const base::SourceRange where = *reading.diagnostics[0].where;
  EXPECT_EQ(where.begin, text.find("<note><chord/>"));
  EXPECT_EQ(text.substr(where.end - 7, 7), "</note>");
}

// The last measure ends at its own end tag, not at that of a measure style inside.
TEST(LossReport, StandsOnAWholeElementThatHoldsALongerName) {
  const std::string other = "<voice>2</voice>";
  const std::string style = "<attributes><measure-style number=\"1\"></measure-style></attributes>";
  const std::string text = one_part(
      measure("1", attributes(1, "4/4") + note("D5", 4, "<voice>1</voice>")) +
      measure("2", note("E5", 4, "<voice>1</voice>")) + measure("3", note("C4", 4, other) + style));
  MusicXmlReadOptions first;
  first.voice = "1";
  const Reading reading = read(text, first);
  const auto silent =
      std::find_if(reading.diagnostics.begin(), reading.diagnostics.end(),
                   [](const base::Diagnostic& found) { return found.rule == &rule::silent_voice; });
  ASSERT_NE(silent, reading.diagnostics.end());
  ASSERT_TRUE(silent->where);
  EXPECT_EQ(silent->where->begin, text.find("<measure number=\"3\""));
  EXPECT_EQ(silent->where->end, text.rfind("</measure>") + std::string("</measure>").size());
}

TEST(LossReport, HasOneSentenceAKind) {
  const std::string cue = note_with("<cue/>", "A4", 4);
  const std::string harmony = "<harmony><root><root-step>D</root-step></root></harmony>";
  const std::string turn = "<notations><ornaments><turn/></ornaments></notations>";
  const Reading reading =
      read(bars(5, {{1, cue}, {2, harmony + cue}, {4, harmony}, {5, note("E5", 1, turn)}}));
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 2 chord symbols left out: bars 2, 4",
                          "warning left-out: 2 cue notes left out: bars 1, 2",
                          "warning left-out: 1 mark on a note left out (turn): bar 5"));
}

TEST(LossReport, TellsElementsApart) {
  const auto marked = [](std::string_view ornament) {
    return note("E5", 1,
                "<notations><ornaments><" + std::string(ornament) + "/></ornaments></notations>");
  };
  const Reading reading =
      read(bars(4, {{1, marked("turn")}, {2, marked("mordent")}, {3, marked("turn")}}));
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 2 marks on notes left out (turn): bars 1, 3",
                          "warning left-out: 1 mark on a note left out (mordent): bar 2"));
}

// They mean music that does not stand in the file.
TEST(LossReport, NamesSignsThatStandForMusic) {
  const auto style = [](const std::string& sign) {
    return "<attributes><measure-style>" + sign + "</measure-style></attributes>";
  };
  const Reading reading = read(
      bars(8, {{2, style("<measure-repeat type=\"start\">1</measure-repeat>")},
               {3, style("<measure-repeat type=\"stop\"/>")},
               {4, style("<beat-repeat type=\"start\"/>")},
               {5, style("<beat-repeat type=\"stop\"/>")},
               {6, style("<slash type=\"start\"/>")},
               {7, style("<slash type=\"stop\"/>") + style("<multiple-rest>2</multiple-rest>")}}));
  EXPECT_THAT(
      reading.remarks,
      ElementsAre("warning left-out: 2 signs for repeated bars or beats left out: bars 2, 4",
                  "warning left-out: 1 slash notation left out: bar 6"));
}

TEST(LossReport, UsesPrintedNumbers) {
  const Reading reading =
      read(one_part(measure("0", attributes(1, "4/4") + note("D5", 1) + chord(1)) +
                    measure("1", note("D5", 4)) + measure("1a", note("D5", 4) + chord(1))));
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 2 chord notes left out: bars 0, 1a"));
}

TEST(LossReport, TellsUnknownElementsByName) {
  const Reading reading = read(one_bar("<tablature/>" + note("D5", 8, "<bow/>")));
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning unknown-value: 1 unknown element left out (tablature): bar 1",
                          "warning unknown-value: 1 unknown element left out (bow): bar 1"));
}

TEST(LossReport, NotesForSomeRepetitionsOnly) {
  const Reading reading =
      read(one_bar("<note time-only=\"1\"><pitch><step>D</step><octave>5</octave></pitch>"
                   "<duration>8</duration></note>"));
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 note for only some of the "
                                           "repetitions read for all: bar 1"));
}

}  // namespace
}  // namespace yubifu::musicxml
