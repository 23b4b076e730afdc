// From measures of the file to bars of the score: mostly one to one, but a repeat sign or double
// bar inside a measure parts it in two. Shows pugixml.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "model/rational.h"
#include "model/score.h"
#include "musicxml/read/melody_choice.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/remarks.h"
#include "musicxml/read/staff_attributes.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {

/// What one measure of the file really lasts, and where it is parted.
struct MeasureExtent {
  model::Rational length;
  std::vector<model::Rational> cuts;  ///< rising, inside (0, length)
};

class BarMap {
 public:
  explicit BarMap(const std::vector<MeasureExtent>& extents);

  std::size_t bar_count() const { return bars_.size(); }
  model::Rational length_of_bar(std::size_t bar) const { return bars_[bar].length; }
  std::size_t source_of_bar(std::size_t bar) const { return bars_[bar].source; }

  /// The bar in which something starts; at a cut the bar after it. Past the end of its measure it
  /// is at the end of the measure's last bar.
  Moment start_at(const Moment& in_file) const;

  /// The same for what ends there: at a cut the bar before it.
  Moment end_at(const Moment& in_file) const;

  /// The number of bars before a place of the file, before a measure and up to its end.
  std::size_t boundary_at(const Moment& in_file) const;
  std::size_t boundary_before(std::size_t measure) const { return first_bar_[measure]; }
  std::size_t boundary_after(std::size_t measure) const { return first_bar_[measure + 1]; }

  /// A place some time after another, over bar lines; the end of the last bar is not crossed.
  Moment later(Moment in_score, model::Rational by) const;

 private:
  struct Bar {
    std::size_t source;
    model::Rational start;  ///< in its measure
    model::Rational length;
  };

  std::vector<Bar> bars_;
  std::vector<std::size_t> first_bar_;  // of each measure of the file
};

/// The staff that is read, and what its file says of itself.
struct StaffContext {
  const std::vector<PartEvents>& parts;
  const MelodyChoice& choice;
  const BarMap& map;
  bool is_ours = false;                  ///< hole diagrams are print of the fingering then
  bool is_annotated = false;             ///< fingerings and diagrams of the annotation are marked
  std::optional<Annotation> annotation;  ///< where fingerings stand, if that is known
  std::string_view text;

  const PartEvents& part() const { return parts[choice.part]; }
};

/// Measures, parted where a bar line inside one repeats or divides the music. A measure lasts as
/// long as the line that is read; where that falls short of the meter, the rest of its part and
/// the other parts may complete it. A measure with nothing but rests for the whole bar lasts what
/// the rest says, at most its meter; an empty one lasts its meter.
std::vector<MeasureExtent> measure_extents(const std::vector<PartEvents>& parts,
                                           const MelodyChoice& choice,
                                           const StaffAttributes& attributes);

/// The meter of each measure of the file: free time before the first one.
std::vector<model::Meter> measure_meters(const StaffAttributes& attributes, std::size_t count);

/// Signs on bar lines: the directions are places in the score.
struct BarLineSigns {
  std::vector<model::Direction> directions;  ///< segno and coda
  Remarks remarks;                           ///< by measures of the file
};

/// Sets repeats, times, endings and styles of the measures.
BarLineSigns apply_bar_lines(const PartEvents& part, const BarMap& map, std::string_view text,
                             std::vector<model::Measure>& measures);

}  // namespace yubifu::musicxml
