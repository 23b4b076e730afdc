// Where things stand on the page.
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

constexpr double kNear = 0.01;

std::size_t occurrences(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++found;
  return found;
}

double y(const Box& box) {
  return box.center().y;
}

TEST(Layout, ColumnsRunDownAndFromRightToLeft) {
  const Sheet sheet = sheet_of(bars(20));
  const std::vector<Box> numbers = number_boxes(sheet);
  ASSERT_EQ(numbers.size(), 80u);
  int columns = 1;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    const bool same = std::abs(numbers[i].center().x - numbers[i - 1].center().x) < kNear;
    if (same) {
      EXPECT_GT(y(numbers[i]), y(numbers[i - 1]));
    } else {
      ++columns;
      EXPECT_LT(numbers[i].right, numbers[i - 1].left);
      EXPECT_NEAR(y(numbers[i]), y(numbers[0]), kNear);
      EXPECT_EQ(i % 4, 0u) << "a column breaks at a bar";
    }
  }
  EXPECT_GT(columns, 2);
}

TEST(Layout, RowsRunFromLeftToRightAndDown) {
  const std::vector<Box> numbers = number_boxes(sheet_of(bars(12), across()));
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    if (std::abs(y(numbers[i]) - y(numbers[i - 1])) < kNear) {
      EXPECT_GT(numbers[i].left, numbers[i - 1].right);
    } else {
      EXPECT_GT(numbers[i].top, numbers[i - 1].bottom);
      EXPECT_NEAR(numbers[i].left, numbers[0].left, kNear);
    }
  }
}

// Where the time of a number begins: the room for a dot stands over it.
double start(const Box& number) {
  return number.top - style::kDotRoom * number.height();
}

// Rhythm can be seen: equal times are equal distances in every bar.
TEST(Layout, BeatsAreEqualSteps) {
  const std::vector<Box> numbers =
      number_boxes(sheet_of("三 四 五 六 | 三 (四 五) 六 - | (三 四 五 六) 五 六 7 |=\n"));
  const double step = start(numbers[1]) - start(numbers[0]);
  EXPECT_GT(step, numbers[0].height());
  const auto distance = [&](std::size_t i) { return start(numbers[i + 1]) - start(numbers[i]); };
  for (const std::size_t beat : {1u, 2u, 4u, 12u, 13u}) EXPECT_NEAR(distance(beat), step, kNear);
  for (const std::size_t half : {5u, 6u}) EXPECT_NEAR(distance(half), step / 2, kNear);
  for (const std::size_t quarter : {8u, 9u, 10u, 11u}) {
    EXPECT_NEAR(distance(quarter), step / 4, kNear);
  }
}

TEST(Layout, HalvesAndQuartersCarryBarsAtTheirRight) {
  const Sheet sheet = sheet_of("(三 四) (三 四 五 六) (三 (四 五)) (- 三) |=\n");
  const auto beams = lines(with_role(sheet, Role::beam));
  const std::vector<Box> numbers = number_boxes(sheet);
  ASSERT_EQ(beams.size(), 6u);
  for (const LineShape& beam : beams) {
    EXPECT_GT(beam.from.x, numbers[0].right);
    EXPECT_NEAR(beam.from.x, beam.to.x, kNear);
  }
  // One bar over the halves, from the first to the last number.
  EXPECT_NEAR(beams[0].from.y, numbers[0].top, kNear);
  EXPECT_NEAR(beams[0].to.y, numbers[1].bottom, kNear);
  // Two over the quarters.
  EXPECT_NEAR(beams[1].from.y, numbers[2].top, kNear);
  EXPECT_NEAR(beams[2].from.y, numbers[2].top, kNear);
  EXPECT_GT(beams[2].from.x, beams[1].from.x);
  // The second only over the quarters of a half.
  EXPECT_NEAR(beams[3].from.y, numbers[7].top, kNear);
  EXPECT_NEAR(beams[3].to.y, numbers[8].bottom, kNear);
  EXPECT_NEAR(beams[4].from.y, numbers[6].top, kNear);
  // A held half is a diagonal that shares the bar of the next note.
  const auto stroke = with_role(sheet, Role::stroke);
  ASSERT_EQ(stroke.size(), 1u);
  EXPECT_LE(beams[5].from.y, stroke[0].box.top);
  EXPECT_NEAR(beams[5].to.y, numbers[9].bottom, kNear);
}

