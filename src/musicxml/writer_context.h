// What every part of the writer works with.
#pragma once

#include <cstdint>

#include "model/rational.h"
#include "model/score.h"
#include "musicxml/element_writer.h"
#include "musicxml/writer.h"

namespace yubifu::musicxml {

struct WriterContext {
  const model::Score& score;
  const MusicXmlWriteOptions& options;
  ElementWriter& out;
  std::int64_t divisions = 1;  ///< a quarter

  /// A length in divisions, which it must divide.
  std::int64_t in_divisions(model::Rational quarters) const {
    return quarters.numerator() * (divisions / quarters.denominator());
  }
};

}  // namespace yubifu::musicxml
