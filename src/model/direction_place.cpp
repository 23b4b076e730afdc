#include "model/direction_place.h"

namespace yubifu::model {

PlaceInMeasure place_in_measure(Cue cue) {
  switch (cue) {
    case Cue::segno:
    case Cue::coda:
      return PlaceInMeasure::start;
    case Cue::fine:
    case Cue::da_capo:
    case Cue::dal_segno:
    case Cue::to_coda:
    case Cue::until_cue:
      return PlaceInMeasure::end;
    case Cue::rit:
    case Cue::accel:
    case Cue::a_tempo:
    case Cue::caesura:
      return PlaceInMeasure::anywhere;
  }
  return PlaceInMeasure::anywhere;
}

PlaceInMeasure place_in_measure(const DirectionValue& value) {
  if (std::holds_alternative<FluteChange>(value)) return PlaceInMeasure::start;
  if (std::holds_alternative<SectionStart>(value)) return PlaceInMeasure::start;
  if (std::holds_alternative<BeatChange>(value)) return PlaceInMeasure::inside;
  const auto* cue = std::get_if<Cue>(&value);
  return cue == nullptr ? PlaceInMeasure::anywhere : place_in_measure(*cue);
}

}  // namespace yubifu::model
