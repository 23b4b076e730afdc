// The layout of all bars, and the divisions that they need. And what every part of the writer works
// with.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/xml_writer.h"
#include "model/rational.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/write/bar_layout.h"
#include "musicxml/write/writer.h"

namespace yubifu::musicxml {

/// Bars of equal rhythm share one layout.
struct ScoreLayout {
  std::vector<model::BarContent> contents;
  std::vector<BarLayout> layouts;
  std::vector<std::size_t> layout_of_bar;
  std::int64_t divisions = 1;

  const BarLayout& of(std::size_t measure) const { return layouts[layout_of_bar[measure]]; }
};

/// Reports `rhythm-too-fine`, `many-divisions` and `too-many-divisions`; after an error the
/// layout is not complete.
ScoreLayout lay_out_score(const model::Score& score, base::Diagnostics& diagnostics);

struct WriterContext {
  const model::Score& score;
  const MusicXmlWriteOptions& options;
  base::XmlWriter& out;
  std::int64_t divisions = 1;             ///< a quarter
  std::vector<std::string> strokes = {};  ///< for each note, where they are asked for

  /// A length in divisions, which it must divide.
  std::int64_t in_divisions(model::Rational quarters) const {
    return quarters.numerator() * (divisions / quarters.denominator());
  }
};

}  // namespace yubifu::musicxml
