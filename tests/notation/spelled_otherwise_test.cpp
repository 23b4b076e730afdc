// One music, spelled in the many ways that the reader takes without a remark: it is read as the
// same score, and written again in the one canonical way.
#include <algorithm>
#include <array>
#include <map>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "base/utf8.h"
#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"

namespace yubifu::notation {
namespace {

using Spellings = std::vector<std::string>;

const std::map<std::string, Spellings, std::less<>> kMarkNames{
    {"{uchi}", {"{打}", "{打ち}", "{指打ち}", "{ uchi }"}},
    {"{age}", {"{上}", "{指上げ}", "{ａｇｅ}"}},
    {"{suri}", {"{スリ}", "{ｽﾘ}"}},
    {"{yuri}", {"{ユリ}", "{ﾕﾘ}"}},
    {"{breath}", {"{息}"}},
    {"{breath?}", {"{breath？}"}},
    {"{fermata}", {"{延}"}}};

const std::map<std::string, Spellings, std::less<>> kLowSigns{
    {"一", {"r1", "ｒ１"}}, {"二", {"r2"}}, {"三", {"r3", "r３"}}, {"四", {"r4"}},
    {"五", {"r5"}},         {"六", {"r6"}}, {"七", {"r7"}},        {"筒", {"rt", "ｒｔ"}}};

const std::map<std::string, Spellings, std::less<>> kPunctuation{{"(", {"（"}},
                                                                 {")", {"）"}},
                                                                 {"|", {"｜"}},
                                                                 {":", {"："}},
                                                                 {"~", {"〜"}},
                                                                 {" ", {"　", "\t", "  "}},
                                                                 {"↓", {"v"}},
                                                                 {"↑", {"^"}},
                                                                 {"メ", {"m", "ﾒ", "×", "♭"}},
                                                                 {"カ", {"k", "ｶ", "♯"}},
                                                                 {"?", {"？"}}};

// Rewrites the music lines of a text; header, song text, comments, quotes stay as they are.
class Disguise {
 public:
  Disguise(std::string_view text, std::uint64_t seed)
      : text_(text), random_(seed), tube_(text.find("\nzero: tube\n") != std::string_view::npos) {}

  std::string run() {
    while (!text_.empty()) {
      const std::size_t end = std::min(text_.find('\n'), text_.size());
      line(text_.substr(0, end));
      text_.remove_prefix(std::min(end + 1, text_.size()));
      out_ += line_end_;
    }
    return mark_ + out_;
  }

 private:
  bool chance(unsigned percent) { return random_() % 100 < percent; }
  const std::string& pick(const Spellings& list) { return list[random_() % list.size()]; }

  void line(std::string_view line) {
    in_music_ = in_music_ || line.empty();
    const bool other = !in_music_ || line.starts_with('>') || line.starts_with('#');
    if (other) {
      out_ += line;
      return;
    }
    before_ = " ";
    while (!line.empty()) {
      if (line.starts_with("# ") || line == "#") {
        out_ += line;
        return;
      }
      line.remove_prefix(item(line));
    }
  }

  // Writes what stands at the front and gives its length.
  std::size_t item(std::string_view line) {
    if (line.starts_with('{')) return brace(line);
    if (at_word_start()) {
      if (const std::size_t length = word(line)) return length;
    }
    const std::string one(line.substr(0, base::first_code_point(line).size));
    const auto known = kPunctuation.find(one);
    out_ += known != kPunctuation.end() && chance(25) ? pick(known->second) : digit(one);
    before_ = one;
    return one.size();
  }

  bool at_word_start() const { return before_ == " " || before_ == "("; }

  std::string digit(const std::string& one) {
    const bool is_digit = one.size() == 1 && one[0] >= '0' && one[0] <= '9';
    if (!is_digit || !chance(20)) return one;
    std::string wide;
    base::append_utf8(wide, 0xFF10 + static_cast<char32_t>(one[0] - '0'));
    return wide;
  }

  std::size_t brace(std::string_view line) {
    bool quoted = false;
    std::size_t end = 1;
    for (; quoted || line[end] != '}'; ++end) {
      if (quoted && line[end] == '\\') {
        ++end;
      } else if (line[end] == '"') {
        quoted = !quoted;
      }
    }
    const std::string_view whole = line.substr(0, ++end);
    const auto known = kMarkNames.find(whole);
    if (known != kMarkNames.end() && chance(50)) {
      out_ += pick(known->second);
    } else {
      out_ += whole;
    }
    before_ = "}";
    return end;
  }

