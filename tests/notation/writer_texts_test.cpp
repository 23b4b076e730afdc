// Texts at random, written as no canonical writer would: read, written and read again they are the
// same music, and written once more the same text.
#include <random>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"

namespace yubifu::notation {
namespace {

// Makes bars of words and groups, with directions anywhere, {beat} inside groups, joined groups,
// incomplete words, line breaks and comments inside bars. Many texts break a rule of the reader.
class TextMaker {
 public:
  explicit TextMaker(unsigned seed) : random_(seed) {}

  std::string make() {
    const bool free = one_in(2);
    std::string text = free ? "meter: free\n\n" : one_in(2) ? "meter: 4/4\n\n" : "meter: 6/8\n\n";
    const int bars = 1 + below(6);
    for (int i = 0; i < bars; ++i) {
      if (!free && i % 2 == 0 && one_in(3)) text += "|: ";
      if (!free && !one_in(3)) text += "{irregular} ";
      add_bar(text, free, i == 0);
      text += pick(free ? std::vector<std::string>{"| ", "| ", "| ", "|| "}
                        : std::vector<std::string>{"|| ", ":| ", "| "});
      if (one_in(4)) text += "\n";
    }
    return text + "\n";
  }

 private:
  int below(int limit) { return static_cast<int>(random_() % static_cast<unsigned>(limit)); }
  bool one_in(int count) { return below(count) == 0; }
  std::string pick(const std::vector<std::string>& list) {
    return list[static_cast<std::size_t>(below(static_cast<int>(list.size())))];
  }

  void add_bar(std::string& text, bool free, bool is_first) {
    const bool incomplete = one_in(4);
    const bool comes_first = !free && (is_first || one_in(2));
    if (incomplete && comes_first) text += fraction() + " ";
    const int words = 1 + below(free ? 6 : 4);
    for (int i = 0; i < words; ++i) {
      if (one_in(12)) text += pick({"{rit} ", "{tempo 90} ", "{tempo 1/8=70} ", "{accel} "});
      if (one_in(20)) text += pick({"{beat 1/8} ", "{beat 1/4} ", "{beat 1/16} ", "{beat 3/8} "});
      text += word(0) + (one_in(15) ? "\n" : " ");
      if (one_in(40)) text += "# c\n";
    }
    if (incomplete && !comes_first) text += fraction() + " ";
  }

  std::string fraction() {
    std::string text = "(" + word(1);
    for (int i = below(3); i > 0; --i) text += " " + word(1);
    return text + ")" + pick({":1/2", ":1/4", ":3/4", ":2/3", ":1/8", ":5/7"});
  }

  std::string word(int depth) {
    if (depth == 4 || below(10) >= (depth == 0 ? 4 : 3)) return leaf();
    std::string text = "(";
    const int words = 2 + below(depth < 2 ? 4 : 2);
    for (int i = 0; i < words; ++i) {
      if (i > 0) text += " ";
      if (one_in(25)) text += pick({"{rit} ", "{tempo 90} ", "{text \"x\"} ", "{dyn p} "});
      if (one_in(60)) text += pick({"{beat 1/8} ", "{beat 1/4} ", "{beat 1/16} ", "{beat 1/2} "});
      text += word(depth + 1);
    }
    text += ")";
    if (one_in(6)) text += ":" + std::to_string(2 + below(3));
    return text;
  }

  std::string leaf() {
    const int kind = below(7);
    if (kind == 0 && after_note_) return "-";
    after_note_ = kind != 1;
    if (!after_note_) return one_in(6) ? "・{fermata}" : "・";
    return pick({"五", "六", "2", "1メ", "7メ↓20", "筒", "?C5", "8{accent}", "3̇", "0~"});
  }

  std::mt19937 random_;
  bool after_note_ = false;
};

struct Count {
  int same = 0;
  int refused = 0;
};

// Refused texts are those that the reader has something against, and rhythms too fine to be
// written.
void check(unsigned seed, Count& count) {
  const base::SourceText source("made", TextMaker(seed).make());
  const auto read = read_notation(source);
  if (!read.ok()) {
    ++count.refused;
    return;
  }
  ASSERT_TRUE(support::broken_invariants(*read.value).empty()) << source.text();
  const Alphabet alphabet = seed % 2 == 0 ? Alphabet::printed : Alphabet::ascii;
  const auto written = write_notation(*read.value, {alphabet});
  if (!written.diagnostics.empty()) {
    ++count.refused;
    return;
  }
  const base::SourceText text("written", *written.value);
  const auto again = read_notation(text);
  for (const base::Diagnostic& finding : again.diagnostics) {
    ADD_FAILURE() << base::one_line(finding, text) << '\n' << source.text() << text.text();
  }
  ASSERT_TRUE(again.value) << source.text() << text.text();
  EXPECT_EQ(support::first_difference(*read.value, *again.value), std::nullopt)
      << source.text() << text.text();
  EXPECT_EQ(write_notation(*again.value, {alphabet}).value, written.value) << source.text();
  ++count.same;
}

TEST(WriterTexts, AreTheSameMusicInTheCanonicalForm) {
  Count count;
  for (unsigned seed = 1; seed <= support::rounds(4000) && !HasFailure(); ++seed)
    check(seed, count);
  EXPECT_GT(count.same, count.refused);
}

}  // namespace
}  // namespace yubifu::notation