TEST(Layout, UnevenGroupsAreMarkedWithTheirNumber) {
  const Sheet sheet = sheet_of("(三 四 五) (三 四) (三 四 五 六 七) (三 - 五) |=\n");
  EXPECT_THAT(glyph_names(with_role(sheet, Role::tuplet)),
              ElementsAre("digit-3", "digit-5", "digit-3"));
  const Sheet longer = sheet_of("(三 四 五):2 三 四 |=\n");
  EXPECT_THAT(glyph_names(with_role(longer, Role::tuplet)), ElementsAre("digit-3"));
}

// Thickness and number of the rules that part bars.
std::vector<std::string> rules(const Sheet& sheet) {
  std::vector<std::string> found;
  for (const Item& item : with_role(sheet, Role::bar_line)) {
    if (std::holds_alternative<DotShape>(item.shape)) {
      if (found.empty() || found.back() != "dots") found.emplace_back("dots");
      continue;
    }
    const double thick = style::kThickRule * style::kDigitHeight;
    found.emplace_back(item.box.height() > 0.9 * thick ? "thick" : "thin");
  }
  return found;
}

TEST(Layout, BarsArePartedByRules) {
  EXPECT_THAT(rules(sheet_of("三 - - - | 三 - - - |=\n")), ElementsAre("thin", "thin", "thick"));
  EXPECT_THAT(rules(sheet_of("三 - - - || 三 - - - |=\n")),
              ElementsAre("thin", "thin", "thin", "thick"));
  EXPECT_THAT(rules(sheet_of("|: 三 - - - :| 三 - - - |=\n")),
              ElementsAre("thick", "thin", "dots", "thin", "thick", "thin", "thick"));
  EXPECT_THAT(
      rules(sheet_of("|: 三 - - - :| |: 三 - - - :|\n")),
      ElementsAre("thick", "thin", "dots", "thin", "thick", "thin", "dots", "thin", "thick"));
}

TEST(Layout, RepeatsAndEndingsSayHowOften) {
  const Sheet sheet = sheet_of("|: 三 - - - | {ending 1,2} 四 - - - :|x3 {ending 3} 五 - - - |=\n");
  EXPECT_THAT(texts(sheet, Role::ending), ElementsAre("1,2.", "3."));
  EXPECT_THAT(texts(sheet, Role::label), ElementsAre("×3"));
  // Far enough from the numbers that nobody takes the line for the bar of a half beat.
  const Box number = number_boxes(sheet)[0];
  for (const LineShape& line : lines(with_role(sheet, Role::ending))) {
    if (std::abs(line.from.x - line.to.x) > kNear) continue;  // a hook
    EXPECT_GT(line.from.x, number.right + 3 * style::kBeamGap * number.height());
  }
}

TEST(Layout, SlursRunBesideTheirNotes) {
  const Sheet sheet = sheet_of("三~ 四~ 五 六 |=\n");
  const auto slurs = with_role(sheet, Role::slur);
  ASSERT_EQ(slurs.size(), 1u);
  const std::vector<Box> numbers = number_boxes(sheet);
  EXPECT_LE(slurs[0].box.right, numbers[0].left);
  EXPECT_NEAR(slurs[0].box.top, y(numbers[0]), kNear);
  EXPECT_NEAR(slurs[0].box.bottom, y(numbers[2]), kNear);
}

constexpr const char* kSong =
    "三 四 五 六 |=\n> み な と ~\n>2 あ か り の\n>shoga ヒャ ラ トー ロ\n";

