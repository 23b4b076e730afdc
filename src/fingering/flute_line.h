// Which flute is in force where, as the score names it and as the options change it.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "flute/flute.h"
#include "model/pitch.h"
#include "model/score.h"

namespace yubifu::fingering {

/// Gives the flute of a name at a tuning of A4 in Hz. Whoever calls `resolve` supplies it, because
/// this folder opens no files. Places in its diagnostics would be taken for places in the score, so
/// a supply that reads files tells their faults itself and gives nothing back.
using FluteSupply =
    std::function<base::Outcome<flute::Flute>(const model::FluteName& name, double tuning_hz)>;

/// The supply of the built-in sizes; a path is reported as `flute-file-not-read`.
base::Outcome<flute::Flute> built_in_size(const model::FluteName& name, double tuning_hz);

/// A flute named from a measure on.
struct NamedFlute {
  std::size_t measure = 0;
  model::FluteName name = model::kDefaultFluteSize;
  std::optional<base::SourceRange> source;  ///< of the direction; none for the first
};

/// The flutes that a score names, in order; the first is from measure 0 on. `unnamed` is the
/// flute of a score whose header has none.
std::vector<NamedFlute> named_flutes(const model::Score& score, const model::FluteName& unnamed);

/// The line of flutes when the first is replaced by another: sizes move by the same number of
/// sizes, the first name comes back as `first`. Where that would leave 1 to 13 or a flute file
/// stands in the way, `flute-not-built-in` or `flute-not-moved` is reported, and the name stays.
base::Outcome<std::vector<NamedFlute>> replaced(const std::vector<NamedFlute>& line,
                                                const model::FluteName& first,
                                                const model::Score& score);

/// Writes a line of flutes into the header and the directions of the score that it came from.
void write_names(model::Score& score, const std::vector<NamedFlute>& line);

/// A line of flutes at hand. Each flute is loaded once.
struct FluteLine {
  /// A measure from which on a flute is in force, as index into `flutes`.
  struct Stretch {
    std::size_t measure = 0;
    std::size_t flute = 0;
  };

  std::vector<std::shared_ptr<const flute::Flute>> flutes;
  std::vector<Stretch> stretches;  ///< in order, the first from measure 0 on

  /// The index of the flute in force in a measure, and that flute.
  std::size_t index_at(std::size_t measure) const;
  const flute::Flute& at(std::size_t measure) const { return *flutes[index_at(measure)]; }
};

/// Without a value when a flute cannot be had.
base::Outcome<FluteLine> load_flutes(const std::vector<NamedFlute>& line, const FluteSupply& supply,
                                     double tuning_hz);

/// How messages call a flute: "the size 8 flute", "the flute Ferry".
std::string called(const flute::Flute& flute);

/// True when a sound of the flute, rounded to the nearest semitone, is the pitch that a file says.
/// A flute between the sizes may be written as it sounds or as the nearest size, so semitones count
/// from C or from the flute's own 一.
bool agrees(const model::Pitch& said, const model::Pitch& sound, const model::Pitch& ichi);

}  // namespace yubifu::fingering
