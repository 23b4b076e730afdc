// Pages as PDF. What other programs read in them is looked at in tests/oracles/page_print.sh.
#include "page/print/pdf.h"

#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "page/drawn.h"
#include "page/print/markup.h"

namespace yubifu::page {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

// Nothing where the program was built without what makes PDF, which it then says.
std::optional<std::string> pdf_of(const std::string& text) {
  auto written = write_page_pdf(score_of(text), {}, {});
  if (written.value) return std::move(*written.value);
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

// librsvg does not stretch texts to a length, so they are stretched by hand.
TEST(Pdf, TextsAreStretchedByTheirMeasuredWidth) {
  const Sheet sheet = sheet_of("title: Gate\n\n三 四 - - |=\n> sing long\n");
  const auto half = [](const std::string& text, TextWeight) {
    return static_cast<double>(text.size());
  };
  const std::string measured = svg_document({sheet}, half);
  EXPECT_THAT(measured, HasSubstr("scale("));
  EXPECT_THAT(svg_document({sheet}), Not(HasSubstr(" scale(0.1")));
  // Every text of a line, turned or not, and each sign under its drawing.
  EXPECT_THAT(measured, HasSubstr("fill-opacity=\"0.004\""));
  EXPECT_THAT(measured, Not(HasSubstr("<tspan data-note")));
}

}  // namespace
}  // namespace yubifu::page
