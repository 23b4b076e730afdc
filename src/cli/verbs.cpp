#include "cli/verbs.h"

namespace yubifu::cli {

const std::vector<Verb>& verbs() {
  static const std::vector<Verb> list{
      {"convert", "IN... [-o OUT]",
       "Turns any readable format into any writable one: fingering text, MusicXML, MIDI, score "
       "JSON.",
       "yubifu convert ferry-lanterns.yubifu -o ferry-lanterns.musicxml", run_convert},
      {"chart", "", "Prints the fingering chart of a flute: sign, holes, note, frequency.",
       "yubifu chart --flute 6", run_chart},
  };
  return list;
}

const Verb* find_verb(std::string_view name) {
  for (const Verb& verb : verbs()) {
    if (verb.name == name) return &verb;
  }
  return nullptr;
}

}  // namespace yubifu::cli
