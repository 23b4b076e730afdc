#include "model/rhythm_tree.h"

#include <algorithm>
#include <map>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "model/rational.h"
#include "model/score.h"

namespace yubifu::model {
namespace {

Rational time(const std::string& text) {
  return *parse_rational(text);
}

// A duration, with a letter before it where it is not a note: "r1/2" is a rest.
struct Piece {
  std::string text;
  bool is_rest() const { return text[0] == 'r'; }
  Rational length() const { return time(is_rest() ? text.substr(1) : text); }
};

Direction direction_at(Rational onset) {
  return {0, onset, TextDirection{"here"}, {}};
}

// A score of one bar; what it holds fills it.
Score one_bar(const Meter& meter, const std::vector<std::string>& pieces) {
  Score score;
  score.header.meter = meter;
  Measure measure;
  measure.number = "1";
  measure.meter = meter;
  measure.beat = default_beat(meter);
  for (const std::string& text : pieces) {
    const Piece piece{text};
    if (!piece.is_rest()) {
      Note note;
      note.onset = measure.length;
      note.duration = piece.length();
      score.notes.push_back(note);
    }
    measure.length += piece.length();
  }
  score.measures.push_back(measure);
  return score;
}

// How the notes of a bar are called: 1, 2, 3 …, or all alike.
enum class Naming { numbered, alike };

class BarPrinter {
 public:
  BarPrinter(const Score& score, std::size_t measure, Naming naming)
      : content_(bar_contents(score)[measure]), naming_(naming) {
    add(rhythm_words(score, measure, content_));
  }

  const std::string& text() const { return text_; }

 private:
  void add(const std::vector<RhythmWord>& words) {
    for (std::size_t i = 0; i < words.size(); ++i) {
      if (i > 0) {
        text_ += ' ';
        EXPECT_EQ(words[i - 1].end, words[i].begin);
      }
      add(words[i]);
    }
  }

  void add(const RhythmWord& word) {
    if (!word.is_group()) {
      const BarSpan& span = content_.spans[word.span];
      EXPECT_LE(span.begin, word.begin);
      EXPECT_GE(span.end, word.end);
      EXPECT_EQ(word.starts, span.begin == word.begin && !span.held_in);
      const std::size_t number = naming_ == Naming::alike ? 1 : span.note.value_or(0) + 1;
      text_ += !span.note ? "." : word.starts ? fmt::format("{}", number) : "-";
      return;
    }
    EXPECT_EQ(word.begin, word.parts.front().begin);
    EXPECT_EQ(word.end, word.parts.back().end);
    text_ += '(';
    add(word.parts);
    text_ += ')';
    if (word.words > 1) text_ += fmt::format(":{}", word.words);
    if (word.fraction != Rational(1)) text_ += ":" + to_text(word.fraction);
  }

