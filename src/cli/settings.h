// What a player says once for all runs: flutes, tuning, language; what the environment says.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "fingering/resolve.h"
#include "flute/flute.h"
#include "model/flute_name.h"

namespace yubifu::cli {

class Log;
struct Options;

/// The values of --language: "en", then the languages that messages are translated into.
const std::vector<std::string>& languages();

/// Takes `--language NAME` out of the words before "--", and returns the last NAME.
std::optional<std::string> take_language(std::vector<std::string>& words);

/// The value of a variable of the environment, empty where it is not set.
std::string_view environment(const char* name);

/// What the environment asks for, as gettext reads it: the first of LC_ALL, LC_MESSAGES and LANG
/// that is set, and where that is no plain C locale, the first known language of LANGUAGE.
std::string language_of_environment();

/// Makes the messages of the process speak `language`, one of languages().
void speak_language(const std::string& language);

/// schemas/settings.schema.json. They serve fit, new, and the fingering of a staff or MIDI file
/// that has none; what fingering text or score JSON sounds never depends on them.
struct Settings {
  std::string path;                      ///< of the file that was read; empty where there is none
  std::vector<model::FluteName> flutes;  ///< that the player owns; paths are absolute
  std::optional<double> tuning_hz;       ///< A4
  std::optional<std::string> language;   ///< one of languages()
  std::string faults;                    ///< printed lines; empty when all is well
};

/// Where the settings stand: yubifu/settings.json under $XDG_CONFIG_HOME, else under %APPDATA%,
/// else under ~/.config. Empty when the environment names no such folder.
std::string settings_path();

/// Takes `--no-settings` out of the words before "--". True when it was there, or when CI stands in
/// the environment: a proof must not depend on whose machine it runs on.
bool settings_ignored(std::vector<std::string>& words);

/// Reads the file, as far as it is there. A fault is told as a warning, and all settings are left
/// aside, since half of them could choose the wrong flute; of an unknown member it is only told.
Settings read_settings();

/// The flutes of the settings. Nothing when a flute file cannot be used, which `log` is told.
std::optional<std::vector<flute::Flute>> own_flutes(const Settings& settings, double tuning_hz,
                                                    Log& log);

/// Whether the settings have a say: over a staff or MIDI file that has no fingers.
bool settings_serve(const model::Score& score, fingering::Origin origin);

/// Takes the settings for such a score: the tuning where neither it nor `resolve` has one, and
/// likewise of the player's flutes the one that suits the melody best, which `log` is told. Leaves
/// other scores alone. False when a flute file cannot be used.
bool take_settings(const model::Score& score, const base::SourceText& source,
                   const Options& options, fingering::ResolveOptions& resolve, Log& log);

}  // namespace yubifu::cli
