// What single notes look like on the page.
#include <map>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "model/words.h"
#include "page/drawn.h"
#include "page/style.h"

namespace yubifu::page {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr double kSignNear = 0.01;

double middle_x(const Box& box) {
  return box.center().x;
}

TEST(Signs, KanjiForTheLowRegisterDigitsForTheSecond) {
  const Sheet sheet = sheet_of("筒 一 二 三 | 四 五 六 七 | 0 1 2 3 | 4 5 6 7 | 8 - - - |=\n");
  EXPECT_THAT(glyph_names(with_role(sheet, Role::number)),
              ElementsAre("tube", "kanji-1", "kanji-2", "kanji-3", "kanji-4", "kanji-5", "kanji-6",
                          "kanji-7", "digit-0", "digit-1", "digit-2", "digit-3", "digit-4",
                          "digit-5", "digit-6", "digit-7", "digit-8"));
}

TEST(Signs, ADotOverTheDigitsOfTheThirdRegister) {
  const Sheet sheet = sheet_of("2̇ 5̇ 2 - |=\n");
  const std::vector<Item> items = with_role(sheet, Role::number);
  ASSERT_EQ(items.size(), 5u);
  for (const std::size_t digit : {0u, 2u}) {
    const Box& number = items[digit].box;
    const Box& dot = items[digit + 1].box;
    EXPECT_TRUE(std::holds_alternative<DotShape>(items[digit + 1].shape));
    EXPECT_LT(dot.bottom, number.top);
    EXPECT_NEAR(middle_x(dot), middle_x(number), kSignNear);
  }
}

TEST(Signs, HalfHolesStandSmallAtTheUpperRight) {
  for (const PageOptions& options : {PageOptions{}, across()}) {
    const Sheet sheet = sheet_of("三メ 二カ 三 - |=\n", options);
    const std::vector<Item> small = with_role(sheet, Role::small_sign);
    const std::vector<Box> numbers = number_boxes(sheet);
    EXPECT_THAT(glyph_names(small), ElementsAre("half-under", "half-over"));
    for (std::size_t i = 0; i < small.size(); ++i) {
      EXPECT_GE(small[i].box.left, numbers[i].right);
      EXPECT_NEAR(small[i].box.top, numbers[i].top, kSignNear);
      EXPECT_LT(small[i].box.height(), numbers[i].height() / 2);
    }
  }
}

TEST(Signs, BendsAreAnArrowAndTheirCents) {
  for (const PageOptions& options : {PageOptions{}, across()}) {
    const Sheet sheet = sheet_of("三↓20 六メ↑15 三 - |=\n", options);
    const std::vector<Item> bends = with_role(sheet, Role::bend);
    EXPECT_THAT(glyph_names(bends),
                ElementsAre("arrow-down", "digit-2", "digit-0", "arrow-up", "digit-1", "digit-5"));
    const std::vector<Box> numbers = number_boxes(sheet);
    EXPECT_LT(bends[0].box.height(), numbers[0].height() / 2);
    EXPECT_EQ(bends[0].note, 0u);
    EXPECT_EQ(bends[3].note, 1u);
  }
}

// A note that no finger reaches says its pitch in a frame, so that nobody plays a wrong number.
TEST(Signs, GapsShowTheirPitchInAFrame) {
  const Sheet sheet = sheet_of("?F#4 ?Bb3 三 - |=\n");
  int frames = 0;
  for (const Item& item : with_role(sheet, Role::number)) {
    frames += std::holds_alternative<FrameShape>(item.shape) ? 1 : 0;
  }
  EXPECT_EQ(frames, 2);
  EXPECT_THAT(texts(sheet, Role::number), ElementsAre("F", "4", "B", "3"));
  EXPECT_THAT(glyph_names(with_role(sheet, Role::number)), ElementsAre("sharp", "flat", "kanji-3"));
}

TEST(Signs, RestsAreDotsOnTheLineOfTheNumbers) {
  const Sheet sheet = sheet_of("三 ・ 三 ・ |=\n");
  const std::vector<Item> rests = with_role(sheet, Role::rest);
  ASSERT_EQ(rests.size(), 2u);
  for (const Item& rest : rests) {
    EXPECT_TRUE(std::holds_alternative<DotShape>(rest.shape));
    EXPECT_NEAR(middle_x(rest.box), middle_x(number_boxes(sheet)[0]), kSignNear);
  }
}

TEST(Signs, OneHeldBeatIsADiagonal) {
  const Sheet sheet = sheet_of("五 - 五 - |=\n");
  const auto strokes = lines(with_role(sheet, Role::stroke));
  ASSERT_EQ(strokes.size(), 2u);
  for (const LineShape& stroke : strokes) {
    EXPECT_GT(stroke.from.x, stroke.to.x);
    EXPECT_LT(stroke.from.y, stroke.to.y);
  }
}

TEST(Signs, MoreHeldBeatsAreLevelAndUprightInTurn) {
  const Sheet sheet = sheet_of("一 - - - | - - 一 - |=\n");
  const auto strokes = lines(with_role(sheet, Role::stroke));
  ASSERT_EQ(strokes.size(), 6u);
  const double one = number_boxes(sheet)[0].width();
  for (const std::size_t level : {0u, 2u, 4u}) {
    EXPECT_NEAR(strokes[level].from.y, strokes[level].to.y, kSignNear);
    EXPECT_LT(strokes[level].to.x - strokes[level].from.x, one / 2);
    // Off the axis of the numbers, so that nobody reads 一.
    EXPECT_GT((strokes[level].from.x + strokes[level].to.x) / 2,
              middle_x(number_boxes(sheet)[0]) + 0.1 * one);
  }
  for (const std::size_t upright : {1u, 3u}) {
    EXPECT_NEAR(strokes[upright].from.x, strokes[upright].to.x, kSignNear);
  }
  EXPECT_GT(strokes[5].from.x, strokes[5].to.x);
}

// A dotted quarter is a plain number where a number lasts one, and has two strokes where it lasts
// an eighth: what was written is what is drawn.
TEST(Signs, StrokesCountTheBeatThatWasWritten) {
  const auto strokes = [](const std::string& text) {
    return lines(with_role(sheet_of(text), Role::stroke)).size();
  };
  EXPECT_EQ(strokes("meter: 6/8\n\n5 - - 6 - - |=\n"), 4u);
  EXPECT_EQ(strokes("meter: 6/8\nbeat: 3/8\n\n5 6 |=\n"), 0u);
  EXPECT_EQ(strokes("meter: 6/8\nbeat: 3/8\n\n5 - |=\n"), 1u);
  EXPECT_EQ(strokes("meter: 4/4\nbeat: 1/2\n\n5 - |=\n"), 1u);
  EXPECT_EQ(strokes("meter: 2/4\nbeat: 1/8\n\n5 - - - |=\n"), 3u);
}

TEST(Signs, GroupsAreThoseOfTheBeatThatWasWritten) {
  const auto beams = [](const std::string& text) {
    return with_role(sheet_of(text), Role::beam).size();
  };
  EXPECT_EQ(beams("meter: 6/8\n\n5 6 7 5 6 7 |=\n"), 0u);
  EXPECT_EQ(beams("meter: 6/8\nbeat: 3/8\n\n(5 6 7) (5 6 7) |=\n"), 2u);
  EXPECT_EQ(beams("meter: 4/4\nbeat: 1/2\n\n(5 6) 7 |=\n"), 1u);
  EXPECT_EQ(beams("meter: 4/4\n\n5 6 {beat 1/8} 5 6 5 6 |=\n"), 0u);
  EXPECT_EQ(beams("meter: 4/4\n\n5 6 {beat 1/2} (5 6) |=\n"), 1u);
}

// What a plain number lasts, wherever it is not one over the meter's denominator, and always in
// compound meters, where a player could take it for the felt beat.
TEST(Signs, TheSheetSaysWhatANumberLasts) {
  const auto said = [](const std::string& text, Role role) {
    std::vector<std::string> notes;
    for (const PageOptions& options : {PageOptions{}, across()}) {
      const auto names = glyph_names(with_role(sheet_of(text, options), role));
      if (options.direction == ReadingDirection::down) notes = names;
      EXPECT_EQ(names, notes) << text;
    }
    return notes;
  };
  const auto head = [&](const std::string& text) { return said(text, Role::heading); };
  EXPECT_THAT(head("meter: 4/4\n\n5 - 5 - |=\n"), IsEmpty());
  EXPECT_THAT(head("meter: 2/4\nbeat: 1/8\n\n5 - 5 - |=\n"), ElementsAre("kanji-3", "eighth-note"));
  EXPECT_THAT(head("meter: 4/4\nbeat: 1/2\n\n5 - |=\n"), ElementsAre("kanji-3", "half-note"));
  EXPECT_THAT(head("meter: 6/8\nbeat: 3/8\n\n5 - |=\n"),
              ElementsAre("kanji-3", "dotted-quarter-note"));
  EXPECT_THAT(head("meter: 6/8\n\n5 - 5 6 - 5 |=\n"), ElementsAre("kanji-3", "eighth-note"));
  EXPECT_THAT(head("meter: free\n\n5 - 5 |=\n"), IsEmpty());
  const auto label = [&](const std::string& text) { return said(text, Role::label); };
  EXPECT_THAT(label("meter: 4/4\n\n5 6 5 6 | {beat 1/2} 5 - | 6 - | {beat 1/4} 5 6 5 6 |=\n"),
              ElementsAre("kanji-3", "half-note", "kanji-3", "quarter-note"));
  EXPECT_THAT(label("meter: 4/4\n\n5 6 {beat 1/8} 5 6 5 6 |=\n"),
              ElementsAre("kanji-3", "eighth-note"));
  EXPECT_THAT(label("meter: 6/8\n\n5 - 5 6 - 5 | {meter 3/4} 5 6 7 |=\n"),
              ElementsAre("kanji-3", "quarter-note"));
  EXPECT_THAT(label("meter: 4/4\n\n5 6 5 6 | {meter 3/8} 5 6 7 |=\n"), IsEmpty());
}

// No word of another language where a sign of the trade says it.
TEST(Signs, FreeTimeIsWrittenInJapanese) {
  for (const PageOptions& options : {PageOptions{}, across()}) {
    const Sheet sheet =
        sheet_of("meter: free\n\n5 - 5 | {meter 3/4} 5 6 7 | {meter free} 5 6 |=\n", options);
    for (const Role role : {Role::heading, Role::label}) {
      for (const std::string& text : texts(sheet, role)) {
        EXPECT_EQ(text.find("free"), std::string::npos) << text;
      }
    }
  }
}

TEST(Signs, SchoolsThatWriteDashesGetDashes) {
  PageOptions options;
  options.held = HeldBeats::dashes;
  const Sheet sheet = sheet_of("五 - 一 - |=\n", options);
  const auto strokes = lines(with_role(sheet, Role::stroke));
  ASSERT_EQ(strokes.size(), 2u);
  for (const LineShape& stroke : strokes) EXPECT_NEAR(stroke.from.x, stroke.to.x, kSignNear);
}

TEST(Signs, AFreeHoldIsOneLongUprightStroke) {
  const Sheet sheet = sheet_of("三 三 五{fermata} - |=\n");
  const auto strokes = lines(with_role(sheet, Role::stroke));
  ASSERT_EQ(strokes.size(), 1u);
  EXPECT_NEAR(strokes[0].from.x, strokes[0].to.x, kSignNear);
  EXPECT_GT(strokes[0].to.y - strokes[0].from.y, number_boxes(sheet)[0].height());
  EXPECT_THAT(with_role(sheet, Role::mark), IsEmpty());
}

TEST(Signs, AFreeHoldOfSeveralBeatsIsOneStroke) {
  const Sheet sheet = sheet_of("五{fermata} - - - |=\n");
  const auto strokes = lines(with_role(sheet, Role::stroke));
  ASSERT_EQ(strokes.size(), 1u);
  const double step = number_boxes(sheet)[0].height();
  EXPECT_GT(strokes[0].to.y - strokes[0].from.y, 3 * step);
}

// Inside a beat there is no room for the stroke.
TEST(Signs, AFermataWithoutRoomForItsStrokeIsASign) {
  const Sheet sheet = sheet_of("(三{fermata} 五) 三 三 三 |=\n");
  EXPECT_THAT(glyph_names(with_role(sheet, Role::mark)), ElementsAre("fermata"));
}

TEST(Signs, GraceNotesStandSmallBesideTheNumber) {
  const Sheet sheet = sheet_of("三{pre 六 七メ}{post 五} - 三 - |=\n");
  const std::vector<Item> graces = with_role(sheet, Role::grace);
  EXPECT_THAT(glyph_names(graces), ElementsAre("kanji-6", "kanji-7", "half-under", "kanji-5"));
  const Box number = number_boxes(sheet)[0];
  for (const Item& grace : graces) {
    EXPECT_LE(grace.box.right, number.left);
    EXPECT_LT(grace.box.height(), number.height() * 0.6);
  }
  EXPECT_LT(graces[0].box.top, graces[1].box.top);
  EXPECT_GT(graces[3].box.top, number.bottom);  // after the note: at the end of its beats
}

TEST(Signs, GraceNotesAndTheirAdditionsStandApart) {
  for (const ReadingDirection direction : {ReadingDirection::down, ReadingDirection::across}) {
    PageOptions options;
    options.direction = direction;
    const Sheet sheet = sheet_of(
        "三{pre 六メ↓20 七↑120}{post 五メ↑5 二カ↓199} - 三{pre 1↓5} 三{post 2̇メ↓20 5̇} |=\n",
        options);
    const std::vector<Item> graces = with_role(sheet, Role::grace);
    EXPECT_GE(graces.size(), 25u);
    for (std::size_t i = 0; i < graces.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        // The dot belongs to its digit.
        const auto is_dot = [](const Item& item) {
          return std::holds_alternative<DotShape>(item.shape);
        };
        if (is_dot(graces[i]) || is_dot(graces[j])) continue;
        const bool meet = overlap(graces[i].box, graces[j].box);
        EXPECT_FALSE(meet) << i << " and " << j << ", down "
                           << (direction == ReadingDirection::down);
      }
    }
  }
}

