#include "page/glyphs.h"

#include <cstddef>

namespace yubifu::page {
namespace {

// Own drawings: digits with an even pen, 1 with a foot and 4 closed, so that no two are alike at
// arm's length; kanji with the stroke order and proportions of handwriting.
constexpr double kDigitPen = 11;
constexpr double kKanjiPen = 9.5;
constexpr double kFinePen = 8;
constexpr double kMarkPen = 11;

Glyph simple(std::string_view name, double width, double pen, std::string_view path) {
  return {name, width, {{path, pen}}};
}

std::vector<Glyph> signs() {
  return {
      simple("digit-0", 64, kDigitPen,
             "M32 5.5C17 5.5 8 23 8 50S17 94.5 32 94.5 56 77 56 50 47 5.5 32 5.5Z"),
      simple("digit-1", 64, kDigitPen, "M14 24L35 6V94.5M14 94.5H55"),
      simple("digit-2", 64, kDigitPen,
             "M9 28C9 14 19 5.5 32 5.5S55 14 55 28C55 41 47 51 37 62L8 94.5H57"),
      simple("digit-3", 64, kDigitPen,
             "M10 17C15 9.5 23 5.5 32 5.5 45 5.5 54 13 54 26S45 46.5 31 46.5C46 46.5 57 55 57 "
             "70S46 94.5 31 94.5C20 94.5 12 90 7 82"),
      simple("digit-4", 64, kDigitPen, "M45 94.5V5.5L6.5 68H58"),
      simple("digit-5", 64, kDigitPen,
             "M53 5.5H15L11 45C17 40 24 37.5 31 37.5 46 37.5 57 49 57 66S46 94.5 30 94.5C20 94.5 "
             "12 90.5 7 83"),
      simple("digit-6", 64, kDigitPen,
             "M47 5.5C24 18 7 40 7 67 7 84 18 94.5 32 94.5S57 84 57 68.5 46 43 32.5 43C20 43 10 51 "
             "7.5 63"),
      simple("digit-7", 64, kDigitPen, "M7 22V5.5H57C42 30 31 60 28 94.5"),
      simple("digit-8", 64, kDigitPen,
             "M32 5.5C19 5.5 10.5 14 10.5 26S19 46.5 32 46.5 53.5 38 53.5 26 45 5.5 32 5.5ZM32 "
             "46.5C17 46.5 7 56 7 70.5S17 94.5 32 94.5 57 85 57 70.5 47 46.5 32 46.5Z"),
      simple("digit-9", 64, kDigitPen,
             "M17 94.5C40 82 57 60 57 33 57 16 46 5.5 32 5.5S7 16 7 31.5 18 57 31.5 57C44 57 54 49 "
             "56.5 37"),
      simple("kanji-1", 100, 11, "M6 51C35 50 65 49 94 47"),
      simple("kanji-2", 100, 11, "M20 20C40 20 60 19 80 17M6 85C35 84 65 83 94 81"),
      simple("kanji-3", 100, 10,
             "M14 12C38 12 62 11 86 9M21 49C40 49 60 48 79 47M6 90C35 89 65 88 94 86"),
      simple("kanji-4", 100, kKanjiPen,
             "M10 15V90M10 15H90V90M10 87H90M37 16C37 40 33 54 19 66M61 16V50C61 59 66 61 80 59"),
      simple("kanji-5", 100, kKanjiPen,
             "M14 9H86M47 9C43 38 38 65 31 91M17 48H75C74 63 72 77 69 91M5 93H95"),
      simple("kanji-6", 100, kKanjiPen,
             "M50 5V27M6 34H94M37 55C31 71 22 84 9 95M62 53C74 65 83 79 91 94"),
      simple("kanji-7", 100, kKanjiPen,
             "M6 49C35 45 65 40 93 34M43 6V78C43 89 48 93 60 93H80C90 93 93 88 93 74"),
      {"tube",
       100,
       {{"M24 4C20 15 14 24 7 31M19 16H47M33 17L38 29M67 4C63 14 57 22 51 28M61 15H95M77 16L83 29",
         7},
        {"M12 97V42H88V86C88 94 83 97 72 95M32 57H68M33 72H67V90H33Z", 7}}},
      simple("half-under", 90, 12, "M75 7C66 44 43 74 9 93M20 30C42 44 62 60 80 80"),
      simple("half-over", 90, 12,
             "M8 31H80C80 60 77 82 71 89 66 95 58 92 50 86M43 7C43 48 33 76 9 94"),
      simple("arrow-down", 60, 12, "M30 6V92M8 66L30 93 52 66"),
      simple("arrow-up", 60, 12, "M30 94V8M8 34L30 7 52 34"),
      simple("sharp", 56, 8, "M19 14V92M37 8V86M8 40L48 30M8 68L48 58"),
      simple("flat", 50, 8, "M12 6V90C30 80 42 70 42 60 42 50 28 48 12 60"),
  };
}

std::vector<Glyph> marks() {
  return {
      {"fermata",
       120,
       {{"M7 82C7 -12 113 -12 113 82", kMarkPen},
        {"M60 62A13 13 0 1 0 60 88 13 13 0 1 0 60 62Z", 0}}},
      simple("breath", 80, kMarkPen, "M9 8L40 91 71 8"),
      {"optional-breath",
       150,
       {{"M24 5C4 30 4 70 24 95M126 5C146 30 146 70 126 95", kFinePen},
        {"M48 14L75 84 102 14", kMarkPen}}},
      simple("strike", 100, kFinePen,
             "M6 29H44M27 6V82C27 93 22 95 12 90M5 66L46 51M52 17H96M77 17V82C77 94 72 96 60 90"),
      simple("lift", 100, kFinePen, "M47 7V91M47 43H84M6 92H94"),
      simple("slide", 190, kFinePen,
             "M12 14H80C71 50 45 78 8 92M55 58L92 92M116 12V58M170 8V48C170 74 156 86 124 94"),
      simple("vibrato", 60, kMarkPen, "M30 4C58 14 58 26 30 35S2 57 30 66 58 87 30 96"),
      simple("trill", 110, kMarkPen,
             "M26 6V76C26 90 34 95 48 91M7 33H48M62 33V93M62 54C66 38 80 30 100 36"),
      simple("accent", 100, kMarkPen, "M8 14L92 50 8 86"),
      simple("staccato", 60, 0, "M30 32A18 18 0 1 0 30 68 18 18 0 1 0 30 32Z"),
      simple("tenuto", 100, 14, "M10 50H90"),
      {"segno",
       100,
       {{"M68 24C66 6 30 2 26 24 22 46 76 50 74 76 72 98 34 96 32 78M86 6L14 94", kMarkPen},
        {"M20 50A7 7 0 1 0 20 64 7 7 0 1 0 20 50ZM80 36A7 7 0 1 0 80 50 7 7 0 1 0 80 36Z", 0}}},
      simple("coda", 100, kMarkPen,
             "M50 16C30 16 22 32 22 50S30 84 50 84 78 68 78 50 70 16 50 16ZM50 4V96M6 50H94"),
      simple("caesura", 100, kMarkPen, "M10 92L52 8M48 92L90 8"),
  };
}

// For tempo and beat. Heads are ellipses that lean upwards to the right.
std::vector<Glyph> note_values() {
  constexpr std::string_view kFilledHead =
      "M49 78C44 69 29 68 18 75 6 82 3 93 9 98 17 104 33 101 42 94 49 89 52 84 49 78Z";
  constexpr std::string_view kOpenHead =
      "M45 80C41 73 29 73 20 78 11 83 7 91 11 95 16 99 30 97 38 91 44 87 48 84 45 80Z";
  constexpr std::string_view kStem = "M47 86V4";
  constexpr std::string_view kFlag = "M47 5C50 24 82 30 74 62";
  constexpr std::string_view kTwoFlags = "M47 5C50 20 80 24 76 48M47 27C50 42 80 46 74 70";
  constexpr std::string_view kDot = "M66 80A7 7 0 1 0 66 94 7 7 0 1 0 66 80Z";
  constexpr double kThin = 7;
  return {
      {"whole-note", 60, {{kOpenHead, 9}}},
      {"half-note", 60, {{kOpenHead, 9}, {kStem, kThin}}},
      {"quarter-note", 60, {{kFilledHead, 0}, {kStem, kThin}}},
      {"eighth-note", 90, {{kFilledHead, 0}, {kStem, kThin}, {kFlag, kThin}}},
      {"sixteenth-note", 90, {{kFilledHead, 0}, {kStem, kThin}, {kTwoFlags, kThin}}},
      {"dotted-whole-note", 80, {{kOpenHead, 9}, {kDot, 0}}},
      {"dotted-half-note", 80, {{kOpenHead, 9}, {kStem, kThin}, {kDot, 0}}},
      {"dotted-quarter-note", 80, {{kFilledHead, 0}, {kStem, kThin}, {kDot, 0}}},
      {"dotted-eighth-note", 90, {{kFilledHead, 0}, {kStem, kThin}, {kFlag, kThin}, {kDot, 0}}},
      {"dotted-sixteenth-note",
       90,
       {{kFilledHead, 0}, {kStem, kThin}, {kTwoFlags, kThin}, {kDot, 0}}},
  };
}

const std::vector<Glyph>& glyphs() {
  static const std::vector<Glyph> all = [] {
    std::vector<Glyph> joined = signs();
    for (const std::vector<Glyph>& group : {marks(), note_values()}) {
      joined.insert(joined.end(), group.begin(), group.end());
    }
    return joined;
  }();
  return all;
}

}  // namespace

const Glyph& glyph(GlyphId id) {
  return glyphs()[static_cast<std::size_t>(id)];
}

double aspect(GlyphId id) {
  return glyph(id).width / 100;
}

std::optional<GlyphId> glyph_of(std::string_view character) {
  if (character.size() == 1 && character[0] >= '0' && character[0] <= '9') {
    return digit_glyph(character[0] - '0');
  }
  constexpr std::string_view kKanji = "一二三四五六七筒";
  constexpr std::size_t kBytes = 3;  // of a character
  const std::size_t at = kKanji.find(character);
  if (character.size() != kBytes || at == std::string_view::npos) return std::nullopt;
  return static_cast<GlyphId>(static_cast<std::size_t>(GlyphId::kanji_1) + at / kBytes);
}

GlyphId digit_glyph(int digit) {
  return static_cast<GlyphId>(static_cast<int>(GlyphId::digit_0) + digit);
}

}  // namespace yubifu::page
