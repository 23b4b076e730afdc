// Damaged texts: the reader ends, every finding has a rule, a message and a place inside the text,
// and what is read without an error is a sound score that can be written and read again.
#include <algorithm>
#include <cstdlib>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/read/reader.h"
#include "notation/rules.h"
#include "notation/write/writer.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

using testing::ElementsAreArray;

std::vector<std::string> sound_and_faulty_texts() {
  std::vector<std::string> texts;
  support::GeneratorOptions options;
  options.most_measures = 5;
  options.own_signs = true;
  options.flute_files = true;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    const Alphabet alphabet = seed % 3 == 0 ? Alphabet::ascii : Alphabet::printed;
    texts.push_back(
        write_notation(support::random_score(seed + 7'000'000, options), {alphabet}).value.value());
  }
  for (const base::Rule* rule : rules()) {
    texts.emplace_back(rule->wrong);
    texts.emplace_back(rule->right);
  }
  return texts;
}

// What means something somewhere, and what means nothing anywhere.
const std::vector<std::string> kPieces{"|",
                                       "||",
                                       "|=",
                                       "|:",
                                       ":|",
                                       ":|x3",
                                       "(",
                                       ")",
                                       ":2",
                                       ":1/2",
                                       "{",
                                       "}",
                                       "\"",
                                       "\\",
                                       "#",
                                       ">",
                                       ">2 ",
                                       "~",
                                       "-",
                                       "・",
                                       "%",
                                       "/",
                                       "‿",
                                       "?",
                                       "?C5",
                                       "メ",
                                       "カ",
                                       "↓",
                                       "↑20",
                                       "2\u0307",
                                       "\u0307",
                                       "8",
                                       "0",
                                       "三",
                                       "r3m",
                                       "（",
                                       "）",
                                       "｜",
                                       "　",
                                       "\t",
                                       "\n",
                                       "\r",
                                       "\n\n",
                                       "\xEF\xBB\xBF",
                                       "\xFF",
                                       "\xED\xA0\x80",
                                       "\0",
                                       "{irregular}",
                                       "{meter 3/8}",
                                       "{beat 1/8}",
                                       "{flute 7}",
                                       "{ending 1}",
                                       "{ending end}",
                                       "{tempo 1/8=90}",
                                       "{fermata}",
                                       "{pre 六}",
                                       "{segno}",
                                       "{ds}",
                                       "{section \"A\"}",
                                       "title: x\n",
                                       "meter: 6/8\n",
                                       "\n> a b\n",
                                       "\n# c\n",
                                       "99999999999999999999",
                                       "ー",
                                       "×",
                                       "♯"};

class Mutator {
 public:
  explicit Mutator(std::uint64_t seed) : random_(seed) {}

  std::string damaged(std::string text, const std::vector<std::string>& others) {
    const std::size_t times = 1 + below(4);
    for (std::size_t i = 0; i < times; ++i) step(text, others);
    return text;
  }

 private:
  std::size_t below(std::size_t count) { return random_() % count; }

  void step(std::string& text, const std::vector<std::string>& others) {
    const std::size_t at = below(text.size() + 1);
    const std::size_t length = std::min(text.size() - at, 1 + below(below(3) == 0 ? 60 : 6));
    switch (below(8)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, text.substr(at, length));
        break;
      case 2:
        text.resize(at);
        break;
      case 3:
        if (length > 0) text[at] = static_cast<char>(random_());
        break;
      case 4: {
        const std::string& other = others[below(others.size())];
        const std::size_t from = below(other.size() + 1);
        text.insert(at, other.substr(from, 1 + below(80)));
        break;
      }
      default:
        text.insert(at, kPieces[below(kPieces.size())]);
    }
  }

  std::mt19937_64 random_;
};

testing::AssertionResult findings_have_places(const base::Diagnostics& findings,
                                              const base::SourceText& source) {
  for (const base::Diagnostic& finding : findings) {
    if (finding.rule == nullptr || finding.message.empty()) {
      return testing::AssertionFailure() << "a finding without rule or message";
    }
    if (!finding.where || finding.where->begin > finding.where->end ||
        finding.where->end > source.text().size()) {
      return testing::AssertionFailure() << "no place: " << base::one_line(finding, source);
    }
  }
  return testing::AssertionSuccess();
}

