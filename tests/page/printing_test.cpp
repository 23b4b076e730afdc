// What SVG and HTML files hold beside the shapes.
#include <cmath>
#include <map>
#include <memory>
#include <regex>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "flute/flute.h"
#include "page/drawn.h"
#include "page/style.h"

namespace yubifu::page {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::Pair;
using testing::StartsWith;
using testing::UnorderedElementsAre;

constexpr const char* kTune =
    "title: Gate & <Lantern>\ncomposer: A. Tani\nflute: 6\n\n"
    "{section \"A\"} 三 (四 五) 六 8 | 三 - - ・ |=\n> みな と の あ か り\n";

std::string html(const std::string& text, const PageOptions& options = {}) {
  return write_pages(score_of(text), {}, options, PrintedAs::html).value.value().front();
}

std::vector<std::string> svgs(const std::string& text, const PageOptions& options = {}) {
  return write_pages(score_of(text), {}, options, PrintedAs::svg).value.value();
}

std::string long_tune() {
  std::string text = "title: Long\n\n";
  for (int i = 0; i < 120; ++i) text += "三 四 五 六 |\n";
  return text + "三 - - - |=\n";
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
    ++found;
  }
  return found;
}

TEST(Printing, SvgHasTitleAndDescriptionForScreenReaders) {
  const std::string svg = svgs(kTune).front();
  EXPECT_THAT(svg, StartsWith("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg "));
  EXPECT_THAT(svg, HasSubstr(">Gate &amp; &lt;Lantern&gt;</title>"));
  EXPECT_THAT(svg, HasSubstr("Columns are read from top to bottom and from right to left."));
  EXPECT_THAT(svg, HasSubstr("<g role=\"img\" aria-label=\"bar 1: 三 (四 五) 六 8 |\">"));
}

TEST(Printing, SignsAreShapesWithTextOverThem) {
  const std::string svg = svgs(kTune).front();
  EXPECT_THAT(svg, HasSubstr("<use href=\"#yf-kanji-3\""));
  EXPECT_THAT(svg, HasSubstr(" fill-opacity=\"0.004\""));
  EXPECT_THAT(svg, HasSubstr(">(四</tspan>"));
}

// The first shape of each tone by its number, and how often a number stands on a group.
struct NumberedTones {
  std::map<std::string, std::string> shapes;
  std::map<std::string, int> groups;
};

NumberedTones numbered_tones(const std::string& svg) {
  const std::regex group("<g data-note=\"([0-9]+)\">\\n<(?:use href=\"#yf-([^\"]+)\")?");
  NumberedTones found;
  for (std::sregex_iterator at(svg.begin(), svg.end(), group), end; at != end; ++at) {
    found.shapes.emplace((*at)[1], (*at)[2]);
    ++found.groups[(*at)[1]];
  }
  return found;
}

// Counted in the order in which the tones are written: 六 七 lead to the first 三, 五 follows 六. A
// hold has the number of its note, also in the next bar.
TEST(Printing, EveryToneHasItsNumber) {
  const std::string tune = "三{pre 六 七} 四 - - | - 六{post 五} ・ 三 |=\n";
  for (const std::string& text : {svgs(tune).front(), svgs(tune, across()).front(), html(tune)}) {
    const NumberedTones tones = numbered_tones(text);
    EXPECT_THAT(tones.shapes, UnorderedElementsAre(Pair("0", "kanji-6"), Pair("1", "kanji-7"),
                                                   Pair("2", "kanji-3"), Pair("3", "kanji-4"),
                                                   Pair("4", "kanji-6"), Pair("5", "kanji-5"),
                                                   Pair("6", "kanji-3")));
    EXPECT_EQ(tones.groups.at("0"), 1);
    EXPECT_THAT(text, HasSubstr("<tspan data-note=\"2\""));
    EXPECT_THAT(text, HasSubstr("<tspan data-note=\"6\""));
    EXPECT_EQ(count(text, "<tspan data-note=\"3\""), 4u);  // 四 - - | -
  }
}

