// The manual page says what the help says.
#include "cli/manual_page.h"

#include <string>
#include <string_view>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/formats.h"
#include "cli/help.h"
#include "cli/option_table.h"
#include "cli/verbs.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;

std::string replaced(std::string text, std::string_view what, std::string_view by) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at)) {
    text.replace(at, what.size(), by);
    at += by.size();
  }
  return text;
}

// As a reader sees it, but for the requests.
std::string read_page() {
  std::string page = cli::manual_page();
  for (const char* font : {"\\fB", "\\fI", "\\fR"}) page = replaced(page, font, "");
  page = replaced(page, "\\-", "-");
  page = replaced(page, "\\(aq", "'");
  page = replaced(page, "\\(ga", "`");
  page = replaced(page, "\\&", "");
  return page;
}

TEST(ManualPage, HoldsEveryVerbWithItsExample) {
  const std::string page = read_page();
  for (const cli::Verb& verb : cli::verbs()) {
    EXPECT_THAT(page, HasSubstr(fmt::format(".TP\n{}", verb.name)));
    EXPECT_THAT(page,
                HasSubstr(fmt::format("\n{}\n.IP\n.EX\n{}\n.EE\n", verb.sentence, verb.example)));
  }
}

TEST(ManualPage, HoldsEveryOptionUnderItsHeading) {
  const std::string page = read_page();
  for (const cli::OptionRow& row : cli::option_table()) {
    const std::size_t heading = page.find(fmt::format(".SS {}\n", cli::heading(row.group)));
    ASSERT_NE(heading, std::string::npos) << row.name;
    const std::string section = page.substr(heading, page.find("\n.S", heading + 1) - heading);
    std::string tag = fmt::format("--{}", row.name);
    if (row.letter != 0) tag = fmt::format("-{}, {}", row.letter, tag);
    if (!row.placeholder.empty()) tag += fmt::format(" {}", row.placeholder);
    EXPECT_THAT(section, HasSubstr("\n.TP\n" + tag + '\n')) << row.name;
    for (const std::string_view verb : row.verbs) EXPECT_THAT(section, HasSubstr(verb));
  }
}

TEST(ManualPage, SaysOfFormatsAndTheExitStatusWhatTheHelpSays) {
  const std::string page = read_page();
  const std::string help = cli::general_help();
  for (const cli::Format& format : cli::formats()) EXPECT_THAT(page, HasSubstr(format.sentence));
  for (const char* meaning : {"done", "findings, or something was lost and --strict was given",
                              "wrong usage, unreadable input or unwritable output"}) {
    EXPECT_THAT(page, HasSubstr(meaning));
    EXPECT_THAT(help, HasSubstr(meaning));
  }
}

// roff would guess the encoding of anything else; 三 stands in the help of --pitch-number.
TEST(ManualPage, IsAsciiWithCodePoints) {
  const std::string page = cli::manual_page();
  for (const char c : page) ASSERT_TRUE(c == '\n' || (c >= ' ' && c <= '~')) << static_cast<int>(c);
  EXPECT_THAT(page, HasSubstr("\\[u4E09]"));
}

}  // namespace
}  // namespace yubifu::tests