testing::AssertionResult holds(const std::string& text) {
  const base::SourceText source("damaged.yubifu", text);
  const auto read = read_notation(source);
  if (auto placed = findings_have_places(read.diagnostics, source); !placed) return placed;
  if (!read.value && !base::has_errors(read.diagnostics)) {
    return testing::AssertionFailure() << "neither a score nor an error";
  }
  if (!read.ok()) return testing::AssertionSuccess();
  if (const auto broken = support::broken_invariants(*read.value); !broken.empty()) {
    return testing::AssertionFailure() << broken[0];
  }
  const auto written = write_notation(*read.value, {Alphabet::printed});
  if (!written.value) {
    return base::has_errors(written.diagnostics)
               ? testing::AssertionSuccess()
               : testing::AssertionFailure() << "neither a text nor an error";
  }
  const base::SourceText again_source("again.yubifu", *written.value);
  const auto again = read_notation(again_source);
  if (!again.ok()) {
    return testing::AssertionFailure()
           << base::one_line(again.diagnostics.front(), again_source) << "\nin\n"
           << *written.value;
  }
  if (written.diagnostics.empty()) {
    if (const auto difference = support::first_difference(*read.value, *again.value)) {
      return testing::AssertionFailure() << *difference << "\nin\n" << *written.value;
    }
  }
  const auto twice = write_notation(*again.value, {Alphabet::printed});
  if (twice.value != *written.value) {
    return testing::AssertionFailure() << "first\n"
                                       << *written.value << "then\n"
                                       << twice.value.value_or("nothing");
  }
  return testing::AssertionSuccess();
}

TEST(Damage, NeverBreaksTheReader) {
  const std::vector<std::string> texts = sound_and_faulty_texts();
  int failures = 0;
  for (std::size_t round = 0; round < support::rounds(4000) && failures < 3; ++round) {
    Mutator mutator(round);
    const std::string text = mutator.damaged(texts[round % texts.size()], texts);
    const auto result = holds(text);
    EXPECT_TRUE(result) << "round " << round << " of the text\n" << text;
    if (!result) ++failures;
  }
}

TEST(Damage, TextsOfRandomPiecesNeverBreakTheReader) {
  int failures = 0;
  for (std::uint64_t seed = 0; seed < support::rounds(1000) && failures < 3; ++seed) {
    std::mt19937_64 random(seed);
    std::string text;
    for (std::size_t i = random() % 40; i > 0; --i) {
      text += kPieces[random() % kPieces.size()];
      if (random() % 2 == 0) text += ' ';
    }
    const auto result = holds(text);
    EXPECT_TRUE(result) << "seed " << seed << " of the text\n" << text;
    if (!result) ++failures;
  }
}

// --- recovery ------------------------------------------------------------------------------------

struct FaultyBar {
  const char* text;
  const char* finding;  // column, severity and rule
};
const std::vector<FaultyBar> kFaultyBars{
    {"五五 六 七 - |", "1 error two-signs"},
    {"五 六 @ 七 |", "5 error unknown-sign"},
    {"五 六 七 |", "1 error bar-length"},
    {"五 六 七 六 五 |", "1 error bar-length"},
    {"(五 六 七 五 - |", "1 error unclosed-group"},
    {"五 六) 七 六 |", "4 error unopened-group"},
    {"・ - 六 七 |", "3 error hold-without-note"},
    {"五{acent} 六 七 - |", "2 error unknown-mark"},
    {"三メ20 五 六 七 |", "1 error half-hole-number"},
    {"五 {fermata} 六 七 六 |", "3 error free-mark"},
    {"五 {rot} 六 七 六 |", "3 error unknown-direction"},
    {"五 六 {segno} 七 六 |", "5 error direction-place"},
    {"五 2・ 六 七 |", "3 error dot-on-digit"},
    {"?H5 五 六 七 |", "1 error bad-gap"},
    {"五 六{rit} 七 六 |", "4 error glued-direction"},
    {"(五 六):0 五 六 七 |", "5 error bad-group-length"},
    {"五 六 % 七 |", "5 error same-bar-place"},
    {"五 {rit 六 七 六 |", "3 error unclosed-brace"},
};

TEST(Recovery, OneRunTellsTheFaultsOfAllBars) {
  for (std::uint64_t seed = 0; seed < support::rounds(300); ++seed) {
    std::mt19937_64 random(seed);
    std::string text;
    std::vector<std::string> expected;
    for (int line = 1; line <= 40; ++line) {
      // A short first bar would be a pickup.
      if (line == 1 || random() % 3 != 0) {
        text += "五 六 (七 六) 五 |\n";
        continue;
      }
      const FaultyBar& bar = kFaultyBars[random() % kFaultyBars.size()];
      text += std::string(bar.text) + "\n";
      expected.push_back(std::to_string(line) + ":" + bar.finding);
    }
    const base::SourceText source("song.yubifu", text);
    ASSERT_THAT(support::short_forms(read_notation(source).diagnostics, source),
                ElementsAreArray(expected))
        << "seed " << seed << "\n"
        << text;
  }
}

}  // namespace
}  // namespace yubifu::notation
