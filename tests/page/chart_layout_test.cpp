// Where the things of a chart stand: nothing meets, everything is on the paper, holes run from the
// mouth end to the foot.
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <gmock/gmock.h>

#include "base/file.h"
#include "flute/flute.h"
#include "flute/flute_file.h"
#include "page/chart/chart.h"
#include "page/drawing.h"
#include "page/print/print.h"
#include "page/style.h"
#include "support/flute_files.h"

namespace yubifu::page {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::IsSupersetOf;
using testing::Not;
using testing::SizeIs;

constexpr double kA4Width = 210;
constexpr double kA4Height = 297;

flute::Flute example(const std::string& name) {
  const base::SourceText source(name, *base::read_file(tests::flute_file(name)).value);
  return *flute::read_flute_file(source, model::FlutePath{name}, 440).value;
}

std::vector<flute::Flute> many_flutes() {
  std::vector<flute::Flute> flutes;
  for (int size = 1; size <= 13; ++size) flutes.push_back(flute::built_in_flute({size, 0}, 440));
  for (const std::string& name : tests::flute_file_names()) flutes.push_back(example(name));
  return flutes;
}

ChartOfFlute whole(const flute::Flute& flute) {
  return {std::make_shared<const flute::Flute>(flute), std::nullopt};
}

std::vector<Sheet> chart_of(const flute::Flute& flute, double width = kA4Width,
                            double height = kA4Height) {
  return *chart_sheets(std::vector{whole(flute)}, {width, height}).value;
}

std::vector<std::string> documents_of(const ChartOfFlute& chart, ChartSize size) {
  const auto sheets = lay_out_chart(chart, size);
  std::vector<std::string> documents;
  for (const Sheet& sheet : *sheets.value) documents.push_back(svg_document({sheet}));
  return documents;
}

// The pipe of each fingering, in the order in which they are drawn.
std::vector<Box> pipes_of(const Sheet& sheet) {
  std::vector<Box> pipes;
  for (const Item& item : sheet.items) {
    if (std::holds_alternative<FrameShape>(item.shape)) pipes.push_back(item.box);
  }
  return pipes;
}

// The holes in a pipe from the top down, as a pattern is written.
std::string pattern_in(const Sheet& sheet, const Box& pipe) {
  std::vector<HoleShape> holes;
  for (const Item& item : sheet.items) {
    const auto* hole = std::get_if<HoleShape>(&item.shape);
    if (hole != nullptr && overlap(item.box, pipe)) holes.push_back(*hole);
  }
  std::sort(holes.begin(), holes.end(),
            [](const HoleShape& a, const HoleShape& b) { return a.center.y < b.center.y; });
  model::HolePattern pattern;
  for (const HoleShape& hole : holes) pattern.holes.push_back(hole.hole);
  return printed(pattern);
}

std::vector<std::string> patterns_on(const Sheet& sheet) {
  std::vector<std::string> patterns;
  for (const Box& pipe : pipes_of(sheet)) patterns.push_back(pattern_in(sheet, pipe));
  return patterns;
}

std::vector<std::string> texts_on(const Sheet& sheet) {
  std::vector<std::string> texts;
  for (const Item& item : sheet.items) {
    if (const auto* text = std::get_if<TextShape>(&item.shape)) texts.push_back(text->text);
  }
  return texts;
}

// The texts whose middle is near that of a pipe, line by line and from left to right.
std::vector<std::string> texts_under(const Sheet& sheet, const Box& pipe) {
  std::vector<std::pair<std::pair<double, double>, std::string>> found;
  for (const Item& item : sheet.items) {
    const auto* text = std::get_if<TextShape>(&item.shape);
    const bool under = item.box.top >= pipe.bottom - 0.5 && item.box.top < pipe.bottom + 15;
    if (text == nullptr || !under) continue;
    if (std::abs(item.box.center().x - pipe.center().x) < 5) {
      found.push_back({{text->at.y, item.box.left}, text->text});
    }
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> texts;
  for (auto& [place, text] : found) texts.push_back(std::move(text));
  return texts;
}

bool may_meet(const Item& a, const Item& b) {
  const bool pipe =
      std::holds_alternative<FrameShape>(a.shape) || std::holds_alternative<FrameShape>(b.shape);
  const bool hole =
      std::holds_alternative<HoleShape>(a.shape) || std::holds_alternative<HoleShape>(b.shape);
  // The accidental stands close to its letter.
  const bool glyph =
      std::holds_alternative<GlyphShape>(a.shape) != std::holds_alternative<GlyphShape>(b.shape);
  const bool text =
      std::holds_alternative<TextShape>(a.shape) || std::holds_alternative<TextShape>(b.shape);
  const bool near = std::abs(a.box.center().x - b.box.center().x) < 4;
  return (pipe && hole) || (glyph && text && near);
}

void expect_nothing_meets(const Sheet& sheet, const std::string& name) {
  for (std::size_t i = 0; i < sheet.items.size(); ++i) {
    const Item& one = sheet.items[i];
    EXPECT_GE(one.box.left, style::kMarginSide - 0.01) << name;
    EXPECT_LE(one.box.right, sheet.width - style::kMarginSide + 0.01) << name;
    EXPECT_GE(one.box.top, 0) << name;
    EXPECT_LE(one.box.bottom, sheet.height) << name;
    for (std::size_t j = i + 1; j < sheet.items.size(); ++j) {
      const Item& other = sheet.items[j];
      if (!may_meet(one, other)) {
        ASSERT_FALSE(overlap(one.box, other.box)) << name << ": items " << i << " and " << j;
      }
    }
  }
}

// What a flute file adds to another flute stands where it sounds, not behind the rest.
TEST(ChartLayout, shows_the_lowest_first) {
  for (const flute::Flute& flute : many_flutes()) {
    const ChartOfFlute chart = whole(flute);
    const std::vector<ChartEntry> entries = *entries_of(chart).value;
    EXPECT_EQ(entries.size(), flute.entries().size());
    for (std::size_t i = 1; i < entries.size(); ++i) {
      EXPECT_LE(entries[i - 1].entry->cents, entries[i].entry->cents) << flute.title();
    }
  }
}

TEST(ChartLayout, nothing_meets_on_any_flute_and_paper) {
  for (const flute::Flute& flute : many_flutes()) {
    for (const auto& [width, height] : {std::pair(kA4Width, kA4Height), std::pair(215.9, 279.4),
                                        std::pair(style::kChartScreenWidth, 0.0)}) {
      for (const Sheet& sheet : chart_of(flute, width, height)) {
        expect_nothing_meets(sheet, flute.title());
      }
    }
  }
}

TEST(ChartLayout, a_built_in_flute_takes_one_sheet_of_a4_with_room_for_the_foot) {
  for (int size = 1; size <= 13; ++size) {
    const auto sheets = chart_of(flute::built_in_flute({size, 0}, 440));
    ASSERT_THAT(sheets, SizeIs(1));
    double bottom = 0;
    for (const Item& item : sheets[0].items) bottom = std::max(bottom, item.box.bottom);
    EXPECT_LT(bottom, kA4Height - style::kMarginBottom - 4 * style::kFooterLine);
  }
}

// The patterns as the table of signs has them, the mouth end first.
TEST(ChartLayout, draws_the_holes_from_the_mouth_end_down) {
  const auto sheets = chart_of(flute::built_in_flute({6, 0}, 440));
  EXPECT_THAT(
      patterns_on(sheets[0]),
      ElementsAre("●●●●●●●", "○●●●●●○", "●●●●●●○", "●●●●●◐○", "●●●●●○○", "●●●●◐○○", "●●●●○○○",
                  "●●●○○○◎", "●●◐○○○◎", "●●○○○○◎", "●◐○○○○◎", "●○○○○○◎", "◐○○○○○◎", "○○○○○○◎",
                  "●○●●●●●", "○●●●●●○", "●●●●●●○", "●●●●●◐○", "●●●●●○○", "●●●●◐○○", "●●●●○○○",
                  "●●●○○○◎", "●●◐○○○◎", "●●○○○○◎", "●◐○○○○◎", "●○○○○○◎", "◐○○○○○◎", "●○●●●●●",
                  "○○○○○○◎", "○●●○○○●", "●●○●●○○", "●○●●○○○", "●○●●○●○", "○●○○●○○"));
  EXPECT_THAT(texts_on(sheets[0]), IsSupersetOf({"mouth", "foot", "note", "Hz", "cents"}));
}

TEST(ChartLayout, groups_the_registers_from_low_to_high) {
  const auto sheets = chart_of(flute::built_in_flute({6, 0}, 440));
  std::vector<std::string> headings;
  for (const std::string& text : texts_on(sheets[0])) {
    if (text.find("register") != std::string::npos) headings.push_back(text);
  }
  EXPECT_THAT(headings, ElementsAre("Low register (ryo)", "Second register (kan)",
                                    "Third register (daikan)"));
}

// Size 6: 三 is D5, 587.3 Hz (MIDI Tuning Standard), exactly tempered. A pattern that is a second
// choice has no figures of its own.
TEST(ChartLayout, puts_note_frequency_and_deviation_under_the_pipe) {
  const auto sheets = chart_of(flute::built_in_flute({6, 0}, 440));
  const auto pipes = pipes_of(sheets[0]);
  EXPECT_THAT(texts_under(sheets[0], pipes[6]), ElementsAre("D", "5", "587.3", "0"));
  EXPECT_THAT(texts_under(sheets[0], pipes[2]), IsEmpty());
  // 七 of the measured pipe: 1012 Hz lies 42 cents over B5.
  const auto measured = chart_of(example("equal-holes-seven.json"));
  EXPECT_THAT(texts_under(measured[0], pipes_of(measured[0])[7]), IsSupersetOf({"1012.0", "+42"}));
  // 一: 539 Hz lies 49 cents under C♯5, told with the minus sign of print.
  EXPECT_THAT(texts_under(measured[0], pipes_of(measured[0])[1]), IsSupersetOf({"539.0", "−49"}));
}

TEST(ChartLayout, shows_only_what_is_asked_for_lowest_first) {
  ChartOfFlute chart = whole(flute::built_in_flute({6, 0}, 440));
  std::vector<model::Fingering> wanted;
  for (const std::string_view sign : {"五", "三メ↓20", "五↑10", "二カ"}) {
    wanted.push_back(*model::parse_printed(sign));
  }
  wanted.push_back({});
  chart.only = wanted;
  const auto entries = entries_of(chart);
  EXPECT_THAT(entries.diagnostics, IsEmpty());
  std::vector<std::string> signs;
  for (const ChartEntry& entry : *entries.value) signs.push_back(printed(entry.fingering));
  EXPECT_THAT(signs, ElementsAre("三メ", "二カ", "五"));
  chart.only = {*model::parse_printed("6̇")};
  const auto missing = entries_of(chart);
  ASSERT_THAT(missing.diagnostics, SizeIs(1));
  EXPECT_EQ(missing.diagnostics[0].message, "6̇ is not in the table of the flute 6");
}

// What the four kinds of holes look like, without their places.
std::string drawn(model::Hole hole) {
  Sheet sheet;
  sheet.width = 20;
  sheet.height = 20;
  sheet.items.push_back({Role::chart, HoleShape{hole, {10, 10}, 2}, {8, 8, 12, 12}, {}, {}});
  return svg_document({sheet});
}

TEST(ChartSvg, tells_the_holes_apart_without_colour) {
  const std::vector<std::string> kinds{drawn(model::Hole::closed), drawn(model::Hole::open),
                                       drawn(model::Hole::half), drawn(model::Hole::steadying)};
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    for (std::size_t j = i + 1; j < kinds.size(); ++j) EXPECT_NE(kinds[i], kinds[j]);
  }
  const std::string document =
      documents_of(whole(flute::built_in_flute({6, 0}, 440)), ChartSize::a4).front();
  for (std::size_t at = document.find('#'); at != std::string::npos;
       at = document.find('#', at + 1)) {
    if (document[at - 1] != '"') continue;  // a reference or a character
    const std::string colour = document.substr(at, document.find('"', at) - at);
    EXPECT_TRUE(colour == "#000" || colour == "#fff" || colour[1] > '9') << colour;
  }
}

TEST(ChartSvg, has_sizes_for_paper_and_screen) {
  const auto document = [](ChartSize size) {
    const auto pages = documents_of(whole(flute::built_in_flute({6, 0}, 440)), size);
    EXPECT_THAT(pages, SizeIs(size == ChartSize::letter ? 2 : 1));
    return pages.front();
  };
  EXPECT_THAT(document(ChartSize::a4), HasSubstr("viewBox=\"0 0 210 297\""));
  EXPECT_THAT(document(ChartSize::letter), HasSubstr("viewBox=\"0 0 215.9 279.4\""));
  EXPECT_THAT(document(ChartSize::screen), HasSubstr("viewBox=\"0 0 124 "));
}

TEST(ChartSvg, carries_the_caution_exactly_with_loud_signs) {
  const auto with = [](int size, std::string_view sign) {
    ChartOfFlute chart = whole(flute::built_in_flute({size, 0}, 440));
    chart.only = {*model::parse_printed(sign)};
    return documents_of(chart, ChartSize::a4).front();
  };
  EXPECT_THAT(with(6, "2̇"), HasSubstr("hearing protection"));
  EXPECT_THAT(with(6, "7"), Not(HasSubstr("hearing protection")));
  // 7 of size 9 is C7, 2,093 Hz.
  EXPECT_THAT(with(9, "7"), HasSubstr("hearing protection"));
}

}  // namespace
}  // namespace yubifu::page
