#include "fingering/rules.h"

namespace yubifu::fingering {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::no_flute_given,         &rule::sign_not_on_flute,    &rule::half_hole_not_on_flute,
      &rule::bend_too_far,           &rule::out_of_reach,         &rule::needless_gap,
      &rule::holes_of_another_flute, &rule::asked_holes_left_out, &rule::fingering_disagrees,
      &rule::annotation_taken,       &rule::octave_shifted,       &rule::flute_not_built_in,
      &rule::flute_not_moved,        &rule::flute_file_not_read};
  return list;
}

}  // namespace yubifu::fingering
