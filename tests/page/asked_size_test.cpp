// Papers, scales and numbers of columns that are asked for.
#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "flute/flute.h"
#include "page/drawn.h"
#include "page/style.h"
#include "support/rounds.h"

namespace yubifu::page {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double kSizeNear = 0.01;

TEST(Layout, PapersHaveTheirSizes) {
  const auto size = [](PaperSize paper, Orientation orientation) {
    const SheetSize found = sheet_size(paper, orientation);
    return std::make_pair(found.width, found.height);
  };
  EXPECT_EQ(size(PaperSize::a4, Orientation::portrait), std::make_pair(210.0, 297.0));
  EXPECT_EQ(size(PaperSize::a4, Orientation::landscape), std::make_pair(297.0, 210.0));
  EXPECT_EQ(size(PaperSize::letter, Orientation::portrait), std::make_pair(215.9, 279.4));
}

TEST(Layout, LargePrintHasDigitsOfEighteenMillimetres) {
  PageOptions options;
  options.scale = kMostScale;
  const std::vector<Box> numbers = number_boxes(sheets_of("3 4 5 6 |=\n", options).front());
  EXPECT_NEAR(numbers.front().height(), 18, kSizeNear);
}

TEST(Layout, TheNumberOfColumnsCanBeAskedFor) {
  for (const int wanted : {1, 2, 5, 12}) {
    PageOptions options;
    options.columns = wanted;
    const std::vector<Sheet> sheets = sheets_of(bars(80), options);
    std::set<int> columns;
    for (const Box& box : number_boxes(sheets.front())) {
      columns.insert(static_cast<int>(std::lround(box.center().x * 100)));
    }
    EXPECT_EQ(columns.size(), static_cast<std::size_t>(wanted));
  }
}

// The scale that a page gets for its columns; nothing where it keeps the one that was asked for.
std::optional<double> scale_made_for(int columns, double asked) {
  PageOptions options;
  options.columns = columns;
  options.scale = asked;
  const auto sheets = lay_out(score_of(bars(80)), {}, options);
  for (const auto& found : sheets.diagnostics) {
    const std::string before = "the page has scale ";
    const auto at = found.message.find(before);
    if (at != std::string::npos) return std::stod(found.message.substr(at + before.size()));
  }
  return std::nullopt;
}

// What fits is found to within a few per cent: a little larger, the columns would not fit.
TEST(Layout, TheSignsAreMadeNoSmallerThanTheColumnsAskFor) {
  int made_smaller = 0;
  for (int columns = 4; columns <= 12; ++columns) {
    for (const double asked : {1.5, 2.0, 2.5, 3.0}) {
      const auto scale = scale_made_for(columns, asked);
      if (!scale) continue;
      ++made_smaller;
      EXPECT_FALSE(scale_made_for(columns, 0.98 * *scale)) << columns << " columns";
      const double larger = std::min(kMostScale, 1.04 * *scale);
      EXPECT_TRUE(scale_made_for(columns, larger)) << columns << " columns";
    }
  }
  EXPECT_GE(made_smaller, 10);
}

TEST(Layout, OptionsOutOfRangeAreRefused) {
  PageOptions options;
  options.scale = 3.1;
  options.columns = 41;
  const auto sheets = lay_out(score_of("三 - - - |=\n"), {}, options);
  EXPECT_FALSE(sheets.value.has_value());
  ASSERT_EQ(sheets.diagnostics.size(), 2u);
  for (const auto& found : sheets.diagnostics) EXPECT_EQ(found.rule->name, "page-option-range");
}

TEST(Layout, TheChartOfTheUsedFingeringsFollows) {
  PageOptions options;
  options.chart = ChartPages::used_fingerings;
  const auto flute = std::make_shared<const flute::Flute>(flute::built_in_flute({8, 0}, 440));
  model::Score score = score_of("三 三メ 五 三 |=\n");
  score.flutes.push_back({0, flute->name(), flute->title(), flute->ichi(), 440});
  const auto sheets = lay_out(score, {flute}, options);
  ASSERT_TRUE(sheets.value.has_value());
  ASSERT_EQ(sheets.value->size(), 2u);
  std::size_t holes = 0;
  for (const Item& item : sheets.value->back().items) {
    holes += std::holds_alternative<HoleShape>(item.shape) ? 1 : 0;
  }
  EXPECT_GE(holes, 3u * 7u);
  EXPECT_EQ(sheets.value->front().start, SheetStart::right);
  EXPECT_EQ(sheets.value->back().start, SheetStart::left);
}

}  // namespace
}  // namespace yubifu::page
