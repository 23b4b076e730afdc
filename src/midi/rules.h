// The rules that midi reports.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "midi/read/rules.h"
#include "midi/smf/rules.h"
#include "midi/write/rules.h"

namespace yubifu::midi {

/// Writing, then the structure of a file, then its music. Without `bend_not_reset`, which only
/// Scrutiny::whole_file finds: who checks files lists it.
inline const std::vector<const base::Rule*>& rules() {
  using namespace rule;
  static const std::vector<const base::Rule*> list{
      &missing_pitch,  &tick_overflow,   &music_too_long,      &bars_not_played,
      &midi_option,    &tick_rounding,   &key_range,           &tempo_range,
      &mark_left_out,  &verse_left_out,  &comment_left_out,    &no_click,
      &not_midi,       &midi_header,     &midi_format,         &midi_division,
      &midi_too_large, &unreadable_midi, &damaged_track,       &data_byte,
      &time_limit,     &no_end_of_track, &after_end_of_track,  &track_count,
      &stale_bytes,    &running_status,  &stray_status,        &bad_meta,
      &long_header,    &foreign_chunk,   &riff_wrapper,        &exclusive_left_out,
      &grid_option,    &offset_option,   &played_tempo_option, &no_notes,
      &no_such_part,   &too_many_bars,   &open_note,           &no_length,
      &far_note,       &chord_note,      &overlap_cut,         &moving_bend,
      &text_encoding,  &lyric_alone,     &lyric_no_sign,       &text_after_music,
      &too_dense,      &track_chosen,    &quantised,           &constant_offset,
      &played_tempo,   &deep_rhythm,     &double_tempo,        &slide_read,
      &direction_moved};
  return list;
}

}  // namespace yubifu::midi
