// The verb fit from end to end.
#include <cstdlib>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/json.h"
#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

// One sign a beat, on size 8, where 一 is C5.
std::string scale_on_eight(const std::string& signs) {
  return "flute: 8\nmeter: free\n\n" + signs + " |=\n";
}

std::string text_of(const base::JsonValue& row, std::string_view key) {
  const auto* value = row.find(key);
  const auto* text = value != nullptr ? value->as<std::string>() : nullptr;
  return text != nullptr ? *text : std::string();
}

double number_of(const base::JsonValue& row, std::string_view key) {
  const auto* value = row.find(key);
  const auto* number = value != nullptr ? value->as<base::JsonNumber>() : nullptr;
  return number != nullptr ? number->value : -1;
}

// The rows of the JSON report.
std::vector<base::JsonValue> rows_of(std::vector<std::string> arguments,
                                     const std::filesystem::path& folder) {
  arguments.insert(arguments.end(), {"--report", "json"});
  arguments.insert(arguments.begin(), "fit");
  const ProgramRun run = run_yubifu(arguments, folder);
  EXPECT_EQ(run.status, 0) << run.err;
  auto report = base::parse_json(base::SourceText("report", run.out));
  EXPECT_THAT(report.diagnostics, IsEmpty());
  const auto* rows = report.value->find("fits")->as<base::JsonArray>();
  return rows != nullptr ? *rows : base::JsonArray{};
}

std::vector<int> plain_sizes(const std::vector<base::JsonValue>& rows, int notes) {
  std::vector<int> sizes;
  for (const base::JsonValue& row : rows) {
    if (number_of(row, "plain") == notes) sizes.push_back(static_cast<int>(number_of(row, "size")));
  }
  return sizes;
}

// A score that names a flute of its own is ranked on it too, unless sizes are asked for.
TEST(Fit, RanksTheScoresOwnFlute) {
  const TemporaryFolder folder;
  folder.write("own.json", R"({"yubifu-flute": 1, "title": "Festival", "holes": 2, "ichi": "D5+37c",
      "entries": [{"sign": "い", "register": "low", "pattern": "●○", "cents": 0},
                  {"sign": "ろ", "register": "low", "pattern": "○○", "cents": 230}]})");
  folder.write("own.yubifu", "flute: own.json\nmeter: free\n\nい ろ い |=\n");
  folder.write("half.yubifu", "flute: 6.5\nmeter: free\n\n一 二 一 |=\n");
  const auto own = rows_of({"own.yubifu"}, folder.path());
  ASSERT_EQ(own.size(), 14U);
  EXPECT_EQ(text_of(own.front(), "flute"), "own.json");
  EXPECT_EQ(number_of(own.front(), "plain"), 3);
  EXPECT_EQ(rows_of({"own.yubifu", "--flute", "own.json"}, folder.path()).size(), 14U);
  EXPECT_EQ(rows_of({"own.yubifu", "--flute", "6,7"}, folder.path()).size(), 2U);
  const auto half = rows_of({"half.yubifu"}, folder.path());
  ASSERT_EQ(half.size(), 14U);
  EXPECT_EQ(number_of(half.front(), "size"), 6.5);
  folder.write("whole.yubifu", "flute: 6\nmeter: free\n\n一 二 一 |=\n");
  EXPECT_EQ(rows_of({"whole.yubifu"}, folder.path()).size(), 13U);
}

TEST(Fit, PrintsATableWithTheBestFluteFirst) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 8\n\n三 五 六 - | 六 五 三 - |=\n");
  const ProgramRun run = run_yubifu({"fit", "tune.yubifu", "--flute", "8,9,11"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err, IsEmpty());
  // E G A lie plain on 8, where three, two and four fingers move from note to note.
  EXPECT_THAT(run.out, HasSubstr("tune.yubifu: 6 notes, the best flute first\n\n"
                                 "flute  do   octave  plain  half  hard  bent  loud  out  effort  "
                                 "hardest bar     to take it"
                                 "\n8      C5        0      6     0     0     0     0    0 "));
  EXPECT_THAT(run.out, HasSubstr("\n9      Db5 "));
  EXPECT_THAT(run.out, AllOf(HasSubstr("\n11     Eb5 "), HasSubstr("short: the holes lie close")));
}

