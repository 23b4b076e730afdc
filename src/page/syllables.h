// Song text as the page prints it.
#pragma once

#include <cstddef>
#include <string>

#include "model/score.h"

namespace yubifu::page {

/// True for a verse of sung syllables of the flute part.
bool is_shoga(const std::string& verse);

/// The index of a syllable's verse in Score::verses.
std::size_t verse_index(const model::Score& score, const model::Syllable& syllable);

/// A syllable with its hyphen; words of wide characters have none.
std::string syllable_text(const model::Syllable& syllable);

}  // namespace yubifu::page
