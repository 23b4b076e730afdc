// The written grammar names only productions that it defines, and every word of the tables.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>

#include <gtest/gtest.h>

#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

// What stands between two marks of the same kind, which are skipped too.
std::string take_until(std::string_view& text, std::string_view end) {
  const std::size_t at = text.find(end);
  if (at == std::string_view::npos) throw std::runtime_error("unclosed in the grammar");
  std::string inside(text.substr(0, at));
  text.remove_prefix(at + end.size());
  return inside;
}

std::string trimmed_name(const std::string& text) {
  const std::size_t first = text.find_first_not_of(" \n");
  return first == std::string::npos ? ""
                                    : text.substr(first, text.find_last_not_of(" \n") - first + 1);
}

// ISO 14977, as far as the file uses it.
class Grammar {
 public:
  explicit Grammar(std::string_view text) {
    while (!text.empty()) {
      const char c = text.front();
      if (text.starts_with("(*")) {
        take_until(text, "*)");
        continue;
      }
      text.remove_prefix(1);
      if (c == '"' || c == '\'') {
        terminals.insert(take_until(text, std::string(1, c)));
      } else if (c == '?') {
        take_until(text, "?");
      } else if (c == '=') {
        EXPECT_TRUE(defined.insert(trimmed_name(name_)).second) << name_;
        name_.clear();
      } else if (std::string_view(",|[]{}()-;").find(c) != std::string_view::npos) {
        end_name();
      } else {
        name_ += c;
      }
    }
    end_name();
  }

  std::set<std::string> defined;
  std::set<std::string> used;
  std::set<std::string> terminals;

 private:
  void end_name() {
    std::string name = trimmed_name(name_);
    if (!name.empty()) used.insert(std::move(name));
    name_.clear();
  }

  std::string name_;
};

const Grammar& grammar() {
  static const Grammar read = [] {
    std::ifstream in(std::filesystem::path(YUBIFU_SOURCE_DIR) / "schemas" / "notation.ebnf");
    return Grammar(std::string{std::istreambuf_iterator<char>(in), {}});
  }();
  return read;
}

TEST(WrittenGrammar, DefinesWhatItUsesAndUsesWhatItDefines) {
  // The start, and what stands beside the grammar of the signs: how music and header values are
  // made of the lines' contents.
  const std::set<std::string> starts{"text", "music", "header value"};
  for (const std::string& name : grammar().used) {
    EXPECT_TRUE(grammar().defined.contains(name)) << name << " is used and not defined";
  }
  for (const std::string& name : grammar().defined) {
    EXPECT_TRUE(starts.contains(name) || grammar().used.contains(name)) << name << " is not used";
  }
  EXPECT_GT(grammar().defined.size(), 50u);
}

TEST(WrittenGrammar, HasEveryWordOfTheTables) {
  for (const auto& words : {header_words(), mark_words(), direction_words()}) {
    for (const std::string_view word : words) {
      EXPECT_TRUE(grammar().terminals.contains(std::string(word))) << word;
    }
  }
  for (const char* alias : {"打", "打ち", "指打ち", "上", "指上げ", "スリ", "ユリ", "息", "延"}) {
    EXPECT_TRUE(grammar().terminals.contains(alias)) << alias;
  }
}

}  // namespace
}  // namespace yubifu::notation