// The notes of 一 are those of the table of sizes: F on 1 and 13, B♭ on 6, C on 8, G on 3.
TEST(Fit, TwoOctavesOfAScaleLiePlainWhereIchiIsItsDo) {
  const TemporaryFolder folder;
  folder.write("c.yubifu", scale_on_eight("一 二 三 四 五 六 七 1 2 3 4 5 6 7 8"));
  folder.write("f.yubifu", "flute: 1\nmeter: free\n\n一 二 三 四 五 六 七 1 2 3 4 5 6 7 8 |=\n");
  folder.write("b.yubifu", "flute: 6\nmeter: free\n\n一 二 三 四 五 六 七 1 2 3 4 5 6 7 8 |=\n");
  EXPECT_THAT(plain_sizes(rows_of({"c.yubifu"}, folder.path()), 15), ElementsAre(8));
  EXPECT_THAT(plain_sizes(rows_of({"b.yubifu"}, folder.path()), 15), ElementsAre(6));
  EXPECT_THAT(plain_sizes(rows_of({"f.yubifu"}, folder.path()), 15), ElementsAre(1, 13));
}

// A tune as any notation program writes it, from C4 to C5.
const std::string kFittedStaff = [] {
  std::string notes;
  for (const std::string note : {"C4", "E4", "G4", "A4", "C5", "A4", "G4", "E4"}) {
    notes += fmt::format(
        "<note><pitch><step>{}</step><octave>{}</octave></pitch><duration>1</duration></note>",
        note[0], note[1]);
  }
  return "<score-partwise version='4.0'><part-list><score-part id='P1'><part-name>A</part-name>"
         "</score-part></part-list><part id='P1'><measure number='1'><attributes><divisions>1"
         "</divisions><time><beats>8</beats><beat-type>4</beat-type></time></attributes>" +
         notes + "</measure></part></score-partwise>";
}();

// The line to take a flute is what convert does with that flute alone.
TEST(Fit, PrintsTheShiftThatConvertTakes) {
  const TemporaryFolder folder;
  folder.write("tune.musicxml", kFittedStaff);
  folder.write("again.yubifu", "flute: 8\nmeter: 8/4\n\n一 三 五 六 1 六 五 三 |=\n");
  const auto convert = [&](std::string name, std::vector<std::string> options) {
    options.insert(options.begin(), {"convert", std::move(name)});
    const ProgramRun run = run_yubifu(options, folder.path());
    EXPECT_EQ(run.status, 0) << run.err;
    return run.out;
  };
  int shifted = 0;
  for (const base::JsonValue& row : rows_of({"tune.musicxml"}, folder.path())) {
    const std::string size = fmt::format("{}", number_of(row, "size"));
    const int octave = static_cast<int>(number_of(row, "octave"));
    std::vector<std::string> wanted{"--flute", size};
    if (octave != 0) wanted.insert(wanted.end(), {"--octave", std::to_string(octave)});
    std::vector<std::string> words;
    for (const base::JsonValue& word : *row.find("options")->as<base::JsonArray>()) {
      words.push_back(*word.as<std::string>());
    }
    EXPECT_EQ(words, wanted);
    const std::string alone = convert("tune.musicxml", {"--flute", size});
    EXPECT_EQ(alone,
              convert("tune.musicxml", {"--flute", size, "--octave", std::to_string(octave)}));
    shifted += octave != 0 ? 1 : 0;
  }
  EXPECT_GT(shifted, 0);
  const ProgramRun table = run_yubifu({"fit", "tune.musicxml"}, folder.path());
  EXPECT_THAT(table.out, HasSubstr("  --flute 8 --octave 1\n"));
  // The fingers of a text stay unless they are asked to go, and keys and singers move it.
  const ProgramRun text = run_yubifu({"fit", "again.yubifu", "--move", "-2"}, folder.path());
  EXPECT_THAT(text.out, HasSubstr("  --flute 6 --refinger --move -2\n"));
  EXPECT_THAT(convert("again.yubifu", {"--flute", "6", "--refinger", "--move", "-2"}),
              HasSubstr("一 三 五 六 1 六 五 三 |="));
}

