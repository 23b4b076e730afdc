#include "cli/option_table.h"

#include <algorithm>

#include "base/message.h"
#include "cli/formats.h"
#include "cli/option_values.h"
#include "model/words.h"

namespace yubifu::cli {
namespace {

using base::message;
using Complaint = std::optional<std::string>;

constexpr int kMostOctaves = 8;
constexpr int kMostSemitones = 60;
constexpr int kMostJobs = 256;
constexpr int kMostStaves = 64;
constexpr int kMostTracks = 65535;

const std::vector<std::string_view> kConvert{"convert"};
const std::vector<std::string_view> kConvertAndChart{"convert", "chart"};

/// Stores what was read, or says what was expected.
template <typename Value, typename Target>
Complaint keep(const std::optional<Value>& value, Target& target, std::string expected) {
  if (!value) return expected;
  target = *value;
  return std::nullopt;
}

Complaint set_format(const std::string& name, std::string& target) {
  const Format* format = find_format(name);
  if (format == nullptr) return message("one of {}", format_names());
  target = name;
  return std::nullopt;
}

Complaint set_octave(Options& options, const std::string& text) {
  if (text == "auto") {
    options.resolve.octave = fingering::AutoOctave{};
    return std::nullopt;
  }
  return keep(whole_number(text, -kMostOctaves, kMostOctaves), options.resolve.octave,
              message("auto, or a number of octaves from -{} to {}", kMostOctaves, kMostOctaves));
}

Complaint set_avoided(Options& options, const std::string& text) {
  fingering::EffortTable& effort = options.resolve.effort;
  std::string_view rest = text;
  while (!rest.empty()) {
    const std::string_view what = rest.substr(0, rest.find(','));
    rest.remove_prefix(std::min(rest.size(), what.size() + 1));
    if (what == "half-holes") {
      effort.avoid_half_holes = true;
    } else if (what == "bends") {
      effort.avoid_bends = true;
    } else if (what == "third") {
      effort.avoid_third_register = true;
    } else {
      return message("half-holes, bends, third, or several of them parted by commas");
    }
  }
  return std::nullopt;
}

std::optional<musicxml::Clef> clef(const std::string& text) {
  if (text == "treble") return musicxml::Clef::treble;
  if (text == "treble8") return musicxml::Clef::treble8;
  return std::nullopt;
}

std::optional<midi::Lyrics> lyrics(const std::string& text) {
  if (text == "fingering") return midi::Lyrics::fingering;
  if (text == "song") return midi::Lyrics::song;
  if (text == "shoga") return midi::Lyrics::shoga;
  if (text == "none") return midi::Lyrics::none;
  return std::nullopt;
}

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

std::vector<OptionRow> file_options() {
  return {
      {"output", 'o', "FILE", OptionGroup::files, kConvertAndChart,
       "where to write; - is standard output, the default",
       [](Options& o, const std::string& v) -> Complaint {
         o.output = v;
         return std::nullopt;
       }},
      {"out-dir", 0, "DIR", OptionGroup::files, kConvert,
       "a folder for the results of many inputs or flutes; each keeps its name",
       [](Options& o, const std::string& v) -> Complaint {
         o.out_dir = v;
         return std::nullopt;
       }},
      {"from", 0, "FORMAT", OptionGroup::files, kConvert,
       "format of the input, where its name and first bytes do not tell",
       [](Options& o, const std::string& v) { return set_format(v, o.from); }},
      {"to", 0, "FORMAT", OptionGroup::files, kConvert,
       "format of the output, where its name does not tell",
       [](Options& o, const std::string& v) { return set_format(v, o.to); }},
      {"jobs", 0, "N", OptionGroup::files, kConvert,
       "files to work on at the same time; as many as there are cores by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostJobs), o.jobs,
                     message("a number from 1 to {}", kMostJobs));
       }},
  };
}