  BarContent content_;
  Naming naming_;
  std::string text_;
};

std::string words_text(const Score& score, std::size_t measure = 0) {
  return BarPrinter(score, measure, Naming::numbered).text();
}

std::string bar_text(const Meter& meter, const std::vector<std::string>& pieces) {
  return words_text(one_bar(meter, pieces));
}

TEST(RhythmTree, WritesTheExamplesOfTheGrammar) {
  const Meter four{4, 4};
  EXPECT_EQ(bar_text({1, 4}, {"1/2", "1/2"}), "(1 2)");
  EXPECT_EQ(bar_text({1, 4}, {"1/3", "1/3", "1/3"}), "(1 2 3)");
  EXPECT_EQ(bar_text({1, 4}, {"1/4", "1/4", "1/2"}), "((1 2) 3)");
  EXPECT_EQ(bar_text({1, 4}, {"3/4", "1/4"}), "(1 (- 2))");
  EXPECT_EQ(bar_text({1, 4}, {"1/4", "1/4", "1/4", "1/4"}), "(1 2 3 4)");
  EXPECT_EQ(bar_text({2, 4}, {"2/3", "2/3", "2/3"}), "(1 2 3):2");
  EXPECT_EQ(bar_text({3, 4}, {"3/2", "3/2"}), "1 (- 2) -");
  EXPECT_EQ(bar_text({3, 4}, {"3/5", "3/5", "3/5", "3/5", "3/5"}), "(1 2 3 4 5):3");
  EXPECT_EQ(bar_text({2, 4}, {"2/3", "4/3"}), "(1 2 -):2");
  EXPECT_EQ(bar_text(four, {"1/2", "1", "1", "3/2"}), "(1 2) (- 3) (- 4) -");
  EXPECT_EQ(bar_text({2, 4}, {"3/2", "1/2"}), "1 (- 2)");
}

TEST(RhythmTree, CountsWordsInTheBeatOfTheMeter) {
  EXPECT_EQ(bar_text({6, 8}, {"1", "1/2", "1/2", "1/4", "1/4", "1/2"}), "1 - 2 3 (4 5) 6");
  Score score = one_bar({6, 8}, {"3/2", "1/2", "1/2", "1/2"});
  score.measures[0].beat = Rational(3, 2);
  EXPECT_EQ(words_text(score), "1 (2 3 4)");
}

TEST(RhythmTree, ATripletInsideAHalf) {
  EXPECT_EQ(bar_text({1, 4}, {"1/6", "1/6", "1/6", "1/2"}), "((1 2 3) 4)");
  EXPECT_EQ(bar_text({1, 4}, {"1/4", "1/6", "1/6", "1/6", "1/4"}), "(1 (2 3 4):2 5)");
}

TEST(RhythmTree, NothingJoinsOverAStartOnABeat) {
  // The second note starts on the second beat.
  EXPECT_EQ(bar_text({2, 4}, {"1", "2/3", "1/3"}), "1 (2 - 3)");
  EXPECT_EQ(bar_text({3, 4}, {"2/3", "2/3", "2/3", "1"}), "(1 2 3):2 4");
  // The last start but one lies on no beat, so the joined word reaches the end of the bar.
  EXPECT_EQ(bar_text({3, 4}, {"1", "2/3", "4/3"}), "1 (2 3 -):2");
}

TEST(RhythmTree, RestsAreOneUnlessSomethingStandsBetween) {
  EXPECT_EQ(bar_text({4, 4}, {"1", "r1", "r1/2", "1/2", "1"}), "1 . (. 2) 3");
  Score score = one_bar({2, 4}, {"2/3", "r4/3"});
  EXPECT_EQ(words_text(score), "(1 . .):2");
  score.rests.push_back({0, Rational(1), {Mark::fermata}, {}});
  EXPECT_EQ(words_text(score), "(1 - .) .");
}

TEST(RhythmTree, ADirectionInsideANoteIsAWordBoundary) {
  Score score = one_bar({2, 4}, {"2"});
  EXPECT_EQ(words_text(score), "1 -");
  score.directions.push_back(direction_at(Rational(1, 2)));
  EXPECT_EQ(words_text(score), "(1 -) -");
  score.directions.push_back(direction_at(2));
  EXPECT_EQ(words_text(score), "(1 -) -");
}

TEST(RhythmTree, ATieGoesOnWithAHold) {
  Score score = one_bar({2, 4}, {"2"});
  score.measures.push_back(score.measures[0]);
  score.notes[0].duration = Rational(7, 2);
  EXPECT_EQ(words_text(score, 0), "1 -");
  EXPECT_EQ(words_text(score, 1), "- (- .)");
}

TEST(RhythmTree, TheIncompleteWordOfABar) {
  EXPECT_EQ(bar_text({4, 4}, {"1/2"}), "(1):1/2");
  EXPECT_EQ(bar_text({4, 4}, {"1/2", "1"}), "(1):1/2 2");
  EXPECT_EQ(bar_text({4, 4}, {"1/4", "1/4", "1", "1"}), "(1 2):1/2 3 4");
  // Thirds of the two quarters of a word that three quarters make.
  EXPECT_EQ(bar_text({4, 4}, {"1/4", "1/3", "1/6", "1"}), "(1 (2 - 3):2):3/4 4");
}

TEST(RhythmTree, TheIncompleteWordIsLastElsewhere) {
  Score score = one_bar({4, 4}, {"1", "1", "3/2"});
  score.measures.insert(score.measures.begin(), score.measures[0]);
  score.measures[0].length = 4;
  for (Note& note : score.notes) note.measure = 1;
  score.measures[1].right = BarStyle::section;
  EXPECT_EQ(words_text(score, 1), "1 2 3 (-):1/2");
  EXPECT_EQ(bar_text(Meter::free_time(), {"1", "1", "3/2"}), "1 2 3 (-):1/2");
}

TEST(RhythmTree, ANewBeatInsideABar) {
  Score score = one_bar({4, 4}, {"1", "1", "1/2", "1/2", "1"});
  score.directions.push_back({0, Rational(2), BeatChange{Rational(1, 2)}, {}});
  EXPECT_EQ(words_text(score), "1 2 3 4 5 -");
  // Inside a word it counts from the word's end.
  score.directions[0].onset = Rational(3, 2);
  EXPECT_EQ(words_text(score), "1 (2 -) 3 4 5 -");
}

TEST(RhythmTree, ANewBeatInsideAPickup) {
  // Whole words of the old beat up to the change, and of the new one after them.
  Score score = one_bar({4, 4}, {"1/4", "1", "1/2", "1/2", "1/4"});
  score.directions.push_back({0, Rational(5, 4), BeatChange{Rational(1, 2)}, {}});
  EXPECT_EQ(words_text(score), "((1 2) -) (- 3 - 4) (- 5)");
  // Whole words cannot be had, so the first is incomplete.
  score = one_bar({4, 4}, {"1/4", "1", "1/2", "1/2"});
  score.directions.push_back({0, Rational(5, 4), BeatChange{Rational(1, 2)}, {}});
  EXPECT_EQ(words_text(score), "(1):1/4 2 3 4");
}

TEST(RhythmTree, AnEmptyBarHasNoWords) {
  Score score = one_bar(Meter::free_time(), {});
  EXPECT_EQ(words_text(score), "");
}

TEST(RhythmTree, ADivisionTooFineIsRefused) {
  EXPECT_NO_THROW(bar_text({2, 4}, {"1/9973", "19945/9973"}));
  EXPECT_THROW(bar_text({2, 4}, {"1/10007", "20013/10007"}), DivisionTooFine);
  // Within one word 97 and 103 together need 9,991 parts, 101 and 103 need 10,403.
  EXPECT_NO_THROW(bar_text({1, 4}, {"1/103", "6/9991", "96/97"}));
  EXPECT_THROW(bar_text({1, 4}, {"1/103", "2/10403", "100/101"}), DivisionTooFine);
  EXPECT_THROW(bar_text({4, 4}, {"1/10007"}), DivisionTooFine);
}

TEST(RhythmTree, WordsOfABarMayBeDividedUnlike) {
  const std::string text = bar_text({2, 4}, {"1/101", "100/101", "1/103", "102/103"});
  EXPECT_EQ(std::count(text.begin(), text.end(), '-'), 99 + 101);
  // Over both words the common denominator is too fine for one word of two parts.
  const std::string held = bar_text({2, 4}, {"1/101", "10401/10403", "102/103"});
  EXPECT_EQ(std::count(held.begin(), held.end(), '-'), 99 + 102);
  EXPECT_EQ(std::count(held.begin(), held.end(), ':'), 0);
}

TEST(RhythmTree, ABarTooLongIsRefused) {
  EXPECT_THROW(bar_text(Meter::free_time(), {"1000000000"}), TimeOverflow);
}

// --- the definition, searched without any of the shortcuts ---------------------------------------

struct Form {
  int words = 0;
  int joined = 0;
  int groups = 0;
  std::vector<int> sequence;  // N, then k where there is one, in reading order
  std::string text;

