#include "check/rules.h"

namespace yubifu::check {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::third_register,   &rule::fast_leap,        &rule::long_breath,
      &rule::lone_eight,       &rule::zero_or_tube,     &rule::syllable_unfinished,
      &rule::song_gap,         &rule::short_bars,       &rule::bend_not_reset,
      &rule::layout,           &rule::allow_form,       &rule::allow_unknown,
      &rule::allow_idle,       &rule::unknown_format,   &rule::other_format,
      &rule::nothing_to_check, &rule::link_to_folder,   &rule::pitch_differs,
      &rule::onset_differs,    &rule::duration_differs, &rule::fingering_differs,
      &rule::marks_differ,     &rule::lyrics_differ,    &rule::form_differs,
      &rule::header_differs};
  return list;
}

bool is_off_by_default(const base::Rule& rule) {
  return &rule == &rule::layout;
}

}  // namespace yubifu::check
