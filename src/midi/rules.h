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
  static const std::vector<const base::Rule*> list{&rule::missing_pitch,
                                                   &rule::tick_overflow,
                                                   &rule::music_too_long,
                                                   &rule::bars_not_played,
                                                   &rule::midi_option,
                                                   &rule::tick_rounding,
                                                   &rule::key_range,
                                                   &rule::tempo_range,
                                                   &rule::mark_left_out,
                                                   &rule::verse_left_out,
                                                   &rule::comment_left_out,
                                                   &rule::no_click,
                                                   &rule::not_midi,
                                                   &rule::midi_header,
                                                   &rule::midi_format,
                                                   &rule::midi_division,
                                                   &rule::midi_too_large,
                                                   &rule::unreadable_midi,
                                                   &rule::damaged_track,
                                                   &rule::data_byte,
                                                   &rule::time_limit,
                                                   &rule::no_end_of_track,
                                                   &rule::after_end_of_track,
                                                   &rule::track_count,
                                                   &rule::stale_bytes,
                                                   &rule::running_status,
                                                   &rule::stray_status,
                                                   &rule::bad_meta,
                                                   &rule::long_header,
                                                   &rule::foreign_chunk,
                                                   &rule::riff_wrapper,
                                                   &rule::exclusive_left_out,
                                                   &rule::grid_option,
                                                   &rule::offset_option,
                                                   &rule::played_tempo_option,
                                                   &rule::no_notes,
                                                   &rule::no_such_part,
                                                   &rule::too_many_bars,
                                                   &rule::open_note,
                                                   &rule::no_length,
                                                   &rule::far_note,
                                                   &rule::chord_note,
                                                   &rule::overlap_cut,
                                                   &rule::moving_bend,
                                                   &rule::text_encoding,
                                                   &rule::lyric_alone,
                                                   &rule::lyric_no_sign,
                                                   &rule::text_after_music,
                                                   &rule::too_dense,
                                                   &rule::track_chosen,
                                                   &rule::quantised,
                                                   &rule::constant_offset,
                                                   &rule::played_tempo,
                                                   &rule::deep_rhythm,
                                                   &rule::double_tempo,
                                                   &rule::slide_read,
                                                   &rule::direction_moved};
  return list;
}

}  // namespace yubifu::midi