  auto key() const { return std::tie(words, joined, groups, sequence); }
};

Form both(const Form& a, const Form& b) {
  Form form{a.words + b.words, a.joined + b.joined, a.groups + b.groups, a.sequence, a.text};
  form.sequence.insert(form.sequence.end(), b.sequence.begin(), b.sequence.end());
  if (!a.text.empty() && !b.text.empty()) form.text += ' ';
  form.text += b.text;
  return form;
}

// Every form that the grammar's definition allows for one bar; starts hold a `1`, all else `-`.
class Definition {
 public:
  Definition(std::set<Rational> starts, Rational end) : starts_(std::move(starts)), end_(end) {}

  std::vector<Form> bar() { return row(0, end_, end_.floor(), std::nullopt); }

 private:
  std::vector<Rational> inside(Rational a, Rational b) const {
    return {starts_.upper_bound(a), starts_.lower_bound(b)};
  }

  std::int64_t denominator(Rational a, Rational b) const {
    std::int64_t common = 1;
    for (const Rational start : inside(a, b)) {
      common = std::lcm(common, ((start - a) / (b - a)).denominator());
    }
    return common;
  }

  bool allowed(Rational a, Rational b, Rational part, std::optional<std::int64_t> around) const {
    if (starts_.count(a) == 0 || (starts_.count(b) == 0 && b != end_)) return false;
    bool odd = false;
    for (const Rational start : inside(a, b)) {
      const Rational place = (start - a) / part;
      if (place.is_whole()) return false;
      odd = odd || (place.denominator() & (place.denominator() - 1)) != 0;
    }
    return odd && (!around || denominator(a, b) < *around);
  }

  std::vector<Form> row(Rational a, Rational b, std::int64_t k,
                        std::optional<std::int64_t> around) {
    const Rational part = (b - a) / k;
    if (k == 0) return {Form{}};
    std::vector<Form> forms;
    for (int n = 1; n <= 16 && n <= k; ++n) {
      const Rational middle = a + part * n;
      if (n > 1 && !allowed(a, middle, part, around)) continue;
      const std::vector<Form> rests =
          k == n ? std::vector<Form>{Form{}} : row(middle, b, k - n, around);
      for (const Form& first : word(a, middle, n)) {
        for (const Form& rest : rests) forms.push_back(both(first, rest));
      }
    }
    return forms;
  }

