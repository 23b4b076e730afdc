// The listing of what sounds. Frequencies are those of equal temperament (ISO 16, MIDI Tuning
// Standard) over the notes of the flute of size 6, whose 一 is B♭4, typed as numbers.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/json.h"
#include "base/source_text.h"
#include "fingering/resolve.h"
#include "midi/write/writer.h"
#include "midi/written_midi.h"
#include "support/rounds.h"
#include "support/score_generator.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;

class Listing {
 public:
  explicit Listing(const std::string& text) : Listing(score_of(text)) {}
  explicit Listing(const model::Score& score)
      : root_(*base::parse_json(
                   base::SourceText("listing", write_listing(score).value.value_or("null")))
                   .value) {}

  // One text an entry of a list: the values of these members, with spaces between.
  std::vector<std::string> list(std::string_view name, std::vector<std::string_view> keys) const {
    std::vector<std::string> texts;
    for (const base::JsonValue& entry : *root_.find(name)->as<base::JsonArray>()) {
      std::string text;
      for (const std::string_view key : keys) {
        text += (text.empty() ? "" : " ") + value_text(entry.find(key));
      }
      texts.push_back(text);
    }
    return texts;
  }

  std::vector<double> numbers(std::string_view name, std::string_view key) const {
    std::vector<double> values;
    for (const base::JsonValue& entry : *root_.find(name)->as<base::JsonArray>()) {
      values.push_back(entry.find(key)->as<base::JsonNumber>()->value);
    }
    return values;
  }

  std::string value(std::string_view key) const { return value_text(root_.find(key)); }

 private:
  static std::string value_text(const base::JsonValue* value) {
    if (value == nullptr) return "-";
    if (const auto* text = value->as<std::string>()) return *text;
    if (const auto* number = value->as<base::JsonNumber>()) {
      return fmt::format("{:.6g}", number->value);
    }
    if (const auto* truth = value->as<bool>()) return *truth ? "yes" : "no";
    if (const auto* list = value->as<base::JsonArray>()) {
      std::string all;
      for (const base::JsonValue& one : *list) all += (all.empty() ? "" : ",") + value_text(&one);
      return all;
    }
    return "null";
  }

  base::JsonValue root_;
};

std::vector<std::string> played(const std::string& text) {
  return Listing(text).list("played", {"note", "start", "length"});
}

TEST(SoundListing, HasExactQuartersAndTheSecondsOfTheTempo) {
  const Listing listing("flute: 6\ntempo: 90\n\n(三 四 五) ・ 六 - |=\n");
  EXPECT_THAT(listing.list("played", {"note", "start", "length", "at", "seconds"}),
              ElementsAre("0 0 1/3 0 0.222222", "1 1/3 1/3 0.222222 0.222222",
                          "2 2/3 1/3 0.444444 0.222222", "3 2 2 1.33333 1.33333"));
  EXPECT_EQ(listing.value("length"), "4");
  EXPECT_EQ(listing.value("seconds"), "2.66667");
}

// 60 quarters a minute, then 120; the fermata halves the tempo while it lasts.
TEST(SoundListing, FollowsTemposAndFermatas) {
  const Listing listing("flute: 6\ntempo: 60\n\n三 四 {tempo 120} 五 六{fermata} |=\n");
  EXPECT_THAT(listing.list("played", {"at", "seconds"}),
              ElementsAre("0 1", "1 1", "2 0.5", "2.5 1"));
}

TEST(SoundListing, PlaysRepeatsWithTheirEndings) {
  EXPECT_THAT(
      played("flute: 6\n\n|: 一 二 三 四 | {ending 1} 五 - - - :| {ending 2} 六 - - - |=\n"),
      ElementsAre("0 0 1", "1 1 1", "2 2 1", "3 3 1", "4 4 4", "0 8 1", "1 9 1", "2 10 1", "3 11 1",
                  "5 12 4"));
}

