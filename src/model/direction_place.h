// Where in its measure a direction may stand.
#pragma once

#include "model/measure.h"

namespace yubifu::model {

/// At its start, strictly inside, at its end, or at any place from start to end.
enum class PlaceInMeasure { start, inside, end, anywhere };

/// Where a cue may stand.
PlaceInMeasure place_in_measure(Cue cue);

/// The same of any direction. A beat at the start of a measure is no direction (Measure::beat).
PlaceInMeasure place_in_measure(const DirectionValue& value);

}  // namespace yubifu::model
