// Flutes described by files: what they say, what can be wrong with them, and measured flutes.
#include "flute/flute_file.h"

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <stdlib.h>

#include "base/file.h"
#include "flute/rules.h"
#include "support/flute_files.h"
#include "support/text.h"

namespace yubifu::flute {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::IsSupersetOf;

const model::FluteName kName = model::FlutePath{"own.json"};

base::Outcome<Flute> read(std::string text, double a4_hz = 440) {
  return read_flute_file(base::SourceText("own.json", std::move(text)), kName, a4_hz);
}

std::vector<std::string> findings(const std::string& text) {
  const base::SourceText source("own.json", text);
  return support::short_forms(read_flute_file(source, kName, 440).diagnostics, source);
}

Flute example(const std::string& name, double a4_hz = 440) {
  auto outcome = read(*base::read_file(tests::flute_file(name)).value, a4_hz);
  EXPECT_THAT(outcome.diagnostics, IsEmpty()) << name;
  return *std::move(outcome.value);
}

const Entry& entry_of(const Flute& flute, std::string_view sign) {
  const auto standard = model::parse_printed(sign);
  const model::Fingering own{model::Sign(std::string(sign)), model::HalfHole::none, 0};
  return flute.entries().at(flute.find(standard.value_or(own)).value());
}

double cents_of(const Flute& flute, std::string_view sign) {
  return entry_of(flute, sign).cents;
}

constexpr std::string_view kHead =
    R"({"yubifu-flute": 1, "title": "T", "holes": 2, "ichi": "D5", "entries": [)";

std::string with_entries(std::string_view entries) {
  return std::string(kHead) + std::string(entries) + "]}";
}

TEST(FluteFile, reads_every_example_without_a_finding) {
  const std::vector<std::string> names = tests::flute_file_names();
  for (const std::string& name : names) example(name);
  EXPECT_EQ(names.size(), 6u);
}

// Measured: a kagura flute maker's public pages, 指孔の音程; the cents and ratios were worked out
// by hand from the readings.
struct Measured {
  std::string_view low;
  double cents;
  std::string_view second;
  double ratio;
};

void expect_measured(const Flute& flute, const std::vector<Measured>& rows) {
  for (const Measured& row : rows) {
    EXPECT_NEAR(cents_of(flute, row.low), row.cents, 0.05) << row.low;
    const double octave = cents_of(flute, row.second) - cents_of(flute, row.low);
    if (row.ratio == 0) continue;
    EXPECT_NEAR(std::exp2(octave / 1200), row.ratio, 0.00005) << row.low;
  }
}

TEST(FluteFile, the_pipe_of_seven_equal_holes_has_the_published_intervals) {
  const Flute flute = example("equal-holes-seven.json");
  EXPECT_EQ(flute.hole_count(), 7u);
  expect_measured(flute, {{"筒", -259.4, "閉", 1.9957},
                          {"一", 0, "1", 1.9852},
                          {"二", 152.1, "2", 1.9847},
                          {"三", 305.4, "3", 1.9798},
                          {"四", 469.7, "4", 1.9703},
                          {"五", 655.3, "5", 1.9568},
                          {"六", 860.4, "6", 1.9436},
                          {"七", 1090.6, "7", 1.9269}});
  EXPECT_NEAR(model::frequency_hz(flute.ichi(), 440), 539, 1e-6);
}

TEST(FluteFile, the_pipe_of_six_equal_holes_has_the_published_intervals) {
  const Flute flute = example("equal-holes-six.json");
  EXPECT_EQ(flute.hole_count(), 6u);
  // The description prints no ratios for this one.
  expect_measured(flute, {{"筒", -255.2, "閉", 0},
                          {"一", 0, "1", 0},
                          {"二", 179.5, "2", 0},
                          {"三", 368.3, "3", 0},
                          {"四", 580.2, "4", 0},
                          {"五", 815.7, "5", 0},
                          {"六", 1085.7, "6", 0}});
  EXPECT_FALSE(flute.find(*model::parse_printed("七")));
}

// How far each sign lies from the tempered note that it would be on a flute in equal temperament,
// and so the bend that a tempered scale needs: the published cents, less the tempered ones.
struct FromTempered {
  std::string_view sign;
  double tempered;
  double distance;
};

void expect_distances(const Flute& flute, const std::vector<FromTempered>& rows) {
  for (const FromTempered& row : rows) {
    EXPECT_NEAR(cents_of(flute, row.sign) - row.tempered, row.distance, 0.06) << row.sign;
  }
}

TEST(FluteFile, equal_holes_lie_as_far_from_the_tempered_scale_as_published) {
  expect_distances(example("equal-holes-seven.json"), {{"筒", -300, 40.6},
                                                       {"一", 0, 0},
                                                       {"二", 200, -47.9},
                                                       {"三", 400, -94.6},
                                                       {"四", 500, -30.3},
                                                       {"五", 700, -44.7},
                                                       {"六", 900, -39.6},
                                                       {"七", 1100, -9.4}});
  expect_distances(example("equal-holes-six.json"), {{"筒", -300, 44.8},
                                                     {"一", 0, 0},
                                                     {"二", 200, -20.5},
                                                     {"三", 400, -31.7},
                                                     {"四", 600, -19.8},
                                                     {"五", 800, 15.7},
                                                     {"六", 1100, -14.3}});
}

// Octave ratios are below 2, more so the higher the hole: from the readings 1950 / 1012 and so on.
TEST(FluteFile, the_second_register_of_equal_holes_is_flat_as_published) {
  expect_distances(example("equal-holes-seven.json"), {{"1", 1200, -12.9},
                                                       {"2", 1400, -61.2},
                                                       {"3", 1600, -112.15},
                                                       {"4", 1700, -56.2},
                                                       {"5", 1900, -82.5},
                                                       {"6", 2100, -89.1},
                                                       {"7", 2300, -73.9}});
  expect_measured(example("equal-holes-six.json"), {{"筒", -255.2, "閉", 1.99356},
                                                    {"一", 0, "1", 1.98519},
                                                    {"二", 179.5, "2", 1.98164},
                                                    {"三", 368.3, "3", 1.97455},
                                                    {"四", 580.2, "4", 1.96291},
                                                    {"五", 815.7, "5", 1.94566},
                                                    {"六", 1085.7, "6", 1.93175}});
}

TEST(FluteFile, a_tempered_scale_on_equal_holes_needs_bends_and_leaves_gaps) {
  const Flute flute = example("equal-holes-seven.json");
  const auto reach = [&](double cents) {
    std::vector<std::string> found;
    for (const Reach& r : flute.reaches(flute.ichi().total_cents() + cents)) {
      model::Fingering fingering = fingering_of(flute.entries()[r.entry]);
      fingering.bend_cents = r.bend_cents;
      found.push_back(printed(fingering));
    }
    return found;
  };
  EXPECT_THAT(reach(0), ElementsAre("一"));
  EXPECT_THAT(reach(200), IsEmpty());  // 二 at 152 bends up by 30 at most
  EXPECT_THAT(reach(300), ElementsAre("三↓5"));
  EXPECT_THAT(reach(500), ElementsAre("四↑30"));  // 30.3 in whole cents: just within the limit
  EXPECT_THAT(reach(700), IsEmpty());             // 五 at 655
  EXPECT_THAT(reach(900),
              ElementsAre("閉↓37"));  // 六 at 860 does not reach, the overblown tube does
  EXPECT_THAT(reach(1100), ElementsAre("七↑9"));
}

// By pure fifths from D = 292.7 Hz, against equal temperament at A4 = 440: a maker's published
// standard, 2018 (the cents computed). Makers call the values guides.
TEST(FluteFile, the_song_flute_by_fifths_has_the_published_deviations) {
  const Flute flute = example("song-by-fifths-six.json");
  const std::vector<std::pair<std::string_view, double>> deviations{
      {"三", -5.7},  {"七", -3.7}, {"五メ", -1.8}, {"二メ", 0.2}, {"六メ", 2.1}, {"三メ", 4.1},
      {"七メ", 6.0}, {"四", 8.0},  {"一", 9.9},    {"五", 11.9},  {"二", 13.9},  {"六", 15.8},
      {"0", 6.0},    {"筒", 15.8}, {"3", -5.7},    {"2̇", 13.9}};
  for (const auto& [sign, deviation] : deviations) {
    EXPECT_NEAR(flute.sound(*model::parse_printed(sign))->cents, deviation, 1) << sign;
  }
  // The chain itself: eight fifths lead from D to A♯.
  const double a_sharp = 292.7 * std::pow(1.5, 8) / 16;
  EXPECT_NEAR(model::frequency_hz(flute.ichi(), 440), a_sharp, 0.01);
  EXPECT_EQ(model::printed(entry_of(flute, "三メ").patterns[0]), "●●●●◐○○");
}

TEST(FluteFile, readings_are_converted_to_the_temperature_of_the_concert) {
  // The square root of absolute temperature (physics of sound in air), worked out by hand: 2.95
  // cents a degree at 20 °C, 343.2 m/s there against 331.3 m/s at 0 °C.
  EXPECT_NEAR(1200 * std::log2(hz_at(440, 20, 21) / 440), 2.95, 0.01);
  EXPECT_NEAR(1200 * std::log2(hz_at(440, 20, 19) / 440), -2.96, 0.01);
  EXPECT_NEAR(1200 * std::log2(hz_at(440, 5, 30) / 440), 74.50, 0.01);
  EXPECT_NEAR(hz_at(343.2, 20, 0), 331.3, 0.1);
  EXPECT_NEAR(hz_at(436.3, 20, 25), 440.0, 0.05);
  EXPECT_DOUBLE_EQ(hz_at(440, 20, 20), 440);
  const Flute flute = example("lantern-procession.json");
  EXPECT_NEAR(model::frequency_hz(flute.ichi(), 440), 548 * std::sqrt(293.15 / 301.15), 1e-6);
  EXPECT_NEAR(cents_of(flute, "ろ"), 0, 1e-9);
  EXPECT_NEAR(cents_of(flute, "ち"), 1200 * std::log2(1090.0 / 548), 1e-6);
  EXPECT_EQ(entry_of(flute, "ち").in, model::Register::second);
  EXPECT_EQ(flute.bend_limits().low, (BendLimit{60, 40}));
  EXPECT_EQ(flute.bend_limits().third, BendLimits{}.third);
}

// 548 Hz read at 28 °C: the pitches of one flute at three concerts, in cents from MIDI key 0.
TEST(FluteFile, converts_to_the_concert_temperature_asked_for) {
  const auto ichi_at = [](std::string_view temperatures) {
    const auto outcome =
        read(R"({"yubifu-flute": 1, "title": "T", "holes": 2, )" + std::string(temperatures) +
             R"( "entries": [{"sign": "一", "pattern": "●○", "hz": 548}]})");
    return model::frequency_hz(outcome.value->ichi(), 440);
  };
  EXPECT_NEAR(ichi_at(""), 548.0, 0.01);
  EXPECT_NEAR(ichi_at(R"("temperature": 28,)"), 540.7, 0.05);
  EXPECT_NEAR(ichi_at(R"("temperature": 28, "concert-temperature": 28,)"), 548.0, 0.01);
  EXPECT_NEAR(ichi_at(R"("temperature": 28, "concert-temperature": 10,)"), 531.4, 0.05);
}

TEST(FluteFile, takes_a_size_as_number_or_text) {
  const auto ichi_like = [](std::string_view like) {
    const auto outcome =
        read(R"({"yubifu-flute": 1, "title": "T", "like": )" + std::string(like) + "}");
    EXPECT_THAT(outcome.diagnostics, IsEmpty());
    return outcome.value->ichi().total_cents();
  };
  // B♭4 is MIDI key 70.
  EXPECT_EQ(ichi_like("6"), 7000);
  EXPECT_EQ(ichi_like("6.5"), 7050);
  EXPECT_EQ(ichi_like(R"("6")"), 7000);
  EXPECT_EQ(ichi_like(R"("6-15c")"), 6985);
}

TEST(FluteFile, takes_a_note_up_to_99_cents_off) {
  const auto ichi_of = [](std::string_view note) {
    const auto outcome = read(R"({"yubifu-flute": 1, "title": "T", "like": 6, "ichi": ")" +
                              std::string(note) + "\"}");
    EXPECT_THAT(outcome.diagnostics, IsEmpty());
    return outcome.value->ichi().total_cents();
  };
  // D5 is MIDI key 74.
  EXPECT_EQ(ichi_of("D5+99c"), 7499);
  EXPECT_EQ(ichi_of("D5-99c"), 7301);
}