TEST(SoundListing, GoesFromTheSegnoToTheCoda) {
  const Listing listing(
      "flute: 6\n\n一 - - - | {segno} 二 - - - {to-coda} | 三 - - - {ds} | {coda} 四 - - - |=\n");
  EXPECT_THAT(listing.list("played", {"note", "bar", "start"}),
              ElementsAre("0 0 0", "1 1 4", "2 2 8", "1 3 12", "3 4 16"));
  EXPECT_THAT(listing.list("bars", {"number", "measure", "start"}),
              ElementsAre("1 0 0", "2 1 4", "3 2 8", "2 1 12", "4 3 16"));
}

// What is left of 四 is struck anew when the repeat comes back to its hold; it is the same note.
TEST(SoundListing, KnowsANoteThatIsStruckAnew) {
  EXPECT_THAT(played("flute: 6\n\n三 - - 四{pre 五} |: - 五 六 七 :|\n"),
              ElementsAre("0 0 3", "1 3 1/8", "2 25/8 15/8", "3 5 1", "4 6 1", "5 7 1", "2 8 1",
                          "3 9 1", "4 10 1", "5 11 1"));
}

// A grace note takes an eighth of a quarter and has a number of its own (our choice, as in MIDI).
TEST(SoundListing, GivesGraceNotesTheirTime) {
  const Listing listing("flute: 6\ntempo: 60\n\n三{pre 五 六} 四{post 五}{breath} - - |=\n");
  EXPECT_THAT(
      listing.list("played", {"note", "start", "length", "at", "attack", "marks"}),
      ElementsAre("0 0 1/8 0 tongued -", "1 1/8 1/8 0.125 slurred -", "2 1/4 3/4 0.25 slurred -",
                  "3 1 23/8 1 tongued -", "4 31/8 1/8 3.875 slurred breath"));
  EXPECT_THAT(listing.list("written", {"sign", "grace", "bar", "holes"}),
              ElementsAre("五 before 1 ●●○○○○◎", "六 before 1 ●○○○○○◎", "三 - 1 ●●●●○○○",
                          "四 - 1 ●●●○○○◎", "五 after 1 ●●○○○○◎"));
}

// B♭4 is 466.164 Hz and D5 587.330 Hz; D5 lowered by 20 cents 580.584 Hz, the gap F♯4 369.994 Hz.
TEST(SoundListing, HasTheFrequencyOfTheFluteAndTheBend) {
  const Listing listing("flute: 6\nkey: Bb\n\n一 三 三↓20 ?F#4 |=\n");
  const std::vector<double> heard = listing.numbers("played", "hz");
  const std::vector<double> wanted{466.163762, 587.329536, 580.583481, 369.994423};
  ASSERT_EQ(heard.size(), wanted.size());
  for (std::size_t i = 0; i < wanted.size(); ++i) EXPECT_NEAR(heard[i], wanted[i], 2e-6) << i;
  EXPECT_THAT(listing.list("written", {"sign", "pitch"}),
              ElementsAre("一 Bb4", "三 D5", "三↓20 D5", "null F#4"));
}

// A4 = 442 Hz is 442/440 higher: 466.163762 becomes 468.282688 Hz.
TEST(SoundListing, HasTheTuningInItsFrequencies) {
  const Listing listing("flute: 6\ntuning: 442\n\n一 - - - |=\n");
  EXPECT_NEAR(listing.numbers("played", "hz").at(0), 468.282688, 2e-6);
  EXPECT_EQ(listing.value("tuning"), "442");
}

// Equal numbers in a row are parted by a finger's strike; a breath or a rest lets the next begin
// with the tongue.
TEST(SoundListing, TellsHowEachNoteBegins) {
  const Listing listing(
      "flute: 6\n\n三 三 四~ 五 | ・ 五 五{breath} 五 | 五~ 五 三メ{suri} 四{accent} |=\n");
  EXPECT_THAT(listing.list("played", {"attack", "marks", "loudness"}),
              ElementsAre("tongued - 80", "struck - 80", "tongued - 80", "slurred - 80",
                          "tongued - 80", "struck breath 80", "tongued - 80", "struck - 80",
                          "struck - 80", "tongued suri 80", "tongued accent 96"));
}

