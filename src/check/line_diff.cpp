#include "check/line_diff.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <vector>

#include <fmt/format.h>

#include "check/alignment.h"
#include "check/findings.h"

namespace yubifu::check {
namespace {

constexpr std::size_t kContext = 3;

// Each line with its line end, if it has one.
std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::size_t size = end == std::string_view::npos ? text.size() : end + 1;
    lines.push_back(text.substr(0, size));
    text.remove_prefix(size);
  }
  return lines;
}

// One line of the output: ' ' in both, '-' only before, '+' only after.
struct Step {
  char sign;
  std::string_view line;
};

class Diff {
 public:
  Diff(std::string_view before, std::string_view after)
      : before_(lines_of(before)), after_(lines_of(after)) {
    for (const Pairing& pair : align(tokens(before_), tokens(after_))) add(pair);
    flush();
  }

  std::string print(std::string_view before_name, std::string_view after_name) const {
    std::string text;
    std::size_t at = 0;
    LinesPassed passed;
    while (true) {
      const std::size_t change = next_change(at);
      if (change == steps_.size()) return text;
      if (text.empty()) {
        text = fmt::format("--- {}\n+++ {}\n", without_control_characters(before_name, {}),
                           without_control_characters(after_name, {}));
      }
      const std::size_t begin = std::max(at, change < kContext ? 0 : change - kContext);
      std::size_t end = change;
      // Changes with few lines between them share one hunk.
      for (std::size_t next = change; next < steps_.size() && next <= end + 2 * kContext;
           next = next_change(next + 1)) {
        end = next + 1;
      }
      end = std::min(end + kContext, steps_.size());
      pass(at, begin, passed);
      LinesPassed behind = passed;
      pass(begin, end, behind);
      text += fmt::format("@@ -{} +{} @@\n", range(passed.before, behind.before),
                          range(passed.after, behind.after));
      print_hunk(begin, end, text);
      passed = behind;
      at = end;
    }
  }

 private:
  std::vector<Token> tokens(const std::vector<std::string_view>& lines) {
    std::vector<Token> list;
    for (const std::string_view line : lines) {
      const auto number = static_cast<std::int64_t>(numbers_.size());
      list.push_back({numbers_.try_emplace(line, number).first->second, 0, 0});
    }
    return list;
  }

  void add(const Pairing& pair) {
    if (pair.a && pair.b && before_[*pair.a] == after_[*pair.b]) {
      flush();
      steps_.push_back({' ', before_[*pair.a]});
      return;
    }
    if (pair.a) steps_.push_back({'-', before_[*pair.a]});
    if (pair.b) added_.push_back(after_[*pair.b]);
  }

  // What is taken out comes before what is put in.
  void flush() {
    for (const std::string_view line : added_) steps_.push_back({'+', line});
    added_.clear();
  }

  std::size_t next_change(std::size_t at) const {
    while (at < steps_.size() && steps_[at].sign == ' ') ++at;
    return at;
  }

  // How many lines of each text the steps so far have passed.
  struct LinesPassed {
    std::size_t before = 0;
    std::size_t after = 0;
  };

  void pass(std::size_t begin, std::size_t end, LinesPassed& passed) const {
    for (std::size_t i = begin; i < end; ++i) {
      if (steps_[i].sign != '+') ++passed.before;
      if (steps_[i].sign != '-') ++passed.after;
    }
  }

  // "12,3": the first line and how many; no line begins before the first of an empty range.
  static std::string range(std::size_t passed, std::size_t behind) {
    const std::size_t lines = behind - passed;
    const std::size_t first = passed + (lines > 0 ? 1 : 0);
    return lines == 1 ? fmt::format("{}", first) : fmt::format("{},{}", first, lines);
  }

  void print_hunk(std::size_t begin, std::size_t end, std::string& text) const {
    for (std::size_t i = begin; i < end; ++i) {
      const Step& step = steps_[i];
      const bool ended = step.line.ends_with('\n');
      const std::string_view line = step.line.substr(0, step.line.size() - (ended ? 1 : 0));
      text += step.sign + without_control_characters(line, "\t") + '\n';
      if (!ended) text += "\\ No newline at end of file\n";
    }
  }

  std::vector<std::string_view> before_;
  std::vector<std::string_view> after_;
  std::map<std::string_view, std::int64_t> numbers_;
  std::vector<Step> steps_;
  std::vector<std::string_view> added_;
};

}  // namespace

std::string unified_diff(std::string_view before, std::string_view after,
                         std::string_view before_name, std::string_view after_name) {
  return Diff(before, after).print(before_name, after_name);
}

}  // namespace yubifu::check
