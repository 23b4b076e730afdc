// All bars as staff notation: the canonical rhythm walked into notes with a type, dots, ties,
// tuplets and beams, and the divisions that they need. And what every part of the writer works
// with.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/xml_writer.h"
#include "model/rational.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/write/note_value.h"
#include "musicxml/write/writer.h"

namespace yubifu::musicxml {

/// `actual` notes in the time of `normal`.
struct Tuplet {
  std::int64_t actual = 1;
  std::int64_t normal = 1;
  model::Rational unit;               ///< the written length of one of them, in quarters
  std::optional<std::size_t> around;  ///< the tuplet that it stands in
  int depth = 1;                      ///< 1 for an outermost one
  std::size_t first_piece = 0;
  std::size_t last_piece = 0;
  bool beamed = false;  ///< one beam spans all of it, so that no bracket is needed
};

enum class Beam { begin, cont, end, forward_hook, backward_hook };

/// MusicXML has beams 1 to 8.
inline constexpr std::size_t kMostBeams = 8;

/// One note or rest as written. Times in quarters from the start of the bar.
struct Piece {
  model::Rational begin;
  model::Rational end;
  std::size_t span = 0;               ///< index into BarContent::spans
  std::optional<NoteValue> value;     ///< none for a rest of the whole measure
  std::optional<std::size_t> tuplet;  ///< the innermost one
  // Places in the grid of the tuplet, or of the bar outside tuplets.
  model::Rational place;
  model::Rational place_end;
  std::array<Beam, kMostBeams> beams{};
  std::size_t beam_count = 0;

  model::Rational duration() const { return end - begin; }
};

struct BarLayout {
  std::vector<Piece> pieces;
  std::vector<Tuplet> tuplets;

  /// Written length by sounding length of the notes in a tuplet, all tuplets around it included.
  Tuplet product(std::size_t tuplet) const;
};

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

using Attributes = std::initializer_list<std::pair<std::string_view, std::string_view>>;

/// Begins an element that has these attributes.
inline void open_element(base::XmlWriter& out, std::string_view name, Attributes attributes) {
  out.open(name);
  for (const auto& [attribute, value] : attributes) out.attribute(attribute, value);
}

/// An element with nothing but attributes and perhaps a text.
inline void write_element(base::XmlWriter& out, std::string_view name, Attributes attributes,
                          std::optional<std::string_view> text = {}) {
  open_element(out, name, attributes);
  text ? out.close_with_text(*text) : out.close();
}

}  // namespace yubifu::musicxml
