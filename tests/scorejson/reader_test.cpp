// What is wrong with a score JSON is told with its line and column.
#include "scorejson/reader.h"

#include <algorithm>
#include <random>
#include <set>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "base/rules.h"
#include "scorejson/rules.h"
#include "scorejson/writer.h"
#include "support/invariants.h"
#include "support/score_generator.h"
#include "support/text.h"

namespace yubifu::scorejson {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::StartsWith;

std::vector<std::string> faults(const std::string& json) {
  const base::SourceText source("x.json", json);
  const auto read = read_score_json(source);
  EXPECT_EQ(read.value.has_value(), !base::has_errors(read.diagnostics));
  if (read.value) {
    EXPECT_THAT(support::broken_invariants(*read.value), IsEmpty());
  }
  return support::short_forms(read.diagnostics, source);
}

// The first fault must be this one, at the place that an @ marks.
void expect_at(std::string marked, std::string_view fault) {
  const std::size_t at = marked.find('@');
  ASSERT_NE(at, std::string::npos) << marked;
  marked.erase(at, 1);
  const base::Position place = base::SourceText("x.json", marked).position(at);
  const auto found = faults(marked);
  ASSERT_FALSE(found.empty()) << marked;
  EXPECT_EQ(found.front(), fmt::format("{}:{} {}", place.line, place.column, fault)) << marked;
}

std::string first_line(const std::string& json) {
  const base::SourceText source("x.json", json);
  const auto read = read_score_json(source);
  return read.diagnostics.empty() ? "" : base::one_line(read.diagnostics[0], source);
}

// A score of one measure and one note with something changed about a line: the measure stands in
// line 3, the note in line 5.
std::string with(const std::string& measure, const std::string& note) {
  return fmt::format(
      "{{\"yubifu-score\": 1,\n\"measures\": [\n{{{}}}\n], \"notes\": [\n{{{}}}\n]}}", measure,
      note);
}
const std::string kMeasure = R"("length": "4", "meter": "4/4")";
const std::string kNote = R"("measure": 0, "onset": "0", "duration": "4", "sign": "三")";

std::string with_measure(const std::string& members) {
  return with(kMeasure + ", " + members, kNote);
}
std::string with_note(const std::string& members) {
  return with(kMeasure, kNote + ", " + members);
}
std::string with_direction(const std::string& members) {
  return with_measure(R"("directions": [{)" + members + "}]");
}
std::string with_header(const std::string& members) {
  return fmt::format("{{\"yubifu-score\": 1, \"header\": {{\n{}}}, \"measures\": [{{{}}}]}}",
                     members, kMeasure);
}

TEST(ScoreJsonReader, NeedsOnlyLengthAndMeter) {
  EXPECT_THAT(faults(with(kMeasure, kNote)), IsEmpty());
  EXPECT_THAT(faults(R"({"yubifu-score": 1, "measures": []})"), IsEmpty());
  const auto read = read_score_json(base::SourceText("x", with(kMeasure, kNote)));
  EXPECT_EQ(read.value->measures[0].number, "1");
  EXPECT_EQ(read.value->measures[0].beat, model::Rational(1));
}

TEST(ScoreJsonReader, KnowsWhatItMarksAsIrregularByItself) {
  const auto read = read_score_json(base::SourceText(
      "x", R"({"yubifu-score": 1, "measures": [{"length": "5", "meter": "4/4"}]})"));
  ASSERT_TRUE(read.ok());
  EXPECT_TRUE(read.value->measures[0].irregular);
}

TEST(ScoreJsonReader, RefusesWhatIsNoScore) {
  EXPECT_THAT(faults("[]"), ElementsAre("1:1 error not-score-json"));
  EXPECT_THAT(faults("\n {\"measures\": []}"), ElementsAre("2:2 error not-score-json"));
  EXPECT_THAT(faults(R"({"yubifu-score": "1"})"), ElementsAre("1:18 error not-score-json"));
  EXPECT_THAT(faults(R"({"yubifu-score": 1.5})"), ElementsAre("1:18 error not-score-json"));
  EXPECT_THAT(faults(R"({"yubifu-score": 1})"), ElementsAre("1:1 error json-missing"));
  EXPECT_THAT(faults(R"({"yubifu-score": 1, "measures": [}])"),
              ElementsAre("1:34 error json-syntax"));
}

TEST(ScoreJsonReader, TellsOfFaultsInTheHeader) {
  expect_at(with_header(R"("title": @1)"), "error json-kind");
  expect_at(with_header(R"("dance": @[])"), "error json-kind");
  expect_at(with_header(R"("meter": @"4/5")"), "error json-value");
  expect_at(with_header(R"("meter": @"3/4")"), "error json-value");
  expect_at(with_header(R"("beat": @"1/8")"), "error json-value");
  expect_at(with_header(R"("flute": @"14")"), "error json-value");
  expect_at(with_header(R"("tuning": @"high")"), "error json-value");
  expect_at(with_header(R"("tuning": @"-1")"), "error json-value");
  expect_at(with_header(R"("tempo": @"1/4=0")"), "error json-value");
  expect_at(with_header(R"("key": @"H")"), "error json-value");
  expect_at(with_header(R"("staff": @"inc")"), "error json-value");
  expect_at(with_header(R"("zero": @"none")"), "error json-value");
}

TEST(ScoreJsonReader, TellsOfFaultsInMeasures) {
  EXPECT_THAT(faults(with(R"("meter": "4/4")", kNote)).front(), "3:1 error json-missing");
  expect_at(with_measure(R"("index": @1)"), "error json-value");
  expect_at(with_measure(R"("onset": @"1")"), "error json-value");
  expect_at(with_measure(R"("beat": @"x")"), "error json-value");
  EXPECT_THAT(faults(with_measure(R"("beat": "3")")), ElementsAre("3:1 error score-inconsistent"));
  expect_at(with_measure(R"("left": @"repaet")"), "error json-value");
  expect_at(with_measure(R"("right": @"double")"), "error json-value");
  expect_at(with_measure(R"("times": @1)"), "error json-value");
  EXPECT_THAT(faults(with_measure(R"("times": 3)")), ElementsAre("3:1 error score-inconsistent"));
  expect_at(with_measure(R"("ending": [@0])"), "error json-kind");
  EXPECT_THAT(faults(with_measure(R"("ending": [2, 1])")),
              ElementsAre("3:1 error score-inconsistent"));
  expect_at(with_measure(R"("break": @"page")"), "error json-value");
  EXPECT_THAT(faults(with_measure(R"("irregular": true)")),
              ElementsAre("3:1 error score-inconsistent"));
  expect_at(with_measure(R"("comments": [@{}])"), "error json-missing");
  expect_at(with_measure(R"(@"lenght": "4")"), "warning json-unknown");
}

TEST(ScoreJsonReader, TellsOfFaultsInDirections) {
  EXPECT_THAT(faults(with_direction(R"("onset": "1", "kind": "dyn", "value": "p")")), IsEmpty());
  EXPECT_THAT(faults(with_direction(R"("kind": "dyn", "value": "p")")),
              ElementsAre("3:48 error json-missing"));
  expect_at(with_direction(R"("onset": "1", "kind": @"dim", "value": "p")"), "error json-value");
  EXPECT_THAT(faults(with_direction(R"("onset": "1", "kind": "dyn")")),
              ElementsAre("3:48 error json-missing"));
  expect_at(with_direction(R"("onset": "1", "kind": "key", "value": @"X")"), "error json-value");
  expect_at(with_direction(R"("onset": "1", "kind": "rit", @"value": "x")"),
            "warning json-unknown");
  EXPECT_THAT(faults(with_direction(R"("onset": "9", "kind": "rit")")),
              ElementsAre("3:48 error score-inconsistent"));
  EXPECT_THAT(faults(with_direction(R"("onset": "1", "kind": "fine")")),
              ElementsAre("3:48 error score-inconsistent"));
}

TEST(ScoreJsonReader, TakesWhatStandsAtTheStartIntoTheHeaderOnce) {
  const std::string start = R"("directions": [{"onset": "0", "kind": "tempo", "value": "90"}])";
  const auto read = read_score_json(base::SourceText("x", with_measure(start)));
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(read.value->header.tempo, (model::Tempo{90, 1}));
  EXPECT_THAT(faults(fmt::format("{{\"yubifu-score\": 1, \"header\": {{\"tempo\": \"80\"}}, "
                                 "\"measures\": [{{{}, {}}}]}}",
                                 kMeasure, start)),
              ElementsAre("1:108 error score-inconsistent"));
}

TEST(ScoreJsonReader, TellsOfFaultsInNotes) {
  const auto note = [](const std::string& members) { return with(kMeasure, members); };
  EXPECT_THAT(faults(note(R"("measure": 1, "onset": "0", "duration": "1", "sign": "三")")).front(),
              "5:13 error json-value");
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "4", "duration": "1", "sign": "三")")),
              ElementsAre("5:1 error score-inconsistent", "5:1 error score-inconsistent"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "-1", "duration": "1", "sign": "三")")),
              ElementsAre("5:1 error score-inconsistent"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "0", "duration": "5", "sign": "三")")),
              ElementsAre("5:1 error score-inconsistent"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "0", "duration": 1, "sign": "三")")),
              ElementsAre("5:42 error json-kind"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "0", "duration": "1")")),
              ElementsAre("5:1 error score-inconsistent"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "0", "duration": "1", "sign": "")")),
              ElementsAre("5:1 error score-inconsistent"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "0", "duration": "1", "sign": null)")),
              ElementsAre("5:1 error score-inconsistent"));
  EXPECT_THAT(faults(note(R"("measure": 0, "onset": "0", "duration": "1", "bend": 5)")).front(),
              "5:1 error json-missing");
  expect_at(with_note(R"("bend": @201)"), "error json-value");
  expect_at(with_note(R"("half": @"up")"), "error json-value");
  expect_at(with_note(R"("midi": @301)"), "error json-value");
  expect_at(with_note(R"("midi": 60, "cents": @51)"), "error json-value");
  EXPECT_THAT(faults(with_note(R"("cents": 5)")), ElementsAre("5:1 error json-missing"));
  expect_at(with_note(R"("step": @"H", "octave": 4)"), "error json-value");
  EXPECT_THAT(faults(with_note(R"("step": "C")")), ElementsAre("5:1 error json-missing"));
  expect_at(with_note(R"("holes": @"●a")"), "error json-value");
  EXPECT_THAT(faults(with_note(R"("slur": true)")), ElementsAre("5:1 error score-inconsistent"));
  expect_at(with_note(R"(@"sing": "三")"), "warning json-unknown");
}

