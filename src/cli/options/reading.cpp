// Options that choose what is read from staff and MIDI files.
#include "cli/options/rows.h"

namespace yubifu::cli {
namespace {

constexpr int kMostStaves = 64;
constexpr int kMostTracks = 65535;
constexpr int kMostQuarters = 1000;

// A fraction or a decimal, with a sign or without: "1/16", "-0.1".
std::optional<model::Rational> quarter_notes(std::string_view text) {
  const bool negative = text.starts_with('-');
  if (negative || text.starts_with('+')) text.remove_prefix(1);
  const bool fraction = text.find('/') != std::string_view::npos;
  const auto value = text.starts_with('-') ? std::nullopt
                     : fraction            ? model::parse_rational(text)
                                           : model::parse_decimal(text);
  if (!value || *value > model::Rational(kMostQuarters)) return std::nullopt;
  return negative ? -*value : *value;
}

Complaint set_played_tempo(Options& options, const std::string& text) {
  const auto value = model::parse_decimal(text);
  const bool possible = value && *value >= model::Rational(midi::kSlowestPlayed) &&
                        *value <= model::Rational(midi::kFastestPlayed);
  return keep(
      possible ? std::optional(value->as_double()) : std::nullopt, options.midi_read.played_tempo,
      base::message("beats a minute from {} to {}", midi::kSlowestPlayed, midi::kFastestPlayed));
}

OptionRow choice(std::string_view name, std::string_view placeholder, std::string_view help,
                 Taken taken) {
  return row(name, placeholder, OptionGroup::choice, {"convert", "fit", "check", "compare"}, help,
             std::move(taken));
}

// Of annotate too, which takes staff files alone.
OptionRow staff_choice(std::string_view name, std::string_view placeholder, std::string_view help,
                       Taken taken) {
  OptionRow made = choice(name, placeholder, help, std::move(taken));
  made.verbs.insert(made.verbs.begin() + 1, "annotate");
  return made;
}

}  // namespace

std::vector<OptionRow> reading_options() {
  using base::catalogued;
  using Staff = musicxml::MusicXmlReadOptions;
  using Midi = midi::MidiReadOptions;
  constexpr auto staff = &Options::musicxml_read;
  constexpr auto sound = &Options::midi_read;
  return {
      staff_choice("part", "PART",
                   "part of a staff file: its name, id or number; the melody by default",
                   text(staff, &Staff::part)),
      staff_choice("voice", "N", "voice of that part; the melody by default",
                   text(staff, &Staff::voice)),
      staff_choice("staff-number", "N",
                   "staff of that part, counted from 1; all of them by default",
                   number(1, kMostStaves, staff, &Staff::staff_number)),
      choice("read-fingering", "KIND",
             "where a staff file has its fingering: lyric, lyric-above, technical, words or none; "
             "found by default",
             read_by(musicxml::annotation_named,
                     catalogued("lyric, lyric-above, technical, words or none"),
                     {"lyric", "lyric-above", "technical", "words", "none"}, staff,
                     &Staff::read_fingering)),
      choice("track", "N", "track of a MIDI file, counted from 1; the melody by default",
             number(1, kMostTracks, sound, &Midi::track)),
      choice("channel", "N", "channel of a MIDI file, 1 to 16",
             number(1, 16, sound, &Midi::channel)),
      choice("line", "top|bottom",
             "which notes of the chords in a MIDI file are the melody; top by default",
             one_of<midi::Line>({{"top", midi::Line::top}, {"bottom", midi::Line::bottom}},
                                catalogued("top or bottom"), sound, &Midi::line)),
      choice(
          "grid", "N",
          "move the notes of a MIDI file to the nearest of N parts of a quarter; found by default",
          number(1, midi::kFinestGrid, sound, &Midi::grid)),
      choice(
          "offset", "QUARTERS",
          "by how much all notes of a MIDI file are late, such as 1/16 or -0.1; found by default",
          read_by(quarter_notes, catalogued("quarter notes such as 1/16, 0.35 or -0.1"), {}, sound,
                  &Midi::offset)),
      choice("played-tempo", "BPM",
             "beats a minute at which a MIDI file was played, whatever it says; found by default",
             {set_played_tempo}),
      choice("meter", "METER", "such as 3/4, for a MIDI file that has none; free by default",
             read_by(model::parse_meter, catalogued("a meter such as 3/4 or 6/8, or free"), {},
                     sound, &Midi::meter)),
      choice(
          "charset", "NAME",
          "of the texts in a MIDI file: utf-8, shift-jis or latin-1; found by default",
          one_of<midi::Charset>({{"utf-8", midi::Charset::utf8},
                                 {"shift-jis", midi::Charset::shift_jis},
                                 {"latin-1", midi::Charset::latin1}},
                                catalogued("utf-8, shift-jis or latin-1"), sound, &Midi::charset)),
      row("play-out", "", OptionGroup::choice, {"convert"},
          "write repeats, endings and jumps out in full",
          becomes(Repeats::played_out, &Options::repeats)),
  };
}

}  // namespace yubifu::cli
