// Scores at random: what is written is read again as the same score, and written again as the
// same text.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

std::string told(const base::Diagnostics& diagnostics, const base::SourceText& source) {
  std::string text;
  for (const base::Diagnostic& finding : diagnostics)
    text += base::one_line(finding, source) + '\n';
  return text;
}

// Notes and warnings that a written text may give: header fields that nobody knows.
bool is_expected(const base::Diagnostic& finding) {
  return finding.rule->name == "unknown-header";
}

// Writes, reads and writes again; the message tells what went wrong.
testing::AssertionResult round_trip(const model::Score& score, Alphabet alphabet) {
  const auto written = write_notation(score, {alphabet});
  if (!written.value || !written.diagnostics.empty()) {
    return testing::AssertionFailure()
           << "not written: " << told(written.diagnostics, base::SourceText("score", ""));
  }
  const base::SourceText source("score.yubifu", *written.value);
  const auto read = read_notation(source);
  for (const base::Diagnostic& finding : read.diagnostics) {
    if (is_expected(finding)) continue;
    return testing::AssertionFailure() << base::one_line(finding, source) << "\nin\n"
                                       << *written.value;
  }
  if (!read.value) return testing::AssertionFailure() << "not read\n" << *written.value;
  if (const auto difference = support::first_difference(score, *read.value)) {
    return testing::AssertionFailure() << *difference << "\nin\n" << *written.value;
  }
  const auto broken = support::broken_invariants(*read.value);
  if (!broken.empty()) return testing::AssertionFailure() << broken[0] << "\n" << *written.value;
  const auto again = write_notation(*read.value, {alphabet});
  if (!again.value) return testing::AssertionFailure() << "not written again";
  if (*again.value != *written.value) {
    return testing::AssertionFailure() << "first\n" << *written.value << "then\n" << *again.value;
  }
  return testing::AssertionSuccess();
}

void expect_round_trips(std::uint64_t first, std::uint64_t count,
                        const support::GeneratorOptions& options) {
  int failures = 0;
  for (std::uint64_t seed = first; seed < first + count && failures < 3; ++seed) {
    const model::Score score = support::random_score(seed, options);
    const Alphabet alphabet = seed % 2 == 0 ? Alphabet::printed : Alphabet::ascii;
    const auto result = round_trip(score, alphabet);
    EXPECT_TRUE(result) << "seed " << seed;
    if (!result) ++failures;
  }
}

TEST(WriterRoundTrip, KeepsAllThatTheTextCanSay) {
  support::GeneratorOptions options;
  options.own_signs = true;
  options.flute_files = true;
  expect_round_trips(1, support::rounds(2500), options);
}

TEST(WriterRoundTrip, KeepsTheLayoutItMadeItself) {
  support::GeneratorOptions options;
  options.comments = false;
  options.most_measures = 40;
  expect_round_trips(100'000, support::rounds(300), options);
}

TEST(WriterRoundTrip, KeepsSimpleRhythmsAndTuplets) {
  support::GeneratorOptions options;
  options.directions = false;
  options.most_measures = 20;
  options.rhythm = support::RhythmKind::simple;
  expect_round_trips(200'000, support::rounds(700), options);
  options.rhythm = support::RhythmKind::tuplets;
  expect_round_trips(300'000, support::rounds(700), options);
}

// The author's way of lining up song text with the music stays, in every verse.
TEST(WriterRoundTrip, KeepsBarSignsInSongLines) {
  const auto tidied = [](const std::string& text) {
    const auto read = read_notation(base::SourceText("test.yubifu", text));
    EXPECT_THAT(support::rule_names(read.diagnostics), testing::IsEmpty()) << text;
    const std::string written = *write_notation(*read.value, {}).value;
    return written.substr(written.find("\n\n") + 2);
  };
  const std::string song =
      "   三 三 五 六 | 七 (六 五) 六 - :|\n"
      ">  み な と の | あ  か り  が   |\n"
      ">2 か ぜ の ね | な  み の  ね   |\n";
  EXPECT_EQ(tidied("三 三 五 六 | 七 (六 五) 六 - :|\n> み な と の | あ か り が\n"
                   ">2 か ぜ の ね な み の ね\n"),
            song);
  EXPECT_EQ(tidied(song), song);
  EXPECT_EQ(tidied("三 三 五 六 |\n> み な と の\n"), "  三 三 五 六 |\n> み な と の\n");
  // A bar of rests at the start of a repeat: its sign has one in the song, too.
  const std::string waits =
      "  |: ・ ・ ・ ・ | 三 三 五 六 :|\n"
      "> |              | み な と の |\n";
  EXPECT_EQ(tidied(waits), waits);
}

}  // namespace
}  // namespace yubifu::notation
