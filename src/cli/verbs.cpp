#include "cli/verbs.h"

namespace yubifu::cli {

const std::vector<Verb>& verbs() {
  static const std::vector<Verb> list{
      {"convert", "IN... [-o OUT]",
       "Turns fingering text, MusicXML, MIDI or score JSON into any of them, or into a printed "
       "page. With --out-dir it takes many files, and folders: of these and the folders in them "
       "all but .json.",
       "yubifu convert ferry-lanterns.yubifu -o ferry-lanterns.musicxml", run_convert},
      {"annotate", "IN [-o OUT]",
       "Adds the fingering to a staff file that a notation program wrote, under each note that is "
       "struck (of a chord, the highest), and leaves every byte of it as it was. A fingering that "
       "it added before is replaced, and --remove takes it out again. Song text stays: the "
       "fingering takes the next free verse.",
       "yubifu annotate mill-stream.musicxml --flute 7 -o fingered.musicxml", run_annotate},
      {"fit", "IN",
       "Ranks flutes, each in the octave that suits it best, by how well a melody lies under the "
       "fingers: the sizes 1 to 13 and any flute files named.",
       "yubifu fit mill-stream.musicxml", run_fit},
      {"chart", "",
       "Shows the fingering chart of a flute as text, SVG, PDF or JSON: for each sign the holes, "
       "the staff note, its frequency and how far it lies from the tempered scale.",
       "yubifu chart --flute 6 -o chart.svg", run_chart},
      {"check", "FILES...",
       "Finds faults in scores, staff files, MIDI files and flute files, in folders and the "
       "folders in them. A comment `# allow RULE: REASON` in a score silences a rule for its bar.",
       "yubifu check ferry-lanterns.yubifu", run_check},
      {"compare", "A B",
       "Says whether two files hold the same music, and where they first do not. What a format "
       "cannot hold is left out, and said.",
       "yubifu compare ferry-lanterns.yubifu ferry-lanterns.mid", run_compare},
      {"tidy", "FILES...",
       "Puts fingering text into its canonical layout. Comments, blank lines between sections and "
       "line breaks at bars stay. With --in-place and --check it takes folders too.",
       "yubifu tidy --check ferry-lanterns.yubifu", run_tidy},
      {"gauge", "RECORDING|TABLE [-o OUT]",
       "Makes a flute file from a recording of the flute, its signs played one after another, each "
       "held for a second with a breath between; or from a table of what a tuner showed (.csv: "
       "sign, Hz or note and cents, perhaps holes). A sign without a tone that is surely its own "
       "is left out and told.",
       "yubifu gauge take.wav --like 6 -o my-flute.json", run_gauge},
      {"bind", "TUNES... -o BOOK",
       "Makes one printed book of many tunes, in the order given: contents, the tunes in their "
       "parts, the fingerings that they use, and an index of first words. It takes files, folders "
       "(by name) and lists: a .txt with one path a line, in which a line `# Spring` begins a part "
       "of that name.",
       "yubifu bind ferry-lanterns.yubifu harvest-song.yubifu -o songbook.html", run_bind},
      {"new", "TITLE",
       "Writes a text to begin a tune with: a header, four bars, a line of song, and comments that "
       "say how they are written. A file that is there already stays as it is.",
       "yubifu new Harvest Song --flute 6 --meter 2/4 -o harvest.yubifu", run_new},
      {"schema", "[NAME]",
       "Prints a schema of our formats for other programs, or without a name their list.",
       "yubifu schema score", run_schema},
  };
  return list;
}

std::vector<std::string_view> verb_names() {
  std::vector<std::string_view> names;
  for (const Verb& verb : verbs()) names.push_back(verb.name);
  return names;
}

const Verb* find_verb(std::string_view name) {
  for (const Verb& verb : verbs()) {
    if (verb.name == name) return &verb;
  }
  return nullptr;
}

}  // namespace yubifu::cli
