// How long a note lasts, as staff annotation writes it after the number: a line of numbers under a
// staff can then be played without the staff. That strokes show held beats and bars shorter parts
// is common practice of number notation; these characters are our choice: they stand in every
// Japanese font, and none of them runs into the next syllable.
#pragma once

#include "model/score.h"

namespace yubifu::model {

/// For each note what stands after its number, by the words of the canonical rhythm:
/// - `′` for half a beat, `″` for a quarter, `″′` for an eighth …; of the beat in force;
/// - the number of an uneven division, raised: `′³` is a third of a beat, `³` one of (5 6 7):2;
/// - `／` for one whole beat held; for more `＿` and `｜` in turn;
/// - `／` with the same marks for a part of a beat held: `／′` for half of one.
/// So a beat and a half is `／′`, half a beat held over the next one `′／`. Nothing for a beat, and
/// for notes of bars that are divided too finely to be written.
std::vector<std::string> stroke_texts(const Score& score);
/// An annotation without what stroke_texts() may have put at its end.
std::string_view without_strokes(std::string_view text);

}  // namespace yubifu::model