TEST(Layout, SongTextStandsLeftAndSungSyllablesRight) {
  const Sheet sheet = sheet_of(kSong);
  const std::vector<Box> numbers = number_boxes(sheet);
  EXPECT_THAT(texts(sheet, Role::song), ElementsAre("み", "あ", "な", "か", "と", "り", "の"));
  EXPECT_THAT(texts(sheet, Role::shoga), ElementsAre("ヒャ", "ラ", "トー", "ロ"));
  for (const Item& item : with_role(sheet, Role::song)) {
    EXPECT_LE(item.box.right, numbers[0].left);
    EXPECT_LT(item.box.width(), numbers[0].width());
  }
  for (const Item& item : with_role(sheet, Role::shoga)) {
    EXPECT_GE(item.box.left, numbers[0].right);
  }
  const auto song = with_role(sheet, Role::song);
  EXPECT_LT(song[1].box.right, song[0].box.left) << "the second verse outside the first";
  for (std::size_t i = 0; i < 2; ++i) EXPECT_NEAR(y(song[i].box), y(numbers[0]), kNear);
}

TEST(Layout, SongTextCanBeLeftOut) {
  PageOptions options;
  options.song_text = SongText::hidden;
  const Sheet sheet = sheet_of(kSong, options);
  EXPECT_THAT(with_role(sheet, Role::song), IsEmpty());
  EXPECT_THAT(with_role(sheet, Role::shoga), IsEmpty());
}

TEST(Layout, DirectionsStandBesideTheirBeat) {
  const Sheet sheet = sheet_of(
      "{section \"B\"} 三 {dyn mf} 四 {text \"slowly\"} 五 {tempo 96} 六 | {segno} 三 - - - {fine} "
      "|=\n");
  EXPECT_THAT(texts(sheet, Role::label), ElementsAre("B", "mf", "slowly", "\u00a0= 96", "Fine"));
  EXPECT_THAT(glyph_names(with_role(sheet, Role::label)), ElementsAre("quarter-note", "segno"));
  for (const Item& label : with_role(sheet, Role::label)) {
    EXPECT_GT(label.box.left, number_boxes(sheet)[0].right);
  }
}

constexpr const char* kHeader =
    "title: 川べり\nsubtitle: 夏\ncomposer: A. Tani\nlyricist: 谷\nflute: 6\ntuning: 442\n"
    "meter: 3/4\ntempo: 76\nsource: a source\nrights: free\n\n";

TEST(Layout, TheHeadingStandsAtTheRightEdge) {
  const Sheet sheet = sheet_of(kHeader + bars(2, "三 四 五"));
  const std::vector<std::string> heading = texts(sheet, Role::heading);
  for (const std::string text :
       {"川べり", "夏", "作曲　", "A. Tani", "作詞　谷", "六本調子", "3", "4", "A = 442 Hz"}) {
    EXPECT_THAT(heading, Contains(text));
  }
  EXPECT_THAT(heading, Contains(HasSubstr("= 76")));
  EXPECT_EQ(heading.front(), "川べり") << "the title is read first";
  for (const Item& item : with_role(sheet, Role::heading)) {
    EXPECT_GT(item.box.left, number_boxes(sheet)[0].right);
  }
}

TEST(Layout, TheFactsOfALongFluteNameStayOnTheSheet) {
  const std::string flute = "flutes/" + std::string(120, 'w') + ".json";
  const Sheet sheet = sheet_of("flute: " + flute + "\ntuning: 442\n\n三 四 五 六 |=\n", across());
  const Box area = area_of({sheet.width, sheet.height});
  EXPECT_THAT(texts(sheet, Role::heading), Contains(HasSubstr(flute)));
  for (const Item& item : with_role(sheet, Role::heading)) {
    EXPECT_LE(item.box.right, area.right + kNear);
  }
}

