// Every score comes back from its JSON without loss, and the JSON is what the schema says.
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "base/json.h"
#include "model/play_out.h"
#include "scorejson/reader.h"
#include "scorejson/writer.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "support/small_score.h"
#include "support/text.h"

namespace yubifu::scorejson {
namespace {

using support::random_score;
using testing::ElementsAre;
using testing::IsEmpty;

std::string json_of(const model::Score& score, const ScoreJsonWriteOptions& options = {}) {
  auto written = write_score_json(score, options);
  EXPECT_THAT(written.diagnostics, IsEmpty());
  return std::move(written.value.value());
}

model::Score score_of(const std::string& json) {
  const base::SourceText source("x.json", json);
  auto read = read_score_json(source);
  EXPECT_THAT(support::short_forms(read.diagnostics, source), IsEmpty()) << json;
  if (!read.value) return {};
  EXPECT_THAT(support::broken_invariants(*read.value), IsEmpty());
  return std::move(*read.value);
}

// What a resolved score has beyond a written one, made up.
void fill_in(model::Score& score, std::mt19937_64& random) {
  const auto fill_tone = [&](model::Tone& tone) {
    if (random() % 8 == 0) return;
    const int key = 60 + static_cast<int>(random() % 40);
    tone.pitch = model::Pitch{key, static_cast<double>(random() % 100) / 7 - 5};
    if (!tone.spelling) tone.spelling = model::spell_in_key(key, {});
    tone.holes = model::parse_hole_pattern("●●◐○○○◎");
    if (random() % 10 == 0 && !tone.fingering->is_gap()) tone.fingering.reset();
  };
  for (model::Note& note : score.notes) {
    fill_tone(note.tone);
    for (model::Tone& tone : note.grace_before) fill_tone(tone);
    for (model::Tone& tone : note.grace_after) fill_tone(tone);
  }
  for (std::size_t i = 0; i < score.measures.size(); i += 1 + random() % 4) {
    score.flutes.push_back({i, model::FluteSize{6, 0}, "6", {70, 0.25}, 442.5});
  }
  if (!score.header.tempo)
    score.header.tempo = model::Tempo{model::Rational(60'000'000, 500'001), 1};
}

TEST(ScoreJson, BringsEveryScoreBack) {
  support::GeneratorOptions own;
  own.own_signs = own.flute_files = true;
  std::mt19937_64 random(3);
  for (std::uint64_t seed = 0; seed < support::rounds(1500); ++seed) {
    model::Score score = seed % 3 == 0 ? random_score(seed, own) : random_score(seed);
    if (seed % 2 == 1) fill_in(score, random);
    ASSERT_THAT(support::broken_invariants(score), IsEmpty()) << seed;
    const std::string json = json_of(score);
    const model::Score again = score_of(json);
    ASSERT_EQ(support::first_difference(score, again), std::nullopt) << seed << "\n" << json;
    // What the comparison leaves aside must be there as well: the texts agree to the last byte.
    ASSERT_EQ(json_of(again), json) << seed;
    EXPECT_EQ(score.header, again.header) << seed;
    EXPECT_EQ(score.song_bars, again.song_bars) << seed;
    ASSERT_EQ(score.flutes.size(), again.flutes.size());
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      ASSERT_EQ(score.notes[i].tone, again.notes[i].tone) << seed;
      ASSERT_EQ(score.notes[i].grace_before, again.notes[i].grace_before) << seed;
    }
    for (std::size_t i = 0; i < score.measures.size(); ++i) {
      ASSERT_EQ(score.measures[i].number, again.measures[i].number) << seed;
      ASSERT_EQ(score.measures[i].break_before, again.measures[i].break_before) << seed;
      ASSERT_EQ(score.measures[i].comments, again.measures[i].comments) << seed;
    }
  }
}

TEST(ScoreJson, IsWhatThisPageShows) {
  model::Score score = support::small_score(2);
  score.header.title = "Rain";
  score.header.tempo = model::Tempo{90, model::Rational(1, 2)};
  score.notes.resize(5);
  score.notes[0].tone.pitch = model::Pitch{74, -14.5};
  score.notes[0].tone.spelling = model::Spelling{model::Step::d, 0, 5};
  score.notes[0].tone.fingering->half = model::HalfHole::under;
  score.notes[0].tone.fingering->bend_cents = -20;
  score.notes[0].grace_before = {support::low_tone(5)};
  score.notes[1].tone.fingering = model::Fingering{};
  score.notes[1].tone.spelling = model::Spelling{model::Step::f, 1, 4};
  score.notes[3].duration = model::Rational(3, 2);
  score.notes[4].onset = model::Rational(1, 2);
  score.notes[4].slur_to_next = false;
  score.verses = {"1"};
  score.notes[2].syllables = {{"1", "la", model::SyllableKind::begin, false}};
  score.rests = {{1, 2, {model::Mark::fermata}, {}}};
  score.directions = {{1, 1, model::Dynamic{"mf"}, {}}, {1, 4, model::Cue::fine, {}}};
  score.measures[1].repeat_end = true;
  score.measures[1].times = 3;
  EXPECT_EQ(json_of(score), R"({
  "yubifu-score": 1,
  "header": {
    "title": "Rain",
    "meter": "4/4",
    "tempo": "1/8=90"
  },
  "measures": [
    {"index": 0, "number": "1", "onset": "0", "length": "4", "meter": "4/4", "beat": "1"},
    {"index": 1, "number": "2", "onset": "4", "length": "4", "meter": "4/4", "beat": "1", "right": "repeat", "times": 3, "directions": [{"onset": "5", "kind": "dyn", "value": "mf"}, {"onset": "8", "kind": "fine"}]}
  ],
  "notes": [
    {"measure": 0, "onset": "0", "duration": "1", "midi": 74, "cents": -14.5, "step": "D", "alter": 0, "octave": 5, "sign": "三", "half": "under", "bend": -20, "marks": [{"name": "pre", "value": "五", "tones": [{"sign": "五", "half": "", "bend": 0}]}]},
    {"measure": 0, "onset": "1", "duration": "1", "step": "F", "alter": 1, "octave": 4, "sign": null, "half": "", "bend": 0},
    {"measure": 0, "onset": "2", "duration": "1", "sign": "三", "half": "", "bend": 0, "verses": [{"verse": "1", "text": "la", "kind": "begin"}]},
    {"measure": 0, "onset": "3", "duration": "3/2", "sign": "三", "half": "", "bend": 0},
    {"measure": 1, "onset": "9/2", "duration": "1", "sign": "三", "half": "", "bend": 0}
  ],
  "rests": [
    {"measure": 1, "onset": "6", "marks": [{"name": "fermata"}]}
  ]
}
)");
}

TEST(ScoreJson, OfAPlayedOutScoreNamesTheWrittenNotes) {
  model::Score score = support::small_score(1);
  score.measures[0].repeat_end = true;
  const auto played = model::play_out(score);
  const std::string json = json_of(played.value->score, {played.value->source});
  const base::SourceText source("x.json", json);
  const auto value = base::parse_json(source);
  std::vector<std::int64_t> indexes;
  for (const base::JsonValue& note : *value.value->find("notes")->as<base::JsonArray>()) {
    indexes.push_back(*note.find("source")->as<base::JsonNumber>()->whole);
  }
  EXPECT_THAT(indexes, ElementsAre(0, 1, 2, 3, 0, 1, 2, 3));
  EXPECT_EQ(json.find("repeat"), std::string::npos);
  EXPECT_EQ(score_of(json).notes.size(), 8u);
}

TEST(ScoreJson, TellsOfHeaderFieldsThatAreThereTwice) {
  model::Score score = support::small_score(1);
  score.header.unknown = {{"dance", "a"}, {"dance", "b"}, {"title", "c"}};
  const auto written = write_score_json(score);
  const base::SourceText none("x.json", "");
  EXPECT_THAT(support::short_forms(written.diagnostics, none),
              ElementsAre("- warning field-left-out", "- warning field-left-out"));
  EXPECT_EQ(score_of(*written.value).header.unknown.size(), 1u);
}

TEST(ScoreJson, TellsOfTimesThatOverflow) {
  model::Score score = support::small_score(2);
  for (model::Measure& measure : score.measures) measure.meter = model::Meter::free_time();
  score.header.meter = model::Meter::free_time();
  score.measures[0].length = model::Rational(INT64_MAX);
  score.measures[1].length = model::Rational(INT64_MAX);
  const auto written = write_score_json(score);
  ASSERT_EQ(written.diagnostics.size(), 1u);
  EXPECT_FALSE(written.value);
  EXPECT_EQ(written.diagnostics[0].rule->name, "onset-overflow");
  EXPECT_THAT(written.diagnostics[0].measures, ElementsAre("2"));
}

class Folder {
 public:
  Folder() : path_(std::filesystem::temp_directory_path() / "yubifu-XXXXXX") {
    std::string name = path_.string();
    path_ = ::mkdtemp(name.data());
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path_); }
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

// The schema is the contract with other programs, so another program judges the files.
TEST(ScoreJson, IsValidByItsSchema) {
  if (std::system("/usr/bin/python3 -c 'import jsonschema' 2>/dev/null") != 0) {
    GTEST_SKIP() << "the Debian package python3-jsonschema is not installed";
  }
  const Folder folder;
  const auto save = [&](const std::string& name, const std::string& text) {
    std::ofstream(folder.path() / name) << text;
  };
  std::mt19937_64 random(4);
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    model::Score score = random_score(seed);
    if (seed % 2 == 1) fill_in(score, random);
    save(fmt::format("{}.json", seed), json_of(score));
    const auto played = model::play_out(score);
    if (seed % 5 == 0) {
      save(fmt::format("played-{}.json", seed),
           json_of(played.value->score, {played.value->source}));
    }
  }
  const std::string measure = R"({"length": "4", "meter": "4/4"})";
  const auto bad = [&](const std::string& name, const std::string& notes) {
    save("bad-" + name + ".json",
         fmt::format(R"({{"yubifu-score": 1, "measures": [{}], {}}})", measure, notes));
  };
  save("short.json", R"({"yubifu-score": 1, "measures": [{"length": "4", "meter": "4/4"}]})");
  save("bad-version.json", R"({"yubifu-score": 2, "measures": []})");
  bad("member", R"("nothing": 1)");
  bad("time", R"("notes": [{"measure": 0, "onset": "-1", "duration": "1", "sign": "三"}])");
  bad("number", R"("notes": [{"measure": 0, "onset": 0, "duration": "1", "sign": "三"}])");
  bad("unfingered", R"("notes": [{"measure": 0, "onset": "0", "duration": "1"}])");
  bad("mark",
      R"("notes": [{"measure": 0, "onset": "0", "duration": "1", "sign": "三", "marks": [{"name": "x"}]}])");
  bad("note-member",
      R"("notes": [{"measure": 0, "onset": "0", "duration": "1", "sign": "三", "sing": 1}])");
  const std::string command = fmt::format(
      "/usr/bin/python3 {0}/tests/oracles/score_schema.py {0}/schemas/score.schema.json "
      "{1}",
      YUBIFU_SOURCE_DIR, folder.path().string());
  EXPECT_EQ(std::system(command.c_str()), 0);
}

}  // namespace
}  // namespace yubifu::scorejson
