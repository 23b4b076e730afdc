// Strokes for held beats, as staff annotation writes them after the number. That strokes show held
// beats is common practice of number notation; these characters, and what a note off the beat
// counts, are our choice.
#pragma once

#include <string>
#include <string_view>

#include "model/score.h"

namespace yubifu::model {

/// The whole beats, each of the beat in force, for which a note is held after the one in which it
/// begins, over bar lines and changes of beat. A note that starts off the beat counts from the
/// first beat after its start.
int held_beats(const Score& score, const Note& note);

/// `／` for one held beat, `＿｜＿…` for more, nothing for none.
std::string stroke_text(int held_beats);

/// An annotation without the strokes at its end.
std::string_view without_strokes(std::string_view text);

}  // namespace yubifu::model
