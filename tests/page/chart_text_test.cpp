// The text chart of a flute.
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>

#include "base/utf8.h"
#include "flute/flute.h"
#include "page/chart/chart.h"

namespace yubifu::page {
namespace {

using testing::AllOf;
using testing::Each;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

std::vector<std::string> text_chart(const flute::Flute& flute,
                                    model::Alphabet alphabet = model::Alphabet::printed) {
  return lines_of(
      chart_text({std::make_shared<const flute::Flute>(flute), std::nullopt}, alphabet));
}

std::vector<std::string> chart_of(int size, double a4_hz, model::Alphabet alphabet) {
  return text_chart(flute::built_in_flute({size, 0}, a4_hz), alphabet);
}

// Notes: the range table of size 6; frequencies by f = 440 · 2^((n − 69) / 12).
TEST(ChartText, lists_sign_holes_note_frequency_and_deviation) {
  const auto lines = chart_of(6, 440, model::Alphabet::printed);
  EXPECT_THAT(
      std::vector<std::string>(lines.begin(), lines.begin() + 13),
      ElementsAre("Flute 6, tuned to A4 = 440 Hz", "Holes from the mouth end to the foot:",
                  "● closed   ○ open   ◐ half   ◎ closed to steady, or open", "",
                  "  sign  holes    note       Hz  cents", "", "Third register (daikan)",
                  "  5̇     ○●○○●○○  F7     2793.8      0", "  4̇     ●○●●○●○  E♭7    2489.0      0",
                  "  3̇     ●○●●○○○  D7     2349.3      0", "  2̇     ●●○●●○○  C7     2093.0      0",
                  "  8     ○●●○○○●  B♭6    1864.7      0", ""));
  EXPECT_THAT(lines, testing::Contains("  三メ  ●●●●◐○○  D♭5     554.4      0"));
  EXPECT_THAT(lines, testing::Contains("  0     ●○●●●●●  A♭5     830.6  about"));
  EXPECT_THAT(lines, testing::Contains("        ●●●●●●○  (also)"));
  EXPECT_THAT(std::vector<std::string>(lines.end() - 5, lines.end()),
              ElementsAre("  筒    ●●●●●●●  G4      392.0      0", "",
                          "High notes are loud next to the ear: for long practice use hearing",
                          "protection and take breaks, follow local noise rules and a hearing",
                          "professional's advice."));
}

TEST(ChartText, has_every_entry_once_in_columns) {
  const flute::Flute flute = flute::built_in_flute({8, 0}, 440);
  const auto lines = text_chart(flute);
  for (const flute::Entry& entry : flute.entries()) {
    const std::string start = "  " + base::padded(flute::printed(entry), 4) + "  ";
    int found = 0;
    for (const std::string& line : lines) {
      if (!line.starts_with(start)) continue;
      ++found;
      EXPECT_EQ(base::display_width(line), 37) << line;
    }
    EXPECT_EQ(found, 1) << flute::printed(entry);
  }
  for (const std::string& line : lines) EXPECT_LE(base::display_width(line), 72) << line;
}

TEST(ChartText, spells_notes_as_usual) {
  for (int size = 1; size <= 13; ++size) {
    EXPECT_THAT(chart_of(size, 440, model::Alphabet::printed),
                Each(AllOf(Not(HasSubstr("F♭")), Not(HasSubstr("C♭")), Not(HasSubstr("♭♭")))));
  }
  const auto eight = chart_of(8, 440, model::Alphabet::printed);
  EXPECT_THAT(eight, testing::Contains(HasSubstr("五メ  ●●◐○○○◎  G♭5")));
  EXPECT_THAT(chart_of(3, 440, model::Alphabet::printed),
              testing::Contains(HasSubstr("◐○○○○○◎  F5")));
}

TEST(ChartText, has_an_ascii_form) {
  const auto lines = chart_of(6, 440, model::Alphabet::ascii);
  for (const std::string& line : lines) {
    for (const char c : line) EXPECT_TRUE(c >= ' ' && c <= '~') << line;
  }
  EXPECT_THAT(lines, testing::Contains("  r3m   xxxxhoo  Db5     554.4      0"));
}

// A flute by measured frequencies has deviations; registers that it lacks are left out.
TEST(ChartText, shows_deviations_of_a_flute_of_its_own) {
  flute::FluteTable table;
  table.title = "Two Tones";
  table.ichi = {74, -12};
  table.hole_count = 2;
  table.entries = {{model::Sign("い"),
                    model::HalfHole::none,
                    0,
                    model::Register::low,
                    flute::EntryKind::plain,
                    {*model::parse_hole_pattern("xx")}},
                   {model::Sign("ろ"),
                    model::HalfHole::none,
                    165,
                    model::Register::low,
                    flute::EntryKind::plain,
                    {*model::parse_hole_pattern("xo")}}};
  const auto lines = text_chart(flute::Flute(table));
  EXPECT_THAT(
      std::vector<std::string>(lines.begin() + 4, lines.end()),
      ElementsAre("  sign  holes  note       Hz  cents", "", "Low register (ryo)",
                  "  ろ    ●○     E5      641.6    -47", "  い    ●●     D5      583.3    -12"));
}

}  // namespace
}  // namespace yubifu::page