std::vector<OptionRow> flute_options() {
  return {
      {"flute", 'f', "SIZE", OptionGroup::flute, kConvertAndChart,
       "size 1 to 13, half sizes (7.5), an offset in cents (6+15c); several parted by commas with "
       "--out-dir. Staff and MIDI files are fingered for it; scores of "
       "numbers keep their fingers and sound as on it",
       [](Options& o, const std::string& v) {
         return keep(flute_list(v), o.flutes,
                     message("sizes from 1 to 13 such as 6, 7.5 or 6+15c"));
       }},
      {"tuning", 0, "HZ", OptionGroup::flute, kConvertAndChart,
       "A4 in hertz; 440 unless the score says otherwise",
       [](Options& o, const std::string& v) {
         return keep(tuning_hz(v), o.resolve.tuning_hz, message("hertz from 300 to 600"));
       }},
      {"octave", 0, "auto|N", OptionGroup::flute, kConvert,
       "move the melody by whole octaves: as suits the flute, or by N", set_octave},
      {"move", 0, "SEMITONES", OptionGroup::flute, kConvert,
       "move the sound by semitones and find fingers for it",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, -kMostSemitones, kMostSemitones), o.resolve.move_semitones,
                     message("semitones from -{} to {}", kMostSemitones, kMostSemitones));
       }},
      {"refinger", 0, "", OptionGroup::flute, kConvert,
       "keep the pitch of a score of numbers and find new fingers for it",
       [](Options& o, const std::string&) -> Complaint {
         o.resolve.refinger = fingering::Refinger::all;
         return std::nullopt;
       }},
      {"avoid", 0, "WHAT", OptionGroup::flute, kConvert,
       "half-holes, bends or third: take them only where nothing else reaches", set_avoided},
      {"only", 0, "plain", OptionGroup::flute, kConvert,
       "no half holes and no bends; what needs one becomes a gap",
       [](Options& o, const std::string& v) -> Complaint {
         if (v != "plain") return message("plain");
         o.resolve.allowed = fingering::Allowed::plain;
         return std::nullopt;
       }},
      {"explain", 0, "", OptionGroup::flute, kConvert,
       "print what each note could have been played with, and why one way won",
       [](Options& o, const std::string&) -> Complaint {
         o.resolve.explain = fingering::Explain::every_tone;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> choice_options() {
  return {
      {"part", 0, "PART", OptionGroup::choice, kConvert,
       "part of a staff file: its name, id or number; the melody by default",
       [](Options& o, const std::string& v) -> Complaint {
         o.musicxml_read.part = v;
         return std::nullopt;
       }},
      {"voice", 0, "N", OptionGroup::choice, kConvert,
       "voice of that part; the one with the most notes by default",
       [](Options& o, const std::string& v) -> Complaint {
         o.musicxml_read.voice = v;
         return std::nullopt;
       }},
      {"staff-number", 0, "N", OptionGroup::choice, kConvert,
       "staff of that part, counted from 1; all of them by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostStaves), o.musicxml_read.staff_number,
                     message("a number from 1 to {}", kMostStaves));
       }},
      {"read-fingering", 0, "KIND", OptionGroup::choice, kConvert,
       "where a staff file has its fingering: lyric, technical, words or none; found by default",
       [](Options& o, const std::string& v) {
         return keep(musicxml::annotation_named(v), o.musicxml_read.read_fingering,
                     message("lyric, lyric-above, technical, words or none"));
       }},
      {"track", 0, "N", OptionGroup::choice, kConvert,
       "track of a MIDI file, counted from 1; the melody by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostTracks), o.midi_read.track,
                     message("a number from 1 to {}", kMostTracks));
       }},
      {"channel", 0, "N", OptionGroup::choice, kConvert, "channel of a MIDI file, 1 to 16",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 16), o.midi_read.channel, message("a number from 1 to 16"));
       }},
      {"line", 0, "top|bottom", OptionGroup::choice, kConvert,
       "which notes of the chords in a MIDI file are the melody; top by default",
       [](Options& o, const std::string& v) {
         return keep(line(v), o.midi_read.line, message("top or bottom"));
       }},
      {"grid", 0, "N", OptionGroup::choice, kConvert,
       "move the notes of a MIDI file to the nearest of N parts of a quarter; found by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, midi::kFinestGrid), o.midi_read.grid,
                     message("a number from 1 to {}", midi::kFinestGrid));
       }},
      {"meter", 0, "METER", OptionGroup::choice, kConvert,
       "such as 3/4, for a MIDI file that has none; free by default",
       [](Options& o, const std::string& v) {
         return keep(model::parse_meter(v), o.midi_read.meter,
                     message("a meter such as 3/4 or 6/8, or free"));
       }},
      {"charset", 0, "NAME", OptionGroup::choice, kConvert,
       "of the texts in a MIDI file: utf-8, shift-jis or latin-1; found by default",
       [](Options& o, const std::string& v) {
         return keep(charset(v), o.midi_read.charset, message("utf-8, shift-jis or latin-1"));
       }},
      {"play-out", 0, "", OptionGroup::choice, kConvert,
       "write repeats, endings and jumps out in full",
       [](Options& o, const std::string&) -> Complaint {
         o.repeats = Repeats::played_out;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> staff_options() {
  return {
      {"fingering", 0, "KIND", OptionGroup::staff, kConvert,
       "how the staff shows the fingering: lyric (the default), lyric-above, technical, words or "
       "none",
       [](Options& o, const std::string& v) {
         return keep(musicxml::annotation_named(v), o.musicxml_write.annotation,
                     message("lyric, lyric-above, technical, words or none"));
       }},
      {"strokes", 0, "", OptionGroup::staff, kConvert, "held beats as strokes behind the fingering",
       [](Options& o, const std::string&) -> Complaint {
         o.musicxml_write.strokes = true;
         return std::nullopt;
       }},
      {"holes", 0, "", OptionGroup::staff, kConvert, "the holes of each note as well",
       [](Options& o, const std::string&) -> Complaint {
         o.musicxml_write.holes = true;
         return std::nullopt;
       }},
      {"staff", 0, "KIND", OptionGroup::staff, kConvert,
       "in-c: 一 is written C4 whatever the flute, the default for scores of numbers; sounding: "
       "as it sounds",
       [](Options& o, const std::string& v) {
         return keep(model::staff_mode_named(v), o.musicxml_write.staff,
                     message("in-c or sounding"));
       }},
      {"clef", 0, "CLEF", OptionGroup::staff, kConvert,
       "of a sounding staff: treble or treble8; the one with fewer ledger lines by default",
       [](Options& o, const std::string& v) {
         return keep(clef(v), o.musicxml_write.clef, message("treble or treble8"));
       }},
      {"alter", 0, "exact", OptionGroup::staff, kConvert,
       "write cents off the tempered scale into the staff's alterations",
       [](Options& o, const std::string& v) -> Complaint {
         if (v != "exact") return message("exact");
         o.musicxml_write.alterations = musicxml::Alterations::exact;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> sound_options() {
  return {
      {"lyrics", 0, "KIND", OptionGroup::sound, kConvert,
       "texts in a MIDI file: fingering (the default), song, shoga or none",
       [](Options& o, const std::string& v) {
         return keep(lyrics(v), o.midi_write.lyrics, message("fingering, song, shoga or none"));
       }},
      {"program", 0, "N", OptionGroup::sound, kConvert,
       "instrument, counted from 1 as in General MIDI; 74, the flute, by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 128), o.midi_write.program,
                     message("a number from 1 to 128"));
       }},
      {"velocity", 0, "N", OptionGroup::sound, kConvert, "of a note without accent, 1 to 127",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 127), o.midi_write.velocity,
                     message("a number from 1 to 127"));
       }},
      {"ppq", 0, "N", OptionGroup::sound, kConvert,
       "ticks a quarter note, 24 to 32767; found from the score by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 24, 32767), o.midi_write.ppq,
                     message("a number from 24 to 32767"));
       }},
      {"bars", 0, "A-B", OptionGroup::sound, kConvert, "only these bars, by their numbers",
       [](Options& o, const std::string& v) {
         return keep(midi::parse_bar_range(v), o.midi_write.practice.bars,
                     message("bar numbers such as 5-8 or 5"));
       }},
      {"tempo", 0, "PERCENT", OptionGroup::sound, kConvert, "of the written tempo, such as 60%",
       [](Options& o, const std::string& v) {
         return keep(percent(v), o.midi_write.practice.tempo_percent,
                     message("a percentage from 1% to 1000%"));
       }},
      {"times", 0, "N", OptionGroup::sound, kConvert, "how often all of it is played",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 1000), o.midi_write.practice.times,
                     message("a number from 1 to 1000"));
       }},
      {"count-in", 0, "BARS", OptionGroup::sound, kConvert, "bars of clicks before the first note",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 0, 16), o.midi_write.practice.count_in_bars,
                     message("a number of bars from 0 to 16"));
       }},
      {"click", 0, "", OptionGroup::sound, kConvert, "a click on every beat",
       [](Options& o, const std::string&) -> Complaint {
         o.midi_write.practice.click = midi::Click::on;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> layout_options() {
  return {
      {"ascii", 0, "", OptionGroup::layout, kConvertAndChart,
       "fingerings in letters and digits that any keyboard has",
       [](Options& o, const std::string&) -> Complaint {
         o.notation_write.alphabet = notation::Alphabet::ascii;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> reporting_options() {
  return {
      {"strict", 0, "", OptionGroup::reporting, kConvert,
       "exit with status 1 when anything could not be carried over",
       [](Options& o, const std::string&) -> Complaint {
         o.strictness = Strictness::strict;
         return std::nullopt;
       }},
  };
}

}  // namespace

std::string_view heading(OptionGroup group) {
  switch (group) {
    case OptionGroup::files:
      return "Files";
    case OptionGroup::flute:
      return "Flute and pitch";
    case OptionGroup::choice:
      return "What is read";
    case OptionGroup::staff:
      return "Staff";
    case OptionGroup::sound:
      return "Sound";
    case OptionGroup::layout:
      return "Fingering text";
    case OptionGroup::reporting:
      return "Messages";
  }
  return {};
}

const std::vector<OptionRow>& option_table() {
  static const std::vector<OptionRow> table = [] {
    std::vector<OptionRow> all;
    for (auto& rows : {file_options(), flute_options(), choice_options(), staff_options(),
                       sound_options(), layout_options(), reporting_options()}) {
      all.insert(all.end(), rows.begin(), rows.end());
    }
    return all;
  }();
  return table;
}

std::vector<const OptionRow*> options_of(std::string_view verb) {
  std::vector<const OptionRow*> rows;
  for (const OptionRow& row : option_table()) {
    if (std::find(row.verbs.begin(), row.verbs.end(), verb) != row.verbs.end()) {
      rows.push_back(&row);
    }
  }
  return rows;
}

}  // namespace yubifu::cli