TEST(Printing, OneSvgAPageOrOneTallFile) {
  PageOptions tall;
  tall.documents = SvgDocuments::one_tall;
  const std::vector<std::string> pages = svgs(long_tune());
  ASSERT_GT(pages.size(), 1u);
  EXPECT_EQ(svgs(long_tune(), tall).size(), 1u);
  for (const std::string& page : pages) {
    EXPECT_THAT(page, HasSubstr("width=\"210mm\" height=\"297mm\""));
    EXPECT_EQ(count(page, "<svg "), 1u);
  }
  EXPECT_THAT(pages[1], HasSubstr(">Long, page 2 of " + std::to_string(pages.size()) + "</title>"));
}

TEST(Printing, HtmlIsOneFileWithASheetAPage) {
  const std::string page = html(long_tune());
  EXPECT_EQ(count(page, "<section class=\"sheet"), svgs(long_tune()).size());
  EXPECT_THAT(page, AllOf(StartsWith("<!DOCTYPE html>"), HasSubstr("@page { size: 210mm 297mm;"),
                          HasSubstr("break-after: page"), HasSubstr("<title>Long</title>")));
  // Nothing is fetched from anywhere: the only address is the name of the SVG namespace.
  EXPECT_EQ(count(page, "http"), count(page, "http://www.w3.org/2000/svg"));
  EXPECT_THAT(page, AllOf(Not(HasSubstr("<script")), Not(HasSubstr("url(")),
                          Not(HasSubstr("@import")), Not(HasSubstr("<img"))));
}

// On a narrow screen the foot of the sheet would be cut; it stands below as text of its own.
TEST(Printing, HtmlKeepsTheFootWholeOnPhones) {
  const std::string page = html(kTune);
  EXPECT_THAT(page, HasSubstr("<footer class=\"notes\">\n<p>High notes are loud"));
  EXPECT_THAT(page, HasSubstr("<g class=\"foot\">"));
}

// Columns may be moved sideways one after another; a row that did not fit would have to be moved
// to and fro. A chart keeps the size at which its small print can be read.
TEST(Printing, HtmlShowsRowsWholeOnPhones) {
  const auto flute = std::make_shared<const flute::Flute>(flute::built_in_flute({6, 0}, 440));
  model::Score score = score_of(kTune);
  score.flutes.push_back({0, flute->name(), flute->title(), flute->ichi(), 440});
  PageOptions options;
  options.chart = ChartPages::used_fingerings;
  const auto html_of = [&] {
    return write_pages(score, {flute}, options, PrintedAs::html).value.value().front();
  };
  const std::string down = html_of();
  EXPECT_EQ(count(down, "class=\"sheet from-right\""), 1u);
  EXPECT_EQ(count(down, "class=\"sheet rows\""), 0u);
  EXPECT_EQ(count(down, "class=\"sheet\""), 1u);
  options.direction = ReadingDirection::across;
  const std::string across = html_of();
  EXPECT_EQ(count(across, "class=\"sheet rows\""), 1u);
  EXPECT_EQ(count(across, "class=\"sheet\""), 1u);
  EXPECT_THAT(across, HasSubstr(".rows svg { width: min(100%, 210mm) }"));
}

double channel(int value) {
  const double part = value / 255.0;
  return part <= 0.04045 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
}

// Relative luminance as the Web Content Accessibility Guidelines 2.1 define it; #rgb.
double luminance(std::string_view color) {
  const auto part = [&](std::size_t i) {
    return channel(std::stoi(std::string(2, color[i]), nullptr, 16));
  };
  return 0.2126 * part(1) + 0.7152 * part(2) + 0.0722 * part(3);
}

TEST(Printing, ContrastIsAtLeastSevenToOne) {
  const double ratio = (luminance(style::kPaper) + 0.05) / (luminance(style::kInk) + 0.05);
  EXPECT_GE(ratio, 7);
}

// Nothing is told by colour: there is one ink and one paper, and what lies around the sheets.
TEST(Printing, ThereIsOnlyOneInk) {
  const std::regex color("#[0-9a-fA-F]{3,8}\\b|rgba?\\(|hsl");
  const std::set<std::string> known{std::string(style::kInk), std::string(style::kPaper),
                                    std::string(style::kDesk)};
  std::string all = html(kTune) + svgs(kTune).front();
  for (std::sregex_iterator at(all.begin(), all.end(), color), end; at != end; ++at) {
    EXPECT_TRUE(known.count(at->str()) == 1) << at->str();
  }
}

}  // namespace
}  // namespace yubifu::page
