// Note values, tuplets, cuts, rests and beams. The groups are those that the canonical rhythm
// gives; what stands on the staff for them is typed from common practice and section 4 of the
// design.
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"
#include "musicxml/write/note_value.h"

namespace yubifu::musicxml {
namespace {

using model::Meter;
using model::Rational;
using support::document_of;
using support::staff_score;
using Bars = std::vector<std::string>;

Bars written(const Meter& meter, std::string_view lengths) {
  return support::written_bars(document_of(staff_score(meter, lengths)));
}

// One bar of 2/4 or 4/4, whichever the lengths fill.
std::string bar(std::string_view lengths, const Meter& meter = {4, 4}) {
  const Bars bars = written(meter, lengths);
  EXPECT_EQ(bars.size(), 1u);
  return bars.empty() ? std::string() : bars[0];
}

TEST(NoteValues, HaveUpToTwoDots) {
  EXPECT_EQ(single_value(1), (NoteValue{1, 0}));
  EXPECT_EQ(single_value(3), (NoteValue{2, 1}));
  EXPECT_EQ(single_value(Rational(7, 2)), (NoteValue{2, 2}));
  EXPECT_EQ(single_value(Rational(3, 8)), (NoteValue{Rational(1, 4), 1}));
  EXPECT_EQ(single_value(14), (NoteValue{8, 2}));
  EXPECT_EQ(single_value(5), std::nullopt);
  EXPECT_EQ(single_value(Rational(15, 4)), std::nullopt);
  EXPECT_EQ(single_value(Rational(1, 3)), std::nullopt);
  EXPECT_EQ(single_value(16), std::nullopt);
  EXPECT_EQ(single_value(0), std::nullopt);
}

TEST(NoteValues, GoFromTheBreveToThe1024th) {
  EXPECT_EQ(written({4, 2}, "8"), Bars{"E4:breve"});
  EXPECT_EQ(bar("4"), "E4:whole");
  EXPECT_EQ(bar("2 1 1/2 1/4 1/8 1/8"),
            "E4:half, E4:quarter, E4:eighth, E4:16th, E4:32nd, E4:32nd");
  EXPECT_EQ(bar("1/16 1/32 1/64 1/128 1/256 1/256 7/8", {1, 4}),
            "E4:64th, E4:128th, E4:256th, E4:512th, E4:1024th, E4:1024th, E4:eighth..");
}

TEST(PlainGroups, PrintWithoutATuplet) {
  EXPECT_EQ(bar("1/2 1/2 3/4 1/4 1/4 1/4 1/2 1"),
            "E4:eighth, E4:eighth, E4:eighth., E4:16th, E4:16th, E4:16th, E4:eighth, E4:quarter");
  // Four parts of a dotted quarter are dotted sixteenths.
  EXPECT_EQ(bar("3/4 3/4 3/8 3/8 3/8 3/8", {6, 8}).substr(0, 25), "E4:eighth., E4:eighth., E");
}

struct TupletCase {
  Meter meter;
  std::string_view lengths;
  std::string_view staff;
};

TEST(Tuplets, TakeTheNextLowerPowerOfTwo) {
  const std::vector<TupletCase> table{
      {{1, 4}, "1/3 1/3 1/3", "E4:eighth 3/2 <, E4:eighth 3/2, E4:eighth 3/2 >"},
      {{1, 4}, "2/3 1/3", "E4:quarter 3/2 <, E4:eighth 3/2 >"},
      {{1, 4}, "1/3 r1/3 1/3", "E4:eighth 3/2 <, r:eighth 3/2, E4:eighth 3/2 >"},
      {{1, 4},
       "1/5 1/5 1/5 1/5 1/5",
       "E4:16th 5/4 <, E4:16th 5/4, E4:16th 5/4, E4:16th 5/4, E4:16th 5/4 >"},
      {{1, 4},
       "1/6 1/6 1/6 1/6 1/6 1/6",
       "E4:16th 6/4 <, E4:16th 6/4, E4:16th 6/4, E4:16th 6/4, E4:16th 6/4, E4:16th 6/4 >"},
      {{1, 4}, "3/7 4/7", "E4:eighth. 7/4 <, E4:quarter 7/4 >"},
      {{2, 4}, "2/3 2/3 2/3", "E4:quarter 3/2 <, E4:quarter 3/2, E4:quarter 3/2 >"},
      {{4, 4}, "4/3 4/3 4/3", "E4:half 3/2 <, E4:half 3/2, E4:half 3/2 >"},
  };
  for (const TupletCase& at : table) EXPECT_EQ(bar(at.lengths, at.meter), at.staff);
}

TEST(Tuplets, OverThreeBeatsTakeMultiplesOfThree) {
  EXPECT_EQ(bar("3/5 3/5 3/5 3/5 3/5", {3, 4}),
            "E4:quarter 5/3 <, E4:quarter 5/3, E4:quarter 5/3, E4:quarter 5/3, E4:quarter 5/3 >");
}

TEST(Tuplets, NestWithTheProductOfBoth) {
  EXPECT_EQ(bar("1/9 1/9 1/9 1/3 1/3", {1, 4}),
            "E4:16th 9/4 < <, E4:16th 9/4, E4:16th 9/4 >, E4:eighth 3/2, E4:eighth 3/2 >");
}

TEST(Tuplets, AreTiedToWhatFollowsThem) {
  EXPECT_EQ(bar("1/3 1/3 4/3 2"),
            "E4:eighth 3/2 <, E4:eighth 3/2, E4:eighth 3/2 > ~, E4:quarter, E4:half");
  EXPECT_EQ(bar("5/3 1/3 2"), "E4:quarter ~, E4:quarter 3/2 <, E4:eighth 3/2 >, E4:half");
  EXPECT_EQ(bar("4/3 2/3 2"), "E4:half 3/2 <, E4:quarter 3/2 >, E4:half");
}

TEST(Tuplets, HoldWordsThatNoValueLasts) {
  // Words of a third of a quarter, twelve to the bar.
  model::Score score = staff_score({4, 4}, "1/3 2/3 3");
  score.measures[0].beat = Rational(1, 3);
  score.header.beat = Rational(1, 3);
  EXPECT_EQ(support::written_bars(document_of(score)),
            Bars{"E4:eighth 3/2 <, E4:quarter 3/2 >, E4:half."});
}

TEST(Joins, RunOverWordsOutsideTuplets) {
  EXPECT_EQ(bar("1/2 1 1/2 2"), "E4:eighth, E4:quarter, E4:eighth, E4:half");
  EXPECT_EQ(bar("1/2 2 3/2"), "E4:eighth, E4:half, E4:quarter.");
  EXPECT_EQ(bar("1/4 3/4 3"), "E4:16th, E4:eighth., E4:half.");
}

TEST(Cuts, FallOnTheStrongestPlaceWhereTheFirstPartHasAValue) {
  EXPECT_EQ(bar("5/2 3/2"), "E4:half ~, E4:eighth, E4:quarter.");
  EXPECT_EQ(bar("3/2 5/2"), "E4:quarter., E4:eighth ~, E4:half");
  EXPECT_EQ(bar("1/2 5/2 1"), "E4:eighth, E4:quarter. ~, E4:quarter, E4:quarter");
  EXPECT_EQ(bar("5/2 1/2", {3, 4}), "E4:half ~, E4:eighth, E4:eighth");
  EXPECT_EQ(bar("1/2 5/2", {3, 4}), "E4:eighth, E4:eighth ~, E4:half");
  EXPECT_EQ(bar("5/2 1/2", {6, 8}), "E4:quarter. ~, E4:quarter, E4:eighth");
  EXPECT_EQ(bar("1/2 5/2", {6, 8}), "E4:eighth, E4:quarter ~, E4:quarter.");
  EXPECT_EQ(bar("5/2", {5, 8}), "E4:quarter. ~, E4:quarter");
  EXPECT_EQ(bar("5", {5, 4}), "E4:half. ~, E4:half");
  EXPECT_EQ(bar("7/2", {7, 8}), "E4:half..");
  EXPECT_EQ(bar("9/2", {9, 8}), "E4:quarter. ~, E4:half.");
}

TEST(Cuts, InsideATupletFollowItsParts) {
  // Five of seven parts: the group falls into four and three.
  EXPECT_EQ(bar("5/7 2/7", {1, 4}), "E4:quarter 7/4 < ~, E4:16th 7/4, E4:eighth 7/4 >");
}

TEST(Cuts, LeaveALengthWithoutValuesWhole) {
  const MetricGrid grid = MetricGrid::of_bar({4, 4}, 1);
  EXPECT_EQ(cut_note(0, Rational(1, 3), grid),
            (std::vector<ValuePiece>{{0, Rational(1, 3), std::nullopt}}));
}

TEST(Ties, RunOverBarLines) {
  EXPECT_EQ(written({2, 4}, "1 3 4"),
            (Bars{"E4:quarter, E4:quarter ~", "E4:half", "E4:half ~", "E4:half"}));
}

TEST(Rests, FollowTheMeter) {
  EXPECT_EQ(bar("1 r3"), "E4:quarter, r:quarter, r:half");
  EXPECT_EQ(bar("r3 1"), "r:half, r:quarter, E4:quarter");
  EXPECT_EQ(bar("r1/2 1/2 r1 2"), "r:eighth, E4:eighth, r:quarter, E4:half");
  EXPECT_EQ(bar("r2 1", {3, 4}), "r:quarter, r:quarter, E4:quarter");
  EXPECT_EQ(bar("1 r2", {3, 4}), "E4:quarter, r:quarter, r:quarter");
  EXPECT_EQ(bar("r3/2 3/2", {6, 8}), "r:quarter., E4:quarter.");
  EXPECT_EQ(bar("r1 1/2 1/2 r1", {6, 8}), "r:quarter, E4:eighth, E4:eighth, r:eighth, r:eighth");
}

TEST(Rests, OfAWholeBarHaveNoType) {
  EXPECT_EQ(written({3, 4}, "3 r3 3"), (Bars{"E4:half.", "r:bar", "E4:half."}));
}

TEST(Rests, OfAShortBarAreOrdinaryOnes) {
  model::Score score = staff_score({4, 4}, "r4 4");
  score.measures[0].length = 1;
  EXPECT_EQ(support::written_bars(document_of(score)), (Bars{"r:quarter", "E4:whole"}));
}

TEST(Pickups, CountFromTheEndOfTheBar) {
  // An eighth before the bar's last quarter and a half: no cut where a full bar would have one.
  model::Score score = staff_score({4, 4}, "5/2 r3/2 4");
  score.measures[0].length = Rational(5, 2);
  EXPECT_EQ(support::written_bars(document_of(score)), (Bars{"E4:eighth ~, E4:half", "E4:whole"}));
}

TEST(FreeMeter, HasNoMetricPlacesButItsBeats) {
  model::Score score = staff_score({6, 4}, "1 5");
  score.measures[0].meter = Meter::free_time();
  score.header.meter = Meter::free_time();
  const std::string document = document_of(score);
  EXPECT_EQ(support::written_bars(document), Bars{"E4:quarter, E4:quarter ~, E4:whole"});
  EXPECT_NE(document.find("<senza-misura/>"), std::string::npos);
}

std::string beams(std::string_view lengths, const Meter& meter = {4, 4}) {
  const Bars bars = support::written_beams(document_of(staff_score(meter, lengths)));
  EXPECT_EQ(bars.size(), 1u);
  return bars.empty() ? std::string() : bars[0];
}

TEST(Beams, FollowTheMeter) {
  const std::string six = "1/2 1/2 1/2 1/2 1/2 1/2";
  EXPECT_EQ(beams(six, {3, 4}), "( ) ( ) ( )");
  EXPECT_EQ(beams(six, {6, 8}), "( - ) ( - )");
  EXPECT_EQ(beams("1/2 1/2 1/2", {3, 8}), "( - )");
  EXPECT_EQ(beams("1/2 1/2 1/2 1/2", {2, 4}), "( ) ( )");
  EXPECT_EQ(beams(six + " 1/2 1/2 1/2", {9, 8}), "( - ) ( - ) ( - )");
  EXPECT_EQ(beams("1/2 1/2 1/2 1/2 1/2", {5, 8}), "( - ) ( )");
  EXPECT_EQ(beams(six + " 1/2", {7, 8}), "( ) ( ) ( - )");
}

TEST(Beams, HaveHooksTowardsTheirBeat) {
  EXPECT_EQ(beams("3/4 1/4", {1, 4}), "( )<");
  EXPECT_EQ(beams("1/4 3/4", {1, 4}), "(> )");
  EXPECT_EQ(beams("1/4 1/2 1/4", {1, 4}), "(> - )<");
  EXPECT_EQ(beams("3/4 1/4 1/2", {3, 8}), "( -< )");
  EXPECT_EQ(beams("1/2 1/4 3/4", {3, 8}), "( -> )");
  EXPECT_EQ(beams("1/2 1/8 1/8 1/4", {1, 4}), "( -(( --) ))");
}

TEST(Beams, NeverCrossARestOrAQuarter) {
  EXPECT_EQ(beams("r1/2 1/2 1/2 r1/2 1/2 1/2 1"), ". . . . ( ) .");
  EXPECT_EQ(beams("1/2 1 1/2 2"), ". . . .");
}

TEST(Beams, NeverCrossTheBorderOfATuplet) {
  EXPECT_EQ(beams("1/6 1/6 1/6 1/2", {1, 4}), "(( -- )) .");
  EXPECT_EQ(beams("1/3 1/3 1/3 1/2 1/2", {2, 4}), "( - ) ( )");
}

TEST(Brackets, StandWhereNoBeamSpansTheTuplet) {
  const std::string beamed = document_of(staff_score({1, 4}, "1/3 1/3 1/3"));
  EXPECT_NE(beamed.find("bracket=\"no\" show-number=\"actual\""), std::string::npos);
  const std::string plain = document_of(staff_score({1, 4}, "2/3 1/3"));
  EXPECT_NE(plain.find("bracket=\"yes\" show-number=\"actual\""), std::string::npos);
  const std::string unusual = document_of(staff_score({3, 4}, "3/5 3/5 3/5 3/5 3/5"));
  EXPECT_NE(unusual.find("bracket=\"yes\" show-number=\"both\""), std::string::npos);
}

TEST(Divisions, AreTheLeastThatEveryLengthNeeds) {
  const auto divisions = [](const Meter& meter, std::string_view lengths) {
    const std::string document = document_of(staff_score(meter, lengths));
    const std::size_t at = document.find("<divisions>") + std::string_view("<divisions>").size();
    return document.substr(at, document.find('<', at) - at);
  };
  EXPECT_EQ(divisions({4, 4}, "1 1 2"), "1");
  EXPECT_EQ(divisions({4, 4}, "1/2 3/2 2"), "2");
  EXPECT_EQ(divisions({4, 4}, "1/3 1/3 1/3 1/2 1/2 2"), "6");
  EXPECT_EQ(divisions({2, 4}, "1/3 1/3 1/3 1/5 1/5 1/5 2/5"), "15");
}

}  // namespace
}  // namespace yubifu::musicxml