TEST(Signs, EveryMarkHasItsSignBesideTheNumber) {
  const Sheet sheet = sheet_of(
      "三{uchi} 三{age} 三{suri} 三{yuri} | 三{trill} 三{accent} 三{staccato} 三{tenuto} | "
      "三{breath} 三{breath?} 三 ・{fermata} |=\n");
  const std::vector<Item> marks = with_role(sheet, Role::mark);
  EXPECT_THAT(glyph_names(marks),
              ElementsAre("strike", "lift", "slide", "vibrato", "trill", "accent", "staccato",
                          "tenuto", "breath", "optional-breath", "fermata"));
  for (const Item& mark : marks) EXPECT_LE(mark.box.right, number_boxes(sheet)[0].left);
}

// Drawings are found by the place of their mark among the marks; after them the segno's follows.
TEST(Signs, NoMarkIsWithoutADrawing) {
  const int drawn = static_cast<int>(GlyphId::segno) - static_cast<int>(GlyphId::fermata);
  EXPECT_EQ(static_cast<int>(model::kMarkWords.words().size()), drawn);
}

TEST(Signs, BreathStandsAtTheEndOfTheNote) {
  const Sheet sheet = sheet_of("三{breath} - - 三 |=\n");
  const std::vector<Item> marks = with_role(sheet, Role::mark);
  const auto strokes = with_role(sheet, Role::stroke);
  ASSERT_EQ(marks.size(), 1u);
  ASSERT_EQ(strokes.size(), 2u);
  EXPECT_GT(marks[0].box.top, strokes[1].box.bottom);
  EXPECT_LT(marks[0].box.bottom, number_boxes(sheet)[1].top);
}

