// The shapes of the signs. They are drawn, so that a missing font changes nothing in the music.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace yubifu::page {

/// One value a drawing; those of marks stand in the order of model::Mark.
enum class GlyphId {
  digit_0,
  digit_9 = digit_0 + 9,
  kanji_1,
  kanji_3 = kanji_1 + 2,
  kanji_7 = kanji_1 + 6,
  tube,
  half_under,
  half_over,
  arrow_down,
  arrow_up,
  sharp,
  flat,
  fermata,
  breath,
  optional_breath,
  strike,
  lift,
  slide,
  vibrato,
  trill,
  accent,
  staccato,
  tenuto,
  segno,
  coda,
  caesura,
  whole_note,
  sixteenth_note = whole_note + 4,
  dotted_whole_note,
  dotted_sixteenth_note = dotted_whole_note + 4,
};

/// One pen stroke or one filled area, as SVG path data in a box 100 units high.
struct GlyphPart {
  std::string_view path;
  double pen = 0;  ///< width of the pen; 0 fills the area
};

/// A drawing of our own, so that no page depends on a font.
struct Glyph {
  std::string_view name;  ///< unique, an XML id
  double width = 100;     ///< of the box; the height is 100
  std::vector<GlyphPart> parts;
};

/// The drawing of a value.
const Glyph& glyph(GlyphId id);

/// Width over height.
double aspect(GlyphId id);

/// The shape of a digit or of a kanji of the low register or 筒; nothing for other characters.
std::optional<GlyphId> glyph_of(std::string_view character);

/// 0 to 9.
GlyphId digit_glyph(int digit);

}  // namespace yubifu::page