// A staff that names no flute is written for any: its notes are those of a flute with an offset.
TEST(Fit, TakesAStaffForTheOwnNotesOfAFluteBetweenSizes) {
  const TemporaryFolder folder;
  folder.write("tune.musicxml", kFittedStaff);
  for (const std::string flute : {"7+10c", "7.5"}) {
    const auto rows = rows_of({"tune.musicxml", "--flute", flute}, folder.path());
    ASSERT_EQ(rows.size(), 1u);
    EXPECT_EQ(number_of(rows[0], "bent"), 0) << flute;
    const std::string octave = fmt::format("{}", number_of(rows[0], "octave"));
    const auto convert = [&](std::vector<std::string> options) {
      options.insert(options.begin(), {"convert", "tune.musicxml", "--flute", flute});
      return run_yubifu(options, folder.path()).out;
    };
    EXPECT_EQ(convert({}), convert({"--octave", octave}));
  }
}

TEST(Fit, ReadsStaffAndMidiAndChoosesATrack) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", scale_on_eight("三 五 六 七 1 2 3"));
  for (const std::string name : {"tune.musicxml", "tune.mid", "tune.json"}) {
    ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", name}, folder.path()).status, 0);
    const auto rows = rows_of({name}, folder.path());
    ASSERT_EQ(rows.size(), 13u) << name;
    EXPECT_THAT(plain_sizes(rows, 7), testing::Contains(8)) << name;
  }
  EXPECT_EQ(run_yubifu({"fit", "tune.mid", "--track", "2"}, folder.path()).status, 0);
  const ProgramRun none = run_yubifu({"fit", "tune.mid", "--track", "9"}, folder.path());
  EXPECT_EQ(none.status, 2);
  EXPECT_THAT(none.err, HasSubstr("track"));
}

TEST(Fit, JoinsFluteFilesToTheSizes) {
  const TemporaryFolder folder;
  folder.write("own.json", R"({"yubifu-flute": 1, "title": "Own", "like": 7.5})");
  folder.write("tune.yubifu", "flute: 7.5\n\n一 三 五 1 |=\n");
  const auto rows = rows_of({"tune.yubifu", "--flute", "own.json"}, folder.path());
  // The sizes, the half size of the score, and behind its equal the file.
  ASSERT_EQ(rows.size(), 15u);
  EXPECT_EQ(number_of(rows[0], "size"), 7.5);
  EXPECT_EQ(text_of(rows[1], "flute"), "own.json");
  EXPECT_EQ(text_of(rows[1], "title"), "Own");
  EXPECT_EQ(number_of(rows[1], "plain"), 4);
  EXPECT_EQ(rows[1].find("size"), nullptr);
  EXPECT_EQ(rows_of({"tune.yubifu", "--flute", "own.json,7"}, folder.path()).size(), 2u);
  const auto half = rows_of({"tune.yubifu", "--flute", "7.5,6+15c"}, folder.path());
  EXPECT_EQ(number_of(half[0], "size"), 7.5);
  EXPECT_EQ(number_of(half[1], "cents"), 15);
}

TEST(Fit, FindsAKeyForEachFlute) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 9\n\n一 二 三 四 | 五 六 七 1 |=\n");
  const auto rows = rows_of({"tune.yubifu", "--any-key"}, folder.path());
  EXPECT_EQ(plain_sizes(rows, 8).size(), 13u);
  EXPECT_EQ(number_of(rows[0], "size"), 7);
  EXPECT_EQ(number_of(rows[0], "semitones"), -2);
  const ProgramRun table = run_yubifu({"fit", "tune.yubifu", "--any-key"}, folder.path());
  EXPECT_THAT(table.out, HasSubstr("octave  semitones  plain"));
}