  // A hold, a rest, or a sign with its half hole; 0 for anything else.
  std::size_t word(std::string_view line) {
    const std::string one(line.substr(0, base::first_code_point(line).size));
    const std::string_view rest = line.substr(one.size());
    if (one == "-" && chance(40)) {
      return put(one, pick({"－", "ー", "―", "—", "−", "–"}));
    }
    if (one == "・" && chance(40)) return put(one, pick({".", "･", "休", "．", "·"}));
    if (rest.starts_with("\u0307")) {
      if (!chance(40)) return 0;
      const std::string number = digit(one);
      return put(one + "\u0307", (chance(50) ? "d" : "ｄ") + number);
    }
    for (const auto& [half, early] :
         {std::pair<std::string, Spellings>{"メ", {"×", "♭"}}, {"カ", {"♯"}}}) {
      if (rest.starts_with(half) && chance(30)) return put(one + half, pick(early) + one);
    }
    if (one == "8" && chance(40)) {
      return put(one, pick({"8\u0307", "1\u0307", "d1", "d8", "８", "ｄ８"}));
    }
    if (one == "筒" && tube_ && chance(40)) return put(one, pick({"0", "〇", "零", "０"}));
    if (const auto low = kLowSigns.find(one); low != kLowSigns.end() && chance(30)) {
      return put(one, pick(low->second));
    }
    return 0;
  }

  std::size_t put(const std::string& what, const std::string& spelling) {
    out_ += spelling;
    before_ = what;
    return what.size();
  }

  std::string_view text_;
  std::mt19937_64 random_;
  bool tube_;
  bool in_music_ = false;
  std::string before_;
  std::string out_;
  std::string mark_ = chance(50) ? "\xEF\xBB\xBF" : "";
  std::string line_end_ = pick({"\n", "\r\n", "\r"});
};

std::string findings_told(const base::Diagnostics& findings, const base::SourceText& source) {
  std::string text;
  for (const base::Diagnostic& finding : findings) {
    if (finding.rule->name != "unknown-header") text += base::one_line(finding, source) + '\n';
  }
  return text;
}

TEST(SpelledOtherwise, IsTheSameMusicWithoutARemark) {
  int failures = 0;
  for (std::uint64_t seed = 0; seed < support::rounds(800) && failures < 3; ++seed) {
    const model::Score score = support::random_score(seed + 400'000);
    const std::string text = write_notation(score, {Alphabet::printed}).value.value();
    const base::SourceText source("spelled.yubifu", Disguise(text, seed).run());
    const auto read = read_notation(source);
    const std::string findings = findings_told(read.diagnostics, source);
    EXPECT_EQ(findings, "") << "seed " << seed << "\n" << source.text();
    ASSERT_TRUE(read.value);
    const auto difference = support::first_difference(score, *read.value);
    EXPECT_EQ(difference, std::nullopt) << "seed " << seed << "\n" << source.text();
    EXPECT_EQ(write_notation(*read.value, {Alphabet::printed}).value, text) << "seed " << seed;
    if (!findings.empty() || difference) ++failures;
  }
}

TEST(SpelledOtherwise, TheOtherAlphabetAndBackIsTheSameText) {
  const auto respelled = [](const std::string& text, Alphabet alphabet) {
    return write_notation(read_notation({"tune.yubifu", text}).value.value(), {alphabet})
        .value.value();
  };
  for (std::uint64_t seed = 0; seed < support::rounds(500); ++seed) {
    const model::Score score = support::random_score(seed + 500'000);
    const std::string text = write_notation(score, {Alphabet::printed}).value.value();
    const std::string ascii = respelled(text, Alphabet::ascii);
    ASSERT_EQ(respelled(ascii, Alphabet::printed), text) << "seed " << seed;
  }
}

// `%` against the bar written out.
TEST(SpelledOtherwise, TheSameBarIsTheBarWrittenOut) {
  support::GeneratorOptions plain;
  plain.most_measures = 6;
  plain.header_fields = plain.tempos = plain.key_changes = plain.directions = false;
  plain.flute_changes = plain.repeats = plain.jumps = plain.until_cue = false;
  plain.short_bars = plain.irregular_bars = plain.meter_changes = plain.beat_changes = false;
  plain.song_text = plain.comments = plain.slurs = false;
  for (std::uint64_t seed = 0; seed < support::rounds(400); ++seed) {
    const model::Score score = support::random_score(seed + 600'000, plain);
    const std::string text = write_notation(score, {Alphabet::printed}).value.value();
    const std::size_t music = text.find("\n\n") + 2;
    std::string with_signs = text.substr(0, music);
    std::string written_out = with_signs;
    for (std::size_t at = music; at < text.size();) {
      const std::size_t end = std::min(text.find_first_of("|\n", at), text.size());
      const std::string bar = text.substr(at, end - at);
      at = std::min(text.find_first_not_of("|=\n ", end), text.size());
      // The slide of a last note leads on, and a first hold has nothing before it.
      with_signs += bar + " | % | % |\n";
      written_out += bar + " | " + bar + " | " + bar + " |\n";
    }
    const base::SourceText source("song.yubifu", with_signs);
    const auto read = read_notation(source);
    const auto expected = read_notation({"song.yubifu", written_out});
    ASSERT_EQ(read.ok(), expected.ok()) << findings_told(read.diagnostics, source) << with_signs;
    if (!read.ok()) continue;
    ASSERT_EQ(support::first_difference(*expected.value, *read.value), std::nullopt)
        << with_signs << written_out;
  }
}

}  // namespace
}  // namespace yubifu::notation