TEST(ScoreJsonReader, TellsOfFaultsInMarksAndVerses) {
  expect_at(with_note(R"("marks": [{"name": @"acent"}])"), "error json-value");
  expect_at(with_note(R"("marks": [@{}])"), "error json-missing");
  expect_at(with_note(R"("marks": [@"accent"])"), "error json-kind");
  EXPECT_THAT(faults(with_note(R"("marks": [{"name": "uchi"}, {"name": "uchi"}])")),
              ElementsAre("5:1 error score-inconsistent"));
  expect_at(with_note(R"("marks": [@{"name": "pre"}])"), "error json-missing");
  expect_at(with_note(R"("marks": [{"name": "pre", "value": @"六 x"}])"), "error json-value");
  expect_at(with_note(R"("marks": [{"name": "pre", "value": @"六", "tones": [{"sign": "七"}]}])"),
            "error json-value");
  expect_at(
      with_note(R"("marks": [{"name": "pre", "value": "六"}, {"name": @"pre", "value": "六"}])"),
      "error json-value");
  expect_at(with_note(R"("marks": [{"name": "holes", "value": @"?"}])"), "error json-value");
  expect_at(with_note(R"("verses": [{"verse": @"0", "text": "a"}])"), "error json-value");
  expect_at(with_note(R"("verses": [@{"text": "a"}])"), "error json-missing");
  expect_at(with_note(R"("verses": [{"verse": "1", "text": "a", "kind": @"start"}])"),
            "error json-value");
  EXPECT_THAT(faults(with_note(R"("verses": [{"verse": "1", "text": ""}])")),
              ElementsAre("5:1 error score-inconsistent"));
}