TEST(Layout, TheFootNamesEverySheet) {
  const std::vector<Sheet> sheets = sheets_of(kHeader + bars(300, "三 四 五"));
  ASSERT_GT(sheets.size(), 1u);
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const std::vector<std::string> foot = texts(sheets[i], Role::footer);
    EXPECT_EQ(foot.back(), "川べり\u00a0\u00a0\u00a0" + std::to_string(i + 1) + " / " +
                               std::to_string(sheets.size()));
  }
}

// What is said once: source and rights on the first sheet, the caution on the last, and a sign
// where it first stands.
TEST(Layout, TheFootSaysEverythingOnce) {
  std::string text = kHeader + bars(150, "三 四 五");
  text.replace(text.rfind("|="), 2, "| 三↓20 8 ?F#4 | 三↑20 四 五 |=");
  const std::vector<Sheet> sheets = sheets_of(text);
  ASSERT_GT(sheets.size(), 1u);
  const std::vector<std::string> first = texts(sheets.front(), Role::footer);
  const std::vector<std::string> last = texts(sheets.back(), Role::footer);
  EXPECT_EQ(first.size(), 3u);
  EXPECT_EQ(first[0], "a source");
  EXPECT_EQ(first[1], "free");
  EXPECT_THAT(last, Contains(HasSubstr("20 cents lower or higher")).Times(1));
  EXPECT_THAT(last, Contains(HasSubstr("no fingering for this note")).Times(1));
  EXPECT_THAT(last, Contains(HasSubstr("use hearing protection")).Times(1));
  EXPECT_THAT(last, Not(Contains("a source")));
}

TEST(Layout, WithoutAScaleTheSignsFillTheirPages) {
  const auto digit = [](const std::string& text, const PageOptions& options) {
    const auto sheets = lay_out(score_of(text), {}, options).value.value();
    return std::pair(sheets.size(), number_boxes(sheets.front())[0].height());
  };
  for (PageOptions options : {PageOptions{}, across()}) {
    for (const int count : {4, 16, 40, 90}) {
      const std::string text = bars(count, "三 四 五 六");
      options.scale = 1;
      const auto [pages, plain] = digit(text, options);
      options.scale = std::nullopt;
      const auto [grown_pages, grown] = digit(text, options);
      EXPECT_EQ(grown_pages, pages) << count;
      EXPECT_GE(grown, plain - kNear) << count;
      EXPECT_LE(grown, style::kDigitHeight * kMostScale + kNear) << count;
      if (count < 16) {
        EXPECT_GT(grown, 2 * plain) << count;
      }
    }
  }
}

TEST(Layout, GrowsWithTheScore) {
  const auto count = static_cast<int>(support::size(400) / 4);
  EXPECT_TRUE(lay_out(score_of(bars(count)), {}, {}).value.has_value());
}

// A column ends with the phrase where that costs less than a fifth of it; here a column holds
// thirteen bars of two beats.
TEST(Layout, ColumnsEndWithPhrases) {
  const auto in_first_column = [](const std::string& eleventh, const std::string& tenth) {
    std::string text = "meter: 2/4\n\n";
    for (int i = 1; i <= 24; ++i) {
      const std::string usual = i == 24 ? "|=" : "|";
      text += "三 四 " + (i == 11 ? eleventh : i == 10 ? tenth : usual) + " ";
    }
    const auto sheet = sheet_of(text + "\n");
    const auto boxes = number_boxes(sheet);
    const auto in_column = [&](const Box& box) {
      return std::abs(box.center().x - boxes[0].center().x) < 3;
    };
    return std::count_if(boxes.begin(), boxes.end(), in_column) / 2;
  };
  ASSERT_EQ(in_first_column("|", "|"), 13);
  EXPECT_EQ(in_first_column("||", "|"), 11);
  EXPECT_EQ(in_first_column("| {section \"B\"}", "|"), 11);
  EXPECT_EQ(in_first_column("|\n", "|"), 11);
  EXPECT_EQ(in_first_column("|", "||"), 13);
}

