// Everything a command line can say, parsed once into plain values.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midi/writer.h"
#include "model/flute_name.h"
#include "model/score.h"
#include "musicxml/writer.h"

namespace yubifu::cli {

/// Which notation the numbers of an existing staff file are in, when the file does not say.
enum class OctaveChoice { automatic, fixed };

struct Options {
  std::vector<std::string> inputs;
  std::string output = "-";
  std::string out_dir;
  std::string from;  ///< name of a format; empty: by extension and first bytes
  std::string to;
  int jobs = 0;  ///< 0: as many as there are cores

  std::vector<model::FluteName> flutes;
  std::optional<double> tuning_hz;
  OctaveChoice octave_choice = OctaveChoice::fixed;
  int octaves = 0;
  int semitones = 0;
  bool refinger = false;

  std::string part;
  std::string voice;
  std::optional<int> staff_number;

  musicxml::MusicXmlWriteOptions musicxml;
  midi::MidiWriteOptions midi;
  bool ascii = false;
  bool play_out = false;
  bool strict = false;
};

}  // namespace yubifu::cli