TEST(Signs, AskedPatternsAreDrawnFromTheMouthEnd) {
  for (const PageOptions& options : {PageOptions{}, across()}) {
    const bool down = options.direction == ReadingDirection::down;
    const Sheet sheet = sheet_of("三{holes ○●●●◐○◎} - 三 - |=\n", options);
    std::vector<model::Hole> holes;
    double last = 0;
    for (const Item& item : with_role(sheet, Role::holes)) {
      const auto& hole = std::get<HoleShape>(item.shape);
      EXPECT_GT(down ? hole.center.x : hole.center.y, last);
      last = down ? hole.center.x : hole.center.y;
      holes.push_back(hole.hole);
    }
    using model::Hole;
    EXPECT_THAT(holes, ElementsAre(Hole::open, Hole::closed, Hole::closed, Hole::closed, Hole::half,
                                   Hole::open, Hole::steadying));
  }
}

// Patterns of notes that follow one another closely are not one chain of holes.
TEST(Signs, PatternsOfShortNotesStandApart) {
  for (const PageOptions& options : {PageOptions{}, across()}) {
    const bool down = options.direction == ReadingDirection::down;
    const Sheet sheet =
        sheet_of("(5{holes ●●○○○○○} 6{holes ●○○○○○○} 7{holes ○○○○○○○} 6{holes ●○○○○○○}) 5 6 7 |=\n",
                 options);
    std::map<std::size_t, Box> patterns;
    for (const Item& item : with_role(sheet, Role::holes)) {
      const auto [found, fresh] = patterns.try_emplace(item.note.value(), item.box);
      if (!fresh) found->second = joined(found->second, item.box);
    }
    ASSERT_EQ(patterns.size(), 4u);
    for (std::size_t i = 1; i < 4; ++i) {
      const Box& before = patterns.at(i - 1);
      const double size = down ? before.height() : before.width();
      const double apart =
          down ? patterns.at(i).top - before.bottom : patterns.at(i).left - before.right;
      EXPECT_GT(apart, size) << "more paper than hole between two patterns";
    }
  }
}

// What the shapes say can be selected, copied and searched; copied it is fingering text again.
TEST(Signs, LieUnderTheirFingeringText) {
  const Sheet sheet = sheet_of("|: 三メ↓20{uchi} (六~ 五) - ・ :|x3\n?F#4 (5 6 7):2 8 |=\n");
  EXPECT_THAT(texts(sheet, Role::words),
              ElementsAre("|: 三メ↓20{uchi} (六~ 五) - ・ :|x3", "?F#4 (5 6 7):2 8 |="));
  const auto words = with_role(sheet, Role::words);
  const auto& runs = std::get<UnseenText>(words[1].shape).runs;
  EXPECT_TRUE(overlap(runs[0].box, number_boxes(sheet)[3]));
  EXPECT_NEAR(middle_x(runs[0].box), middle_x(number_boxes(sheet)[3]), kSignNear);
}

}  // namespace
}  // namespace yubifu::page