// A pickup lacks two of its three beats, which are counted before it.
TEST(SoundListing, CountsTheBars) {
  const Listing listing("flute: 6\nmeter: 3/4\ntempo: 60\n\n三 | 三 四 五 | 六 - |=\n");
  EXPECT_THAT(listing.list("bars", {"number", "start", "length", "at", "seconds", "meter"}),
              ElementsAre("0 0 1 0 1 3/4", "1 1 3 1 3 3/4", "2 4 2 4 2 3/4"));
  EXPECT_THAT(listing.list("clicks", {"at", "first"}),
              ElementsAre("0 no", "1 yes", "2 no", "3 no", "4 yes", "5 no"));
}

// In 6/8 the felt beat is a dotted quarter; a fermata does not slow the count before it.
TEST(SoundListing, CountsInWithTheFeltBeat) {
  const auto listing =
      write_listing(score_of("flute: 6\nmeter: 6/8\ntempo: 60\n\n三{fermata} 四 五 六 - - |=\n"));
  EXPECT_THAT(*listing.value,
              testing::HasSubstr(R"("count": {"beat": 1, "bar": 2, "lacking": 0})"));
  EXPECT_THAT(*write_listing(score_of("flute: 6\nmeter: free\n\n三 四 |=\n")).value,
              testing::Not(testing::HasSubstr("count")));
}

TEST(SoundListing, SaysWhereEachNoteStandsInTheText) {
  const std::string text = "title: 港\nflute: 6\n\n三メ↓20{accent} - (四 五{pre 六}) ・ |=\n";
  const Listing listing(text);
  const std::vector<double> from = listing.numbers("written", "from");
  const std::vector<double> to = listing.numbers("written", "to");
  std::vector<std::string> words;
  for (std::size_t i = 0; i < from.size(); ++i) {
    const auto begin = static_cast<std::size_t>(from[i]);
    words.push_back(text.substr(begin, static_cast<std::size_t>(to[i]) - begin));
  }
  EXPECT_THAT(words, ElementsAre("三メ↓20{accent}", "四", "五{pre 六}", "五{pre 六}"));
}

// A tune of the seed, on the flute that it names.
model::Score random_tune(std::uint64_t seed) {
  support::GeneratorOptions options;
  options.only_built_in_signs = true;
  options.tempos = seed % 2 == 0;
  return fingering::resolve(support::random_score(seed, options), {}).value->score;
}

struct Heard {
  double begin = 0;  ///< in seconds
  double end = 0;
  double cents = 0;  ///< from MIDI key 0
};

// What a player of the MIDI file hears: its tempos, its ticks, key and pitch wheel.
std::vector<Heard> heard_in(const WrittenMidi& file) {
  std::vector<std::pair<double, double>> tempos;  // ticks, microseconds a quarter
  for (const std::string& event : file.tempos()) {
    std::istringstream words(event);
    std::string kind;
    tempos.emplace_back();
    words >> tempos.back().first >> kind >> tempos.back().second;
  }
  const auto seconds = [&](double tick) {
    double sum = 0;
    for (std::size_t i = 0; i < tempos.size() && tempos[i].first < tick; ++i) {
      const double until = i + 1 < tempos.size() ? std::min(tick, tempos[i + 1].first) : tick;
      sum += (until - tempos[i].first) / file.ppq * tempos[i].second / 1e6;
    }
    return sum;
  };
  std::vector<Heard> heard;
  double wheel = 8192;
  for (const std::string& event : file.events(1, {"on", "off", "bend"})) {
    std::istringstream words(event);
    double tick = 0;
    std::string kind;
    int channel = 0;
    double value = 0;
    words >> tick >> kind >> channel >> value;
    if (kind == "bend") wheel = value;
    if (kind == "off") heard.back().end = seconds(tick);
    if (kind == "on") {
      heard.push_back({seconds(tick), 0, 100 * value + 200 * (wheel - 8192) / 8192});
    }
  }
  return heard;
}