// As far as words of a line, or two verses would be read as one.
TEST(Layout, WordsOfTwoVersesStandApart) {
  const Sheet sheet = sheet_of("五 六 五 - |=\n> night a by\n>2 tide, a by\n");
  const auto song = with_role(sheet, Role::song);
  const auto first = std::find_if(song.begin(), song.end(), [](const Item& item) {
    return std::get<TextShape>(item.shape).text == "night";
  });
  const auto second = std::find_if(song.begin(), song.end(), [](const Item& item) {
    return std::get<TextShape>(item.shape).text == "tide,";
  });
  ASSERT_TRUE(first != song.end() && second != song.end());
  const double size = std::get<TextShape>(first->shape).size;
  EXPECT_GT(first->box.left - second->box.right, size / 3) << "a space is a third of an em";
}

TEST(Layout, SeveralVersesAreNumberedOnce) {
  const std::string two = "三 四 五 六 |=\n> か き く け\n>2 さ し す せ\n";
  const std::string one = "三 四 五 六 |=\n> か き く け\n";
  for (const PageOptions& options : {PageOptions{}, across()}) {
    EXPECT_THAT(texts(sheet_of(two, options), Role::bar_number), ElementsAre("1.", "2.", "(1)"));
    EXPECT_THAT(texts(sheet_of(one, options), Role::bar_number), ElementsAre("(1)"));
  }
}

// Nobody should play the number of a bar.
TEST(Layout, BarNumbersStandInBracketsOffTheAxis) {
  const Sheet down = sheet_of(bars(40, "三 四 五 六"));
  for (const Item& number : with_role(down, Role::bar_number)) {
    for (const Box& sign : number_boxes(down)) {
      const double axis = sign.center().x;
      EXPECT_FALSE(number.box.left < axis && axis < number.box.right);
    }
  }
  EXPECT_EQ(texts(down, Role::bar_number).front(), "(1)");
}

TEST(Layout, HolesStandBesideEveryNoteWhereAsked) {
  model::Score score = score_of("一 三 - 五{holes ●○○○●●●} |=\n");
  for (model::Note& note : score.notes) {
    note.tone.holes = model::HolePattern{std::vector<model::Hole>(7, model::Hole::closed)};
  }
  PageOptions options;
  const auto holes = [&] {
    return with_role(lay_out(score, {}, options).value.value().front(), Role::holes).size();
  };
  EXPECT_EQ(holes(), 7u);
  options.holes = HolesShown::all;
  EXPECT_EQ(holes(), 21u);
}

TEST(Layout, TooFewColumnsForThoseAskedForAreTold) {
  PageOptions options;
  options.scale = 1;
  options.columns = 8;
  const auto rule_of = [&] {
    const auto laid_out = lay_out(score_of("三 四 五 六 |=\n"), {}, options);
    return laid_out.diagnostics.empty() ? std::string()
                                        : std::string(laid_out.diagnostics.front().rule->name);
  };
  EXPECT_EQ(rule_of(), "page-fewer-columns");
  options.columns = 1;
  EXPECT_EQ(rule_of(), "");
}

// Without a scale the columns asked for are made as large as they can be; that larger signs would
// not give so many is told.
TEST(Layout, ColumnsAskedForFillThePage) {
  PageOptions options;
  for (const int columns : {4, 5, 6, 7}) {
    options.columns = columns;
    const auto laid_out = lay_out(score_of(bars(24, "三 四 五 六")), {}, options);
    std::vector<double> axes;
    for (const Box& box : number_boxes(laid_out.value.value().front())) {
      if (axes.empty() || std::abs(axes.back() - box.center().x) > 3) {
        axes.push_back(box.center().x);
      }
    }
    const bool told = !laid_out.diagnostics.empty();
    EXPECT_EQ(told, axes.size() < static_cast<std::size_t>(columns));
    EXPECT_EQ(told, columns == 7);
  }
}

