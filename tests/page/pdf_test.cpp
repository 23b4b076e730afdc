// Pages as PDF. What other programs read in them is looked at in tests/oracles/page_print.sh.
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "page/drawn.h"
#include "page/print/print.h"

namespace yubifu::page {
namespace {

using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

// Nothing where the program was built without what makes PDF, which it then says.
std::optional<std::string> pdf_of(const std::string& text) {
  auto written = write_pages(score_of(text), {}, {}, PrintedAs::pdf);
  if (written.value) return std::move(written.value->front());
  EXPECT_EQ(written.diagnostics.front().rule->name, "page-no-pdf");
  EXPECT_THAT(written.diagnostics.front().message, HasSubstr("librsvg and cairo"));
  EXPECT_THAT(written.diagnostics.front().hint, HasSubstr(".html"));
  return std::nullopt;
}

TEST(Pdf, TheSameScoreGivesTheSameFile) {
  const std::string text = "title: 川べり\ncomposer: A. Tani\n\n三 四 五 六 |=\n> か わ be ri\n";
  const auto first = pdf_of(text);
  if (!first) GTEST_SKIP() << "built without PDF";
  EXPECT_THAT(*first, StartsWith("%PDF-"));
  EXPECT_EQ(pdf_of(text), first);
  EXPECT_THAT(*first, Not(HasSubstr("CreationDate")));
}

// Told once, whatever the number of notes; the song is in the file as far as fonts go.
TEST(Pdf, TellsOfLettersWithoutAFont) {
  const auto written = [](const std::string& syllable) {
    const std::string line = "三 四 五 六 |\n> か " + syllable + " わ " + syllable + "\n";
    return write_pages(score_of("title: Song\n\n" + line + line), {}, {}, PrintedAs::pdf);
  };
  const auto plain = written("べ");
  if (!plain.value) GTEST_SKIP() << "built without PDF";
  EXPECT_THAT(plain.diagnostics, IsEmpty());
  // The last plane is for private use; nobody's fonts have its end.
  const auto found = written("\U0010FFF0");
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.diagnostics.size(), 1u);
  EXPECT_EQ(found.diagnostics[0].rule->name, "page-no-letter");
  EXPECT_THAT(found.diagnostics[0].message, EndsWith("has \U0010FFF0"));
}

// librsvg does not stretch texts to a length, so they are stretched by hand.
TEST(Pdf, TextsAreStretchedByTheirMeasuredWidth) {
  const Sheet sheet = sheet_of("title: Gate\n\n三 四 - - |=\n> sing long\n");
  const auto square = [](const std::string& text, TextWeight) {
    return static_cast<double>(text.size());
  };
  const std::string measured = svg_document({sheet}, square);
  // By this measure each of the four letters of "Gate" is as wide as it is high.
  const auto title = with_role(sheet, Role::heading).front();
  const auto& shape = std::get<TextShape>(title.shape);
  const double natural = 4 * shape.size;
  const double scale = shape.length / natural;
  EXPECT_THAT(measured, HasSubstr(fmt::format("rotate(90) scale({:.4f} 1)", scale)));
  EXPECT_THAT(measured, HasSubstr(fmt::format("letter-spacing=\"{:.4f}\"",
                                              (shape.length - natural) / scale / 4)));
  EXPECT_THAT(svg_document({sheet}), Not(HasSubstr("letter-spacing")));
  // Every text of a line, turned or not, and each sign under its drawing.
  EXPECT_THAT(measured, HasSubstr("fill-opacity=\"0.004\""));
  EXPECT_THAT(measured, Not(HasSubstr("<tspan data-note")));
}

}  // namespace
}  // namespace yubifu::page