// Half a step of the wheel is an eightieth of a cent; a tempo is rounded to a microsecond a
// quarter.
TEST(SoundListing, PlaysWhatTheMidiFilePlays) {
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= support::rounds(100); ++seed) {
    const model::Score score = random_tune(seed);
    const WrittenMidi file = written(score);
    // Three bytes hold no slower tempo.
    if (std::count(file.said.begin(), file.said.end(), "warning tempo-range") > 0) continue;
    const std::vector<Heard> heard = heard_in(file);
    const Listing listing(score);
    const std::vector<double> at = listing.numbers("played", "at");
    const std::vector<double> length = listing.numbers("played", "seconds");
    const std::vector<double> hz = listing.numbers("played", "hz");
    ASSERT_EQ(at.size(), heard.size()) << seed;
    for (std::size_t i = 0; i < heard.size(); ++i) {
      EXPECT_NEAR(at[i], heard[i].begin, 1e-3) << seed << ": " << i;
      EXPECT_NEAR(at[i] + length[i], heard[i].end, 1e-3) << seed << ": " << i;
      EXPECT_NEAR(6900 + 1200 * std::log2(hz[i] / 440), heard[i].cents, 0.0125)
          << seed << ": " << i;
    }
    compared += heard.size();
  }
  EXPECT_GT(compared, 0U);
}

// In order, one after the other, and each in its bar; every number is that of a tone.
TEST(SoundListing, IsInOrder) {
  for (std::uint64_t seed = 1; seed <= support::rounds(100); ++seed) {
    const Listing listing(random_tune(seed));
    const std::vector<double> at = listing.numbers("played", "at");
    const std::vector<double> length = listing.numbers("played", "seconds");
    const std::vector<double> bar = listing.numbers("played", "bar");
    const std::vector<double> note = listing.numbers("played", "note");
    const std::vector<double> bars = listing.numbers("bars", "at");
    const std::vector<double> bar_length = listing.numbers("bars", "seconds");
    const auto tones = static_cast<double>(listing.list("written", {"bar"}).size());
    for (std::size_t i = 0; i < at.size(); ++i) {
      constexpr double kRounded = 2e-9;
      const double ended = i > 0 ? at[i - 1] + length[i - 1] : 0;
      EXPECT_GE(at[i], ended - kRounded) << seed << ": " << i;
      const auto in = static_cast<std::size_t>(bar[i]);
      EXPECT_GE(at[i], bars[in] - kRounded) << seed << ": " << i;
      EXPECT_LT(at[i], bars[in] + bar_length[in]) << seed << ": " << i;
      EXPECT_LT(note[i], tones) << seed << ": " << i;
    }
  }
}

TEST(SoundListing, NeedsAPitch) {
  model::Score score = score_of("三 四 五 六 |=");
  score.notes[2].tone.pitch.reset();
  const auto listing = write_listing(score);
  EXPECT_FALSE(listing.value.has_value());
  ASSERT_EQ(listing.diagnostics.size(), 1U);
  EXPECT_EQ(listing.diagnostics[0].rule->name, "missing-pitch");
}

// Quarters add up exactly where ticks do not: 1/7, 1/11, 1/13 and so on have no common grid.
TEST(SoundListing, StaysExactWhereTicksCannot) {
  const auto listing = write_listing(
      score_of("flute: 6\n\n(1 2 3 4 5 6 7) (1 2 3 4 5 6 7 1 2 3 4) (1 2 3 4 5 6 7 1 2 3 4 5 6) "
               "(1 2 3 4 5 6 7 1 2 3 4 5 6 7 1 2 3) |=\n"));
  EXPECT_TRUE(listing.diagnostics.empty());
  EXPECT_THAT(*listing.value, testing::HasSubstr(R"("start": "33/13")"));
}

}  // namespace
}  // namespace yubifu::midi
