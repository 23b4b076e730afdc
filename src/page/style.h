// Everything about the look of the page that is a matter of taste, in one place.
#pragma once

#include <string_view>

namespace yubifu::page::style {

// The sheet, in millimetres.
inline constexpr double kMarginSide = 12;
inline constexpr double kMarginTop = 12;
inline constexpr double kMarginBottom = 9;
inline constexpr double kFooterText = 2.9;
inline constexpr double kFooterLine = 4;
inline constexpr double kAboveFooter = 4.5;
inline constexpr double kTitleText = 9;
inline constexpr double kLeastTitleText = 5;
inline constexpr double kNameText = 4.4;
inline constexpr double kFluteText = 5.6;
inline constexpr double kFactText = 4;
inline constexpr double kHeadingGap = 7;      ///< between the heading and the music
inline constexpr double kHeadingSpacing = 6;  ///< between parts of the heading
inline constexpr double kBarNumberText = 2.4;
inline constexpr double kBarNumberRoom = 4;
inline constexpr double kBarNumberOver = 1.8;  ///< how far it may pass the column to its right

/// The height of a digit at scale 1. All that follows is in units of this height.
inline constexpr double kDigitHeight = 6;

// Along the reading direction.
inline constexpr double kPitchDown = 1.28;  ///< from number to number, at full size
inline constexpr double kDotRoom = 0.2;     ///< over the digit, for the dot of the third register
inline constexpr double kPitchAcross = 1.22;
inline constexpr double kBeforeNumber = 0.06;  ///< read across
// Steps are counted in pitches: what one number takes at full size.
inline constexpr double kLongestStep = 2.6;
inline constexpr double kShortestStep = 1.17;
inline constexpr double kThirdsRatio = 0.82;    ///< size of numbers in thirds of a beat
inline constexpr double kQuartersRatio = 0.66;  ///< in quarters and smaller parts
inline constexpr double kSlack = 1e-6;          ///< of sums of lengths that should be equal
inline constexpr double kLeastRatio = 0.42;     ///< smaller ones make their bar longer
inline constexpr double kFewRatio = 0.55;       ///< but not less than this, down to quarters
inline constexpr double kFewBeats = 0.1;        ///< part of the beats that may look smaller
inline constexpr double kMostStretch = 1.2;     ///< of the steps, to fill a column
inline constexpr double kMostShrinking = 0.9;
inline constexpr double kBarGap = 0.42;
inline constexpr double kBarGapAcross = 0.66;
inline constexpr double kWideBarGap = 0.98;  ///< in scores with repeats
inline constexpr double kColumnLead = 0.1;
inline constexpr double kPhraseCost = 0.2;  ///< of a column, to end it with a phrase

// Across the reading direction.
inline constexpr double kHalfNumber = 0.5;
inline constexpr double kColumnGap = 0.62;
inline constexpr double kMostColumnGap = 1.4;
inline constexpr double kBeamGap = 0.13;  ///< between number and first beam
inline constexpr double kBeamSpacing = 0.19;
inline constexpr double kSmallSignLane = 0.47;
inline constexpr double kBendLane = 0.88;      ///< beside the number
inline constexpr double kBendLaneOver = 0.36;  ///< over the number, read across
inline constexpr double kBracketLane = 0.5;
inline constexpr double kSlurLane = 0.34;
inline constexpr double kGraceLane = 0.46;
inline constexpr double kGraceHalfHole = 0.24;  ///< more where grace notes have them
inline constexpr double kGraceBend = 0.62;
inline constexpr double kHolePitch = 0.25;  ///< a pattern stands across, however close the notes
inline constexpr double kMarkLane = 0.62;
inline constexpr double kSongLane = 0.8;
inline constexpr double kMostSongLane = 2.4;
inline constexpr double kSongGap = 0.16;  ///< between the signs and the first verse
inline constexpr double kEndingLane = 0.62;
inline constexpr double kLabelLane = 0.78;

// Signs.
inline constexpr double kThirdDot = 0.085;  ///< radius
inline constexpr double kTouch = 0.04;      ///< between a number and its additions
inline constexpr double kSmallSign = 0.42;
inline constexpr double kBendText = 0.3;
inline constexpr double kStrokePen = 0.085;
inline constexpr double kDiagonalHalf = 0.3;  ///< half its width and height
inline constexpr double kLevelLength = 0.42;
inline constexpr double kUprightLength = 0.56;
inline constexpr double kStrokeOffset = 0.28;  ///< level and upright strokes off the numbers' axis
inline constexpr double kDashLength = 0.7;
inline constexpr double kRestDot = 0.13;  ///< radius
inline constexpr double kBeamPen = 0.075;
inline constexpr double kBracketPen = 0.04;
inline constexpr double kBracketText = 0.36;
inline constexpr double kGrace = 0.44;
inline constexpr double kMark = 0.44;
inline constexpr double kHole = 0.105;  ///< radius
inline constexpr double kSongText = 0.6;
inline constexpr double kShogaText = 0.46;
inline constexpr double kLabelText = 0.46;
inline constexpr double kThinRule = 0.035;
inline constexpr double kThickRule = 0.11;
inline constexpr double kRuleSpacing = 0.12;
inline constexpr double kRepeatDot = 0.065;  ///< radius
inline constexpr double kSlurPen = 0.045;

// The book, in millimetres.
inline constexpr double kBookTitleText = 14;
inline constexpr double kPartText = 8;
inline constexpr double kListText = 4.2;
inline constexpr double kBookLine = 1.6;  ///< from line to line, in units of the text
inline constexpr double kBetweenTunes = 8;

// The chart, in millimetres.
inline constexpr double kChartScreenWidth = 124;
inline constexpr double kChartColumn = 11.3;  ///< fifteen on A4, a register of seven holes
inline constexpr double kChartLabels = 15;    ///< room at the left of each row
inline constexpr double kChartTitle = 7;
inline constexpr double kChartName = 4.2;  ///< of a register
inline constexpr double kChartSign = 7;
inline constexpr double kChartSignRoom = 11;
inline constexpr double kChartHole = 2.1;  ///< radius
inline constexpr double kChartHolePitch = 5.3;
inline constexpr double kChartNote = 4;
inline constexpr double kChartText = 3.1;
inline constexpr double kChartLine = 4.4;
inline constexpr double kChartGap = 6;  ///< between rows

/// Japanese fonts that common systems bring, then whatever there is.
inline constexpr std::string_view kFonts =
    "'Hiragino Sans','Hiragino Kaku Gothic ProN','Yu Gothic','Meiryo','Noto Sans CJK JP',"
    "'Noto Sans JP','Source Han Sans "
    "JP','IPAexGothic','IPAPGothic','IPAGothic','TakaoPGothic','TakaoGothic','VL Gothic',"
    "sans-serif";

/// Around the sheets on a screen; nothing is written on it.
inline constexpr std::string_view kDesk = "#ddd";

/// Black on white throughout: contrast 21:1.
inline constexpr std::string_view kInk = "#000";
inline constexpr std::string_view kPaper = "#fff";

}  // namespace yubifu::page::style