TEST(FluteFile, readings_keep_their_frequency_at_any_tuning_and_notes_follow_it) {
  const Flute measured = example("equal-holes-seven.json", 442);
  EXPECT_NEAR(model::frequency_hz(measured.ichi(), measured.tuning_hz()), 539, 1e-6);
  EXPECT_NEAR(cents_of(measured, "七"), 1090.6, 0.05);
  const Flute noted = example("third-register-seven.json", 442);
  EXPECT_EQ(noted.ichi(), (model::Pitch{71, 8}));
}

TEST(FluteFile, starts_from_a_built_in_flute) {
  const Flute flute = example("third-register-seven.json");
  EXPECT_EQ(flute.title(), "Seven with a longer third register");
  EXPECT_EQ(flute.name(), kName);
  EXPECT_EQ(flute.ichi(), (model::Pitch{71, 8}));
  EXPECT_EQ(cents_of(flute, "5"), 1900);
  EXPECT_EQ(cents_of(flute, "6̇"), 3290);
  EXPECT_EQ(entry_of(flute, "6̇").in, model::Register::third);
  EXPECT_EQ(entry_of(flute, "2̇").patterns.size(), 2u);
  EXPECT_EQ(cents_of(flute, "2̇"), 2600);
  EXPECT_FALSE(flute.find(*model::parse_printed("二メ")));
  EXPECT_EQ(cents_of(flute, "一カ"), 80);
  EXPECT_EQ(entry_of(flute, "一カ").kind, EntryKind::half_hard);
  EXPECT_EQ(flute.bend_limits().third, (BendLimit{20, 10}));
}