  std::vector<Form> word(Rational a, Rational b, int n) {
    if (inside(a, b).empty()) return {Form{1, 0, 0, {n}, starts_.count(a) == 1 ? "1" : "-"}};
    std::vector<Form> forms;
    const std::int64_t finest = denominator(a, b);
    for (int k = 2; k <= finest; ++k) {
      if (finest % k != 0) continue;
      for (Form form : row(a, b, k, finest)) {
        form.groups += 1;
        form.joined += n > 1 ? 1 : 0;
        form.sequence.insert(form.sequence.begin(), {n, k});
        form.text = '(' + form.text + ')' + (n > 1 ? fmt::format(":{}", n) : "");
        forms.push_back(form);
      }
    }
    return forms;
  }

  std::set<Rational> starts_;
  Rational end_;
};

std::string least_form(const std::set<Rational>& starts, int words) {
  const std::vector<Form> forms = Definition(starts, words).bar();
  const auto least = std::min_element(
      forms.begin(), forms.end(), [](const Form& a, const Form& b) { return a.key() < b.key(); });
  return least->text;
}

Score bar_with_starts(const std::set<Rational>& starts, int words) {
  std::vector<std::string> pieces;
  for (auto start = starts.begin(); start != starts.end(); ++start) {
    const auto next = std::next(start);
    pieces.push_back(to_text((next == starts.end() ? Rational(words) : *next) - *start));
  }
  return one_bar({words, 4}, pieces);
}

std::string found_form(const std::set<Rational>& starts, int words) {
  return BarPrinter(bar_with_starts(starts, words), 0, Naming::alike).text();
}

TEST(RhythmTree, IsTheLeastOfAllFormsThatTheDefinitionAllows) {
  std::mt19937 random(20240611);
  const std::vector<int> divisions{2, 3, 4, 5, 6, 6, 8, 9, 10, 12};
  for (int round = 0; round < 4000; ++round) {
    const int words = 1 + static_cast<int>(random() % 3);
    const int division = divisions[random() % divisions.size()];
    const int places = words * division;
    std::set<Rational> starts{0};
    const int notes = 1 + static_cast<int>(random() % 6);
    for (int note = 0; note < notes; ++note) {
      starts.insert(Rational(static_cast<int>(random() % static_cast<unsigned>(places)), division));
    }
    ASSERT_EQ(found_form(starts, words), least_form(starts, words)) << "round " << round;
  }
}

// Joined words inside groups need finer starts than chance gives.
TEST(RhythmTree, IsTheLeastOfAllFormsWhereTupletsAreNested) {
  std::mt19937 random(7);
  for (int round = 0; round < 1500; ++round) {
    const int words = 1 + static_cast<int>(random() % 2);
    std::set<Rational> starts{0};
    // Cuts a random stretch into equal parts, then one of those again.
    Rational begin = 0;
    Rational end = words;
    for (int level = 0; level < 2; ++level) {
      const int parts = 2 + static_cast<int>(random() % 4);
      const Rational part = (end - begin) / parts;
      for (int i = 0; i < parts; ++i) starts.insert(begin + part * i);
      const int first = static_cast<int>(random() % static_cast<unsigned>(parts));
      const int count = std::min(parts - first, 1 + static_cast<int>(random() % 2));
      end = begin + part * (first + count);
      begin += part * first;
      if (begin != Rational(0) && random() % 3 == 0) starts.erase(begin);
    }
    ASSERT_EQ(found_form(starts, words), least_form(starts, words)) << "round " << round;
  }
}

// --- bars made to be hard ------------------------------------------------------------------------

std::size_t started(const std::vector<RhythmWord>& words) {
  std::size_t count = 0;
  for (const RhythmWord& word : words) {
    count += word.is_group() ? started(word.parts) : static_cast<std::size_t>(word.starts);
  }
  return count;
}

// Only the end of these searches is tested: without a limit they would take hours.
TEST(RhythmTree, EndsForDenseBarsWithManyDivisors) {
  for (const int division : {9240, 7560, 10000, 8192, 9973}) {
    for (const unsigned every : {2u, 5u, 40u, 300u}) {
      std::mt19937 random(static_cast<unsigned>(division) + every);
      std::set<Rational> starts{0};
      for (int place = 1; place < 2 * division; ++place) {
        if (random() % every == 0) starts.insert(Rational(place, division));
      }
      const Score score = bar_with_starts(starts, 2);
      EXPECT_EQ(started(rhythm_words(score, 0, bar_contents(score)[0])), starts.size());
    }
  }
}

}  // namespace
}  // namespace yubifu::model
