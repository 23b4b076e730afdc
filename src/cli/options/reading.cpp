// Options that choose what is read from staff and MIDI files.
#include "base/message.h"
#include "cli/options/rows.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr int kMostStaves = 64;
constexpr int kMostTracks = 65535;

std::optional<midi::Line> line(const std::string& text) {
  if (text == "top") return midi::Line::top;
  if (text == "bottom") return midi::Line::bottom;
  return std::nullopt;
}

std::optional<midi::Charset> charset(const std::string& text) {
  if (text == "utf-8") return midi::Charset::utf8;
  if (text == "shift-jis") return midi::Charset::shift_jis;
  if (text == "latin-1") return midi::Charset::latin1;
  return std::nullopt;
}

std::optional<double> played_tempo(const std::string& text) {
  const auto value = model::parse_decimal(text);
  const bool possible = value && *value >= model::Rational(midi::kSlowestPlayed) &&
                        *value <= model::Rational(midi::kFastestPlayed);
  return possible ? std::optional(value->as_double()) : std::nullopt;
}

}  // namespace

std::vector<OptionRow> reading_options() {
  return {
      {"part",
       0,
       "PART",
       OptionGroup::choice,
       {"convert", "annotate", "fit", "check", "compare"},
       "part of a staff file: its name, id or number; the melody by default",
       [](Options& o, const std::string& v) -> Complaint {
         o.musicxml_read.part = v;
         return std::nullopt;
       }},
      {"voice",
       0,
       "N",
       OptionGroup::choice,
       {"convert", "annotate", "fit", "check", "compare"},
       "voice of that part; the melody by default",
       [](Options& o, const std::string& v) -> Complaint {
         o.musicxml_read.voice = v;
         return std::nullopt;
       }},
      {"staff-number",
       0,
       "N",
       OptionGroup::choice,
       {"convert", "annotate", "fit", "check", "compare"},
       "staff of that part, counted from 1; all of them by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostStaves), o.musicxml_read.staff_number,
                     message("a number from 1 to {}", kMostStaves));
       }},
      {"read-fingering",
       0,
       "KIND",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "where a staff file has its fingering: lyric, lyric-above, technical, words or none; found "
       "by "
       "default",
       [](Options& o, const std::string& v) {
         return keep(musicxml::annotation_named(v), o.musicxml_read.read_fingering,
                     message("lyric, lyric-above, technical, words or none"));
       },
       {"lyric", "lyric-above", "technical", "words", "none"}},
      {"track",
       0,
       "N",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "track of a MIDI file, counted from 1; the melody by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostTracks), o.midi_read.track,
                     message("a number from 1 to {}", kMostTracks));
       }},
      {"channel",
       0,
       "N",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "channel of a MIDI file, 1 to 16",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 16), o.midi_read.channel, message("a number from 1 to 16"));
       }},
      {"line",
       0,
       "top|bottom",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "which notes of the chords in a MIDI file are the melody; top by default",
       [](Options& o, const std::string& v) {
         return keep(line(v), o.midi_read.line, message("top or bottom"));
       },
       {"top", "bottom"}},
      {"grid",
       0,
       "N",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "move the notes of a MIDI file to the nearest of N parts of a quarter; found by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, midi::kFinestGrid), o.midi_read.grid,
                     message("a number from 1 to {}", midi::kFinestGrid));
       }},
      {"offset",
       0,
       "QUARTERS",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "by how much all notes of a MIDI file are late, such as 1/16 or -0.1; found by default",
       [](Options& o, const std::string& v) {
         return keep(quarter_notes(v), o.midi_read.offset,
                     message("quarter notes such as 1/16, 0.35 or -0.1"));
       }},
      {"played-tempo",
       0,
       "BPM",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "beats a minute at which a MIDI file was played, whatever it says; found by default",
       [](Options& o, const std::string& v) {
         return keep(
             played_tempo(v), o.midi_read.played_tempo,
             message("beats a minute from {} to {}", midi::kSlowestPlayed, midi::kFastestPlayed));
       }},
      {"meter",
       0,
       "METER",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "such as 3/4, for a MIDI file that has none; free by default",
       [](Options& o, const std::string& v) {
         return keep(model::parse_meter(v), o.midi_read.meter,
                     message("a meter such as 3/4 or 6/8, or free"));
       }},
      {"charset",
       0,
       "NAME",
       OptionGroup::choice,
       {"convert", "fit", "check", "compare"},
       "of the texts in a MIDI file: utf-8, shift-jis or latin-1; found by default",
       [](Options& o, const std::string& v) {
         return keep(charset(v), o.midi_read.charset, message("utf-8, shift-jis or latin-1"));
       },
       {"utf-8", "shift-jis", "latin-1"}},
      {"play-out",
       0,
       "",
       OptionGroup::choice,
       {"convert"},
       "write repeats, endings and jumps out in full",
       [](Options& o, const std::string&) -> Complaint {
         o.repeats = Repeats::played_out;
         return std::nullopt;
       }},
  };
}

}  // namespace yubifu::cli
