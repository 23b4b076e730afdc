// Options for MIDI files to listen to and to practise with.
#include "base/message.h"
#include "cli/options/rows.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr int kMostTimes = 1000;
constexpr int kMostCountIn = 16;

std::optional<midi::Lyrics> lyrics(const std::string& text) {
  if (text == "fingering") return midi::Lyrics::fingering;
  if (text == "song") return midi::Lyrics::song;
  if (text == "shoga") return midi::Lyrics::shoga;
  if (text == "none") return midi::Lyrics::none;
  return std::nullopt;
}

}  // namespace

std::vector<OptionRow> sound_options() {
  return {
      {"lyrics",
       0,
       "KIND",
       OptionGroup::sound,
       {"convert"},
       "texts in a MIDI file: fingering (the default), song, shoga or none",
       [](Options& o, const std::string& v) {
         return keep(lyrics(v), o.midi_write.lyrics, message("fingering, song, shoga or none"));
       },
       {"fingering", "song", "shoga", "none"}},
      {"program",
       0,
       "N",
       OptionGroup::sound,
       {"convert"},
       "instrument, counted from 1 as in General MIDI; 74, the flute, by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 128), o.midi_write.program,
                     message("a number from 1 to 128"));
       }},
      {"velocity",
       0,
       "N",
       OptionGroup::sound,
       {"convert"},
       "of a note without accent, 1 to 127",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, 127), o.midi_write.velocity,
                     message("a number from 1 to 127"));
       }},
      {"ppq",
       0,
       "N",
       OptionGroup::sound,
       {"convert"},
       "ticks a quarter note, 24 to 32767; found from the score by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 24, 32767), o.midi_write.ppq,
                     message("a number from 24 to 32767"));
       }},
      {"bars",
       0,
       "A-B",
       OptionGroup::sound,
       {"convert"},
       "only these bars, by their printed numbers; a pickup is bar 0",
       [](Options& o, const std::string& v) {
         return keep(midi::parse_bar_range(v), o.midi_write.practice.bars,
                     message("bar numbers such as 5-8 or 5"));
       }},
      {"tempo",
       0,
       "PERCENT",
       OptionGroup::sound,
       {"convert"},
       "of the written tempo, such as 60%",
       [](Options& o, const std::string& v) {
         return keep(percent(v), o.midi_write.practice.tempo_percent,
                     message("a percentage from 1% to 1000%"));
       }},
      {"times",
       0,
       "N",
       OptionGroup::sound,
       {"convert"},
       "how often all of it is played",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostTimes), o.midi_write.practice.times,
                     message("a number from 1 to {}", kMostTimes));
       }},
      {"count-in",
       0,
       "BARS",
       OptionGroup::sound,
       {"convert"},
       "bars of clicks before the first note",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 0, kMostCountIn), o.midi_write.practice.count_in_bars,
                     message("a number of bars from 0 to {}", kMostCountIn));
       }},
      {"click",
       0,
       "",
       OptionGroup::sound,
       {"convert"},
       "a click on every beat",
       [](Options& o, const std::string&) -> Complaint {
         o.midi_write.practice.click = midi::Click::on;
         return std::nullopt;
       }},
  };
}

}  // namespace yubifu::cli
