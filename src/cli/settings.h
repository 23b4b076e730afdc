// What a player says once for all runs: the flutes in the house, their tuning, the language.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "fingering/resolve.h"
#include "flute/flute.h"
#include "model/flute_name.h"

namespace yubifu::cli {

class Log;
struct Options;

/// schemas/settings.schema.json. They serve fit, new, and the fingering of a staff or MIDI file
/// that has none; what fingering text or score JSON sounds never depends on them.
struct Settings {
  std::string path;                      ///< of the file that was read; empty where there is none
  std::vector<model::FluteName> flutes;  ///< that the player owns; paths are absolute
  std::optional<double> tuning_hz;       ///< A4
  std::optional<std::string> language;   ///< one of languages()
};

/// Settings and what is wrong with their file.
struct SettingsFile {
  Settings settings;
  std::string faults;  ///< printed lines; empty when all is well
};

/// Where the settings stand: yubifu/settings.json under $XDG_CONFIG_HOME, else under %APPDATA%,
/// else under ~/.config. Empty when the environment names no such folder.
std::string settings_path();

/// Takes `--no-settings` out of the words of a command line, wherever before "--" it stands. True
/// when it was there, or when CI stands in the environment: a run of a machine that proves things
/// must not depend on whose machine it is.
bool settings_ignored(std::vector<std::string>& words);

/// Reads the file, as far as it is there. A fault in it is told as a warning at its place, and the
/// settings are left aside as a whole, since half of them could choose the wrong flute; a member
/// that nobody knows is told and passed over.
SettingsFile read_settings();

/// The flutes of the settings. Nothing when a flute file cannot be used, which `log` is told.
std::optional<std::vector<flute::Flute>> own_flutes(const Settings& settings, double tuning_hz,
                                                    Log& log);

/// Whether the settings have a say: over a staff or MIDI file without fingers, never over what has
/// them.
bool settings_serve(const model::Score& score, fingering::Origin origin);

/// Takes the settings for such a score, to be resolved with `resolve`: the tuning where neither it
/// nor `resolve` has one, and likewise of the player's flutes the one that suits the melody best,
/// which `log` is told. Leaves other scores alone. False when a flute file cannot be used.
bool take_settings(const model::Score& score, const base::SourceText& source,
                   const Options& options, fingering::ResolveOptions& resolve, Log& log);

}  // namespace yubifu::cli
