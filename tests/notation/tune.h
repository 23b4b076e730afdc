// Builds small scores by hand, without the reader.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"

namespace yubifu::notation {

/// A score that grows bar by bar.
class Tune {
 public:
  explicit Tune(model::Meter meter = {4, 4}) : meter_(meter) { score.header.meter = meter; }

  /// Adds a bar of words parted by spaces: a sign with half hole and bend, `-` that lengthens the
  /// note before (also over the bar line), or `・`; each lasts one quarter, or what follows its
  /// colon: `五:1/2`.
  Tune& bar(std::string_view words);

  model::Measure& last() { return score.measures.back(); }
  model::Note& note(std::size_t index) { return score.notes[index]; }

  /// A direction in the last bar.
  Tune& direct(model::Rational onset, model::DirectionValue value);

  /// Song words under the notes from `first` on: `/` skips, `~` carries on, a final `-` joins.
  Tune& sing(const std::string& verse, std::size_t first, std::string_view words);

  model::Score score;

 private:
  void add_word(std::string_view word);

  model::Meter meter_;
};

}  // namespace yubifu::notation
