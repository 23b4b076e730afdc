#include "check/rules.h"

namespace yubifu::check {

const std::vector<const base::Rule*>& score_rules() {
  static const std::vector<const base::Rule*> list{
      &rule::third_register, &rule::fast_leap,           &rule::long_breath, &rule::lone_eight,
      &rule::zero_or_tube,   &rule::syllable_unfinished, &rule::song_gap,    &rule::short_bars};
  return list;
}

const std::vector<const base::Rule*>& allowance_rules() {
  static const std::vector<const base::Rule*> list{&rule::allow_form, &rule::allow_unknown,
                                                   &rule::allow_idle};
  return list;
}

const std::vector<const base::Rule*>& comparison_rules() {
  static const std::vector<const base::Rule*> list{
      &rule::pitch_differs, &rule::onset_differs, &rule::duration_differs, &rule::fingering_differs,
      &rule::marks_differ,  &rule::lyrics_differ, &rule::form_differs,     &rule::header_differs};
  return list;
}

}  // namespace yubifu::check