TEST(FluteFile, knows_how_hard_half_holes_are) {
  const Flute flute = *read(with_entries(
                                R"({"sign": "一", "pattern": "xo", "cents": 0},
      {"sign": "三メ", "pattern": "ho", "cents": 250}, {"sign": "5メ", "pattern": "hh", "cents": 1400},
      {"sign": "0", "pattern": "ox", "cents": 1000},
      {"sign": "い", "register": "low", "pattern": "oo", "cents": 350},
      {"sign": "いメ", "register": "low", "pattern": "oh", "cents": 300},
      {"sign": "二", "pattern": "oo", "effort": "cross", "cents": 1150, "register": "second"})"))
                           .value;
  EXPECT_EQ(entry_of(flute, "一").kind, EntryKind::plain);
  EXPECT_EQ(entry_of(flute, "三メ").kind, EntryKind::half_usual);
  EXPECT_EQ(entry_of(flute, "5メ").kind, EntryKind::half_harder);
  EXPECT_EQ(entry_of(flute, "0").kind, EntryKind::cross);
  EXPECT_EQ(entry_of(flute, "二").kind, EntryKind::cross);
  const auto own = flute.find({model::Sign("い"), model::HalfHole::under, 0});
  EXPECT_EQ(flute.entries()[own.value()].kind, EntryKind::half_harder);
}

class FluteRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(FluteRule, is_broken_by_its_wrong_example_alone) {
  const base::Rule& rule = *GetParam();
  const auto outcome = read(std::string(rule.wrong));
  ASSERT_EQ(outcome.diagnostics.size(), 1u) << rule.wrong;
  EXPECT_EQ(outcome.diagnostics[0].rule->name, rule.name);
  EXPECT_EQ(outcome.value.has_value(), rule.severity != base::Severity::error);
}

TEST_P(FluteRule, is_kept_by_its_right_example) {
  const auto outcome = read(std::string(GetParam()->right));
  EXPECT_THAT(outcome.diagnostics, IsEmpty());
  EXPECT_TRUE(outcome.value);
}

INSTANTIATE_TEST_SUITE_P(All, FluteRule, testing::ValuesIn(rules()), [](const auto& test) {
  std::string name(test.param->name);
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(FluteFile, tells_line_and_column_of_every_fault) {
  EXPECT_THAT(
      findings(R"({"yubifu-flute": 2,
 "title": "",
 "holes": 40,
 "like": "14",
 "temperature": 100,
 "bend-limits": {"low": {"down": 300}, "middle": {}},
 "ichi": "H5",
 "without": ["一"],
 "entries": [{"sign": "一", "register": "deep", "effort": "easy", "pattern": "●◑",
              "cents": 1e9, "hz": 3, "colour": "red"}],
 "tuning": 440})"),
      ElementsAre("1:18 error json-value", "2:11 error json-value", "4:10 error json-value",
                  "3:11 error json-value", "5:17 error json-value", "6:34 error json-value",
                  "6:40 warning json-unknown", "9:40 error json-value", "9:58 error json-value",
                  "9:77 error flute-pattern", "10:24 error json-value", "10:35 error json-value",
                  "10:38 warning json-unknown", "7:10 error flute-ichi",
                  "11:2 warning json-unknown"));
}

TEST(FluteFile, refuses_what_is_no_flute) {
  EXPECT_THAT(findings("[]"), ElementsAre("1:1 error json-kind"));
  EXPECT_THAT(findings("{"), Contains(HasSubstr("json-syntax")));
  EXPECT_THAT(findings(""), Contains(HasSubstr("json-syntax")));
  EXPECT_THAT(findings("{}"), Contains("1:1 error json-missing"));
  EXPECT_THAT(findings(with_entries("")), ElementsAre("1:72 error json-value"));
  EXPECT_THAT(findings(R"({"yubifu-flute": 1, "title": "T", "like": "6", "holes": 6})"),
              ElementsAre("1:43 error flute-pattern"));
  EXPECT_THAT(findings(with_entries(R"({"sign": "い", "pattern": "xo", "cents": 0})")),
              ElementsAre("1:73 error flute-sign"));
  EXPECT_THAT(findings(with_entries(R"({"sign": "一↓20", "pattern": "xo", "cents": 0})")),
              ElementsAre("1:82 error flute-sign"));
  EXPECT_THAT(findings(with_entries(R"({"sign": "一", "pattern": 7, "cents": 0})")),
              Contains("1:98 error json-kind"));
  EXPECT_THAT(findings(with_entries(R"({"sign": "一", "pattern": "xo", "cents": 0, "hz": 600})")),
              ElementsAre("1:122 error flute-pitch"));
}

TEST(FluteFile, doubts_only_what_cannot_be_told_apart) {
  // Overblown, spelled twice, or the same fingers up to a steadying hole.
  EXPECT_THAT(findings(with_entries(R"({"sign": "一", "pattern": "xo", "cents": 0},
{"sign": "1", "pattern": "xo", "cents": 1190},
{"sign": "0", "pattern": "ho", "cents": 900},
{"sign": "7メ", "pattern": "ho", "cents": 2050},
{"sign": "二メ", "pattern": "hx", "cents": 100},
{"sign": "一カ", "pattern": "hx", "cents": 100},
{"sign": "二", "pattern": "oo", "cents": 200},
{"sign": "三", "pattern": "os", "cents": 300})")),
              ElementsAre("8:1 warning flute-alike"));
}

// The schema is the contract with other programs, so another program judges the files.
class Schema : public testing::Test {
 protected:
  void SetUp() override {
    if (std::system("/usr/bin/python3 -c 'import jsonschema' 2>/dev/null") != 0) {
      GTEST_SKIP() << "the Debian package python3-jsonschema is not installed";
    }
  }

  // Files called bad-….json must be invalid, all others valid.
  static bool agrees_on(const std::string& folder) {
    const std::string command = fmt::format(
        "/usr/bin/python3 {0}/tests/oracles/score_schema.py {0}/schemas/flute.schema.json {1}",
        YUBIFU_SOURCE_DIR, folder);
    return std::system(command.c_str()) == 0;
  }
};

TEST_F(Schema, holds_for_the_examples) {
  EXPECT_TRUE(agrees_on(std::string(YUBIFU_SOURCE_DIR) + "/examples/flutes"));
}

TEST_F(Schema, holds_for_what_the_rules_call_right_and_knows_faults_of_form) {
  std::string folder = testing::TempDir() + "yubifu-XXXXXX";
  ASSERT_NE(::mkdtemp(folder.data()), nullptr);
  const auto save = [&](std::string_view name, std::string_view text) {
    std::ofstream(fmt::format("{}/{}.json", folder, name)) << text;
  };
  for (const base::Rule* rule : rules()) save(rule->name, rule->right);
  save("bad-version", R"({"yubifu-flute": 2, "title": "T", "like": "6"})");
  save("bad-title", R"({"yubifu-flute": 1, "title": "", "like": "6"})");
  save("bad-holes", R"({"yubifu-flute": 1, "title": "T", "ichi": "D5", "entries": []})");
  save("bad-member", R"({"yubifu-flute": 1, "title": "T", "like": "6", "tuning": 442})");
  save("bad-pattern", with_entries(R"({"sign": "一", "pattern": "●◑", "cents": 0})"));
  save("bad-pitch", with_entries(R"({"sign": "一", "pattern": "xo", "cents": 0, "hz": 600})"));
  save("bad-effort",
       with_entries(R"({"sign": "一", "pattern": "xo", "cents": 0, "effort": "no"})"));
  EXPECT_TRUE(agrees_on(folder));
  std::filesystem::remove_all(folder);
}

TEST(FluteFile, survives_damage) {
  const std::string whole = *base::read_file(tests::flute_file("third-register-seven.json")).value;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    read(whole.substr(0, i));
    std::string changed = whole;
    changed[i] = changed[i] == '1' ? '9' : '1';
    read(changed);
    changed.erase(i, 1);
    read(changed);
  }
}

}  // namespace
}  // namespace yubifu::flute