TEST(Layout, TheHearingCautionStandsWhereThirdRegisterNotesDo) {
  const std::string caution = "use hearing protection";
  EXPECT_THAT(texts(sheet_of("8 - 三 - |=\n"), Role::footer), Contains(HasSubstr(caution)));
  EXPECT_THAT(texts(sheet_of("三{pre 2̇} - 三 - |=\n"), Role::footer), Contains(HasSubstr(caution)));
  EXPECT_THAT(texts(sheet_of("7 - 三 - |=\n"), Role::footer), Not(Contains(HasSubstr(caution))));
}

TEST(Layout, ALongBarBreaksAtABeat) {
  const Sheet sheet = sheet_of("meter: 24/4\n\n" + bars(2,
                                                        "(三 四) 五 - 六 (三 四) 五 - 六 "
                                                        "(三 四) 五 - 六 (三 四) 五 - 六 "
                                                        "(三 四) 五 - 六 (三 四) 五 - 六"));
  const std::vector<Box> numbers = number_boxes(sheet);
  int breaks = 0;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    if (numbers[i].right > numbers[i - 1].left) continue;
    ++breaks;
    // The second number of a group does not begin a column.
    EXPECT_NE(i % 4, 1u);
  }
  EXPECT_GE(breaks, 3);
  // Each part is named with its own words.
  EXPECT_GE(sheet.bars.size(), 4u);
  EXPECT_THAT(sheet.bars[0], HasSubstr("bar 1: (三 四) 五 -"));
  EXPECT_THAT(sheet.bars[1], HasSubstr("bar 1: "));
}

// Three beats and one would be harder to read than two and two.
TEST(Layout, ALongBarBreaksIntoPartsOfAboutTheSameLength) {
  int broken = 0;
  for (const int beats : {4, 5, 6, 7, 12, 40}) {
    std::string bar;
    for (int i = 0; i < beats; ++i) bar += "三 ";
    const std::string text = "meter: " + std::to_string(beats) + "/4\n\n" + bars(3, bar);
    for (double scale = 1; scale <= 3; scale += 0.125) {
      PageOptions options;
      options.direction = beats == 40 ? ReadingDirection::down : ReadingDirection::across;
      options.scale = scale;
      std::map<std::string, std::vector<std::size_t>> parts;  // of a bar, in beats
      const auto sheets = lay_out(score_of(text), {}, options);
      for (const Sheet& sheet : *sheets.value) {
        for (const std::string& part : sheet.bars) {
          parts[part.substr(0, part.find(':'))].push_back(occurrences(part, "三"));
        }
      }
      for (const auto& [measure, lengths] : parts) {
        broken += lengths.size() > 1 ? 1 : 0;
        const auto [least, most] = std::minmax_element(lengths.begin(), lengths.end());
        EXPECT_LE(*most - *least, 1u) << beats << " beats at scale " << scale;
      }
    }
  }
  EXPECT_GE(broken, 50);
}

TEST(Layout, AFreeHoldGoesOnInTheNextColumn) {
  std::string text = "meter: free\n\n三{fermata}";
  for (int i = 0; i < 120; ++i) text += " -";
  const Sheet sheet = sheet_of(text + " |=\n");
  EXPECT_GE(with_role(sheet, Role::stroke).size(), 2u);
}

// Steps are made so that bars of the usual length fill a column. Of two equally frequent lengths
// the longer is the usual one: our choice, since short bars also fit where long ones do.
TEST(Layout, OfEquallyFrequentBarsTheLongerFillTheColumns) {
  const auto step = [](const std::string& text) {
    const std::vector<Box> numbers = number_boxes(sheet_of(text));
    return start(numbers[1]) - start(numbers[0]);
  };
  const std::string three = "三 四 五";
  const std::string four = "三 四 五 六";
  const double of_four = step("meter: 4/4\n\n" + bars(8, four));
  ASSERT_GT(std::abs(step("meter: 3/4\n\n" + bars(8, three)) - of_four), kNear);
  const std::string mixed =
      three + " | " + three + " | {meter 4/4} " + four + " | " + four + " |=\n";
  EXPECT_NEAR(step("meter: 3/4\n\n" + mixed), of_four, kNear);
}

}  // namespace
}  // namespace yubifu::page
