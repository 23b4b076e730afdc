#include "musicxml/rules.h"

namespace yubifu::musicxml {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::already_fingered,
      &rule::encoding_not_kept,
      &rule::no_annotation,
      &rule::annotated_octave,
      &rule::unreadable_text,
      &rule::declared_encoding,
      &rule::xml_syntax,
      &rule::xml_limits,
      &rule::broken_container,
      &rule::unsafe_container,
      &rule::container_without_rootfile,
      &rule::not_a_staff_file,
      &rule::no_measures,
      &rule::unknown_part,
      &rule::unknown_voice,
      &rule::unpitched_part,
      &rule::staff_limits,
      &rule::staff_overflow,
      &rule::left_out,
      &rule::detail_left_out,
      &rule::tie_without_partner,
      &rule::odd_duration,
      &rule::odd_position,
      &rule::overlapping_notes,
      &rule::uneven_bar,
      &rule::strokes_differ,
      &rule::octave_twice,
      &rule::silent_voice,
      &rule::not_a_fingering,
      &rule::unknown_value,
      &rule::misplaced_sign,
      &rule::voice_chosen,
      &rule::jump_in_words,
      &rule::no_meter,
      &rule::no_bars,
      &rule::no_flute_in_use,
      &rule::no_pitch,
      &rule::outside_staff,
      &rule::rhythm_too_fine,
      &rule::many_divisions,
      &rule::too_many_divisions,
      &rule::comments_left_out,
      &rule::characters_replaced,
      &rule::voice_followed,
      &rule::nearest_tempered,
  };
  return list;
}

}  // namespace yubifu::musicxml