// The pitch number of a singer is the size whose 三 it is: 4 (C) for a tune fingered on 6.
TEST(Fit, StartsFromASingersPitchNumber) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n一 二 三 四 | 五 六 七 1 |=\n");
  EXPECT_EQ(number_of(rows_of({"tune.yubifu"}, folder.path())[0], "size"), 6);
  EXPECT_EQ(number_of(rows_of({"tune.yubifu", "--pitch-number", "4"}, folder.path())[0], "size"),
            4);
}

TEST(Fit, TellsWhatItTookAndWarnsOfLoudNotes) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "一 5 8 2̇ |=\n");
  const ProgramRun run = run_yubifu({"fit", "tune.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err,
              AllOf(HasSubstr("no flute is named, so the melody is taken as one for size 8"),
                    HasSubstr("hearing protection")));
}

TEST(Fit, SaysNothingOfTheFluteThatAStaffDoesNotName) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 1\n\n筒 一 二 三 |=\n");
  ASSERT_EQ(
      run_yubifu({"convert", "tune.yubifu", "--lyrics", "none", "-o", "tune.mid"}, folder.path())
          .status,
      0);
  const ProgramRun run = run_yubifu({"fit", "tune.mid"}, folder.path());
  EXPECT_THAT(run.err, AllOf(Not(HasSubstr("no flute")), Not(HasSubstr("out of reach"))));
}

TEST(Fit, RefusesWhatDoesNotGoTogether) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", scale_on_eight("一 二"));
  const auto refused = [&](std::vector<std::string> arguments, const std::string& part) {
    arguments.insert(arguments.begin(), "fit");
    const ProgramRun run = run_yubifu(arguments, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, HasSubstr(part));
  };
  refused({}, "fit needs an input");
  refused({"tune.yubifu", "tune.yubifu"}, "one melody at a time");
  refused({"tune.yubifu", "--any-key", "--pitch-number", "3"}, "exclude each other");
  refused({"tune.yubifu", "--pitch-number", "13"}, "from 1 to 12");
  refused({"tune.yubifu", "--report", "sarif"}, "text or json");
  refused({"tune.yubifu", "--flute", "none.json"}, "none.json");
  refused({"none.yubifu"}, "none.yubifu");
}

TEST(Fit, FollowsItsSchema) {
  if (std::system("/usr/bin/python3 -c 'import jsonschema' 2>/dev/null") != 0) {
    GTEST_SKIP() << "the Debian package python3-jsonschema is not installed";
  }
  const TemporaryFolder folder;
  folder.write("tune.yubifu", scale_on_eight("一 二メ 8"));
  folder.write("quiet.yubifu", scale_on_eight("・"));
  folder.write("own.flute", R"({"yubifu-flute": 1, "title": "Own", "like": "6"})");
  const std::vector<std::vector<std::string>> runs{
      {"tune.yubifu"},
      {"quiet.yubifu"},
      {"tune.yubifu", "--any-key", "--flute", "./own.flute"},
      {"tune.yubifu", "--flute", "6+15c,7.5"}};
  int number = 0;
  for (std::vector<std::string> arguments : runs) {
    arguments.insert(arguments.begin(), "fit");
    arguments.insert(arguments.end(), {"--report", "json", "-o", fmt::format("{}.json", number++)});
    EXPECT_EQ(run_yubifu(arguments, folder.path()).status, 0);
  }
  folder.write("bad-kind.json", R"({"yubifu-fit": 1, "input": "a", "notes": -1, "fits": []})");
  const std::string command = fmt::format(
      "/usr/bin/python3 {0}/tests/oracles/score_schema.py {0}/schemas/fit.schema.json {1}",
      YUBIFU_SOURCE_DIR, folder.path().string());
  EXPECT_EQ(std::system(command.c_str()), 0);
}

}  // namespace
}  // namespace yubifu::tests
