// The form and the header of a score as short texts that can be compared and shown.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "model/score.h"

namespace yubifu::check {

/// One thing that shapes the music: a bar's length, a repeat sign, an ending, a direction.
struct FormItem {
  std::size_t measure = 0;
  model::Rational onset;
  std::string text;  ///< "repeat to here, 3 times", "tempo 96", "section \"A\""
  base::SourceRange source;
};

/// In the order of the music.
std::vector<FormItem> form_items(const model::Score& score);

/// Header lines by key; what says nothing is left out. Flute, tuning and tempo are
/// those in use.
std::map<std::string, std::string> header_lines(const model::Score& score);

/// "bar 3, beat 2", with the fraction of the beat where there is one: "beat 2 1/2".
std::string place_text(const model::Score& score, std::size_t measure, model::Rational onset);

}  // namespace yubifu::check