TEST(ScoreJsonReader, ReadsGraceNotesFromTheirTextAlone) {
  const auto read = read_score_json(base::SourceText(
      "x",
      with_note(
          R"("marks": [{"name": "post", "value": "六 七メ↓20 ?F#4↑5"}, {"name": "accent"}, {"name": "fermata"}])")));
  ASSERT_TRUE(read.ok());
  const model::Note& note = read.value->notes[0];
  ASSERT_EQ(note.grace_after.size(), 3u);
  EXPECT_EQ(model::printed(*note.grace_after[1].fingering), "七メ↓20");
  EXPECT_TRUE(note.grace_after[2].fingering->is_gap());
  EXPECT_EQ(note.grace_after[2].fingering->bend_cents, 5);
  EXPECT_EQ(note.grace_after[2].spelling, (model::Spelling{model::Step::f, 1, 4}));
  EXPECT_THAT(note.marks, ElementsAre(model::Mark::fermata, model::Mark::accent));
}

TEST(ScoreJsonReader, TellsOfFaultsInFlutesAndRests) {
  const auto score = [](const std::string& member) {
    return fmt::format("{{\"yubifu-score\": 1, \"measures\": [{{{}}}],\n{}}}", kMeasure, member);
  };
  EXPECT_THAT(faults(score(R"("flutes": [{"measure": 0, "name": "6", "midi": 70}])")), IsEmpty());
  EXPECT_THAT(faults(score(R"("flutes": [{"measure": 0, "name": "x", "midi": 70}])")),
              ElementsAre("2:35 error json-value"));
  EXPECT_THAT(faults(score(R"("flutes": [{"measure": 0, "onset": "1", "name": "6", "midi": 70}])")),
              ElementsAre("2:36 error json-value"));
  EXPECT_THAT(faults(score(R"("flutes": [{"measure": 0, "name": "6", "midi": 70, "tuning": 0}])")),
              ElementsAre("2:62 error json-value"));
  EXPECT_THAT(faults(score(R"("flutes": [{"measure": 2, "name": "6", "midi": 70}])")).front(),
              "2:24 error json-value");
  EXPECT_THAT(faults(score(R"("flutes": [{"measure": 0, "name": "6", "midi": 70},
{"measure": 0, "name": "7", "midi": 71}])")),
              ElementsAre("3:1 error score-inconsistent"));
  EXPECT_THAT(
      faults(score(R"("rests": [{"measure": 0, "onset": "1", "marks": [{"name": "breath"}]}])")),
      IsEmpty());
  EXPECT_THAT(faults(score(R"("rests": [{"measure": 0, "onset": "1", "marks": []}])")),
              ElementsAre("2:11 error score-inconsistent"));
  EXPECT_THAT(
      faults(score(R"("rests": [{"measure": 0, "onset": "1", "marks": [{"name": "uchi"}]}])")),
      ElementsAre("2:11 error score-inconsistent"));
}

TEST(ScoreJsonReader, SaysWhatItFoundAndWhatToDo) {
  EXPECT_EQ(
      first_line(with_note(R"("marks": [{"name": "acent"}])")),
      "x.json:5:79: error: a mark of note 0: \"name\" is \"acent\", which is not known (did you "
      "mean \"accent\"?) [json-value]");
  EXPECT_EQ(first_line(with_measure(R"("beat": "x")")),
            "x.json:3:41: error: bar index 0: \"beat\" is \"x\", which is no time (write quarter "
            "notes such as \"2\" or \"3/2\") [json-value]");
  EXPECT_THAT(first_line(with_header(R"("flute": "14")")),
              StartsWith("x.json:2:10: error: the header: \"flute\" is \"14\""));
}

// Each rule's wrong example breaks exactly that rule, and its right one none. The two that are
// described in words are tested elsewhere.
TEST(ScoreJsonRules, ExamplesBreakExactlyTheirRule) {
  const std::set<std::string_view> described{"json-too-large", "field-left-out"};
  std::vector<const base::Rule*> all = rules();
  for (const base::Rule* rule : base::rules()) {
    if (rule->name.starts_with("json-")) all.push_back(rule);
  }
  for (const base::Rule* rule : all) {
    if (described.contains(rule->name)) continue;
    const base::SourceText wrong("x.json", std::string(rule->wrong));
    const auto read = read_score_json(wrong);
    std::set<std::string_view> found;
    for (const base::Diagnostic& one : read.diagnostics) found.insert(one.rule->name);
    EXPECT_THAT(found, ElementsAre(rule->name));
    EXPECT_THAT(faults(std::string(rule->right)), IsEmpty()) << rule->name;
    EXPECT_TRUE(rule->sentence.ends_with('.'));
  }
}

// Damaged files are refused with places, or read as sound scores.
TEST(ScoreJsonReader, SurvivesDamage) {
  std::mt19937_64 random(5);
  support::GeneratorOptions options;
  options.most_measures = 3;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const std::string good = *write_score_json(support::random_score(seed, options)).value;
    for (int i = 0; i < 60; ++i) {
      std::string bad = good;
      for (std::uint64_t n = 1 + random() % 2; n > 0; --n) {
        const std::size_t at = random() % bad.size();
        const std::string digits = "0123456789-/[]{}\",:";
        if (random() % 3 == 0) {
          bad.erase(at, 1 + random() % 30);
        } else {
          bad[at] = digits[random() % digits.size()];
        }
      }
      faults(bad);
    }
  }
}

TEST(ScoreJsonReader, RefusesTimesThatOverflow) {
  EXPECT_THAT(
      faults(
          R"({"yubifu-score": 1, "measures": [{"length": "9223372036854775807", "meter": "free"}],
 "notes": [{"measure": 0, "onset": "0", "duration": "9223372036854775808", "sign": "三"}]})"),
      ElementsAre("2:53 error json-value"));
  EXPECT_THAT(
      faults(
          R"({"yubifu-score": 1, "measures": [{"length": "9223372036854775807/2", "meter": "free"}],
 "notes": [{"measure": 0, "onset": "1/3", "duration": "9223372036854775807/7", "sign": "三"}]})")
          .size(),
      1u);
}

}  // namespace
}  // namespace yubifu::scorejson
