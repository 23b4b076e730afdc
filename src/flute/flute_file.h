// A flute described by a file: any number of holes, its own signs, measured pitches.
#pragma once

#include "base/diagnostic.h"
#include "base/json.h"
#include "base/source_text.h"
#include "base/word_table.h"
#include "flute/flute.h"

namespace yubifu::flute {

/// The air in a flute that is being played, in degrees Celsius: what readings in Hz are converted
/// to when a file tells the temperature at which they were taken but none for the concert.
inline constexpr double kConcertCelsius = 20;
/// What a flute file may tell.
inline constexpr double kColdestCelsius = -30;
inline constexpr double kHottestCelsius = 60;

/// A frequency read at one temperature of the air, at another: the pitch of an air column rises
/// with the square root of the absolute temperature.
double hz_at(double hz, double reading_celsius, double concert_celsius);

/// A reading of a tuner, in Hz.
inline constexpr double kLeastHz = 20;
inline constexpr double kMostHz = 20'000;

/// What an entry says; what it leaves out may come from the flute that the file is like.
struct FileEntry {
  model::Fingering fingering;  ///< sign and half hole
  std::optional<model::Register> in;
  std::optional<EntryKind> kind;
  std::vector<model::HolePattern> patterns;
  std::vector<base::SourceRange> pattern_places;  ///< one for each pattern
  std::optional<double> cents;                    ///< from 一
  std::optional<double> hz;                       ///< as read
  base::SourceRange where;
};

/// The words of flute files.
inline constexpr auto kRegisterWords =
    base::word_table<model::Register>({{model::Register::tube, "tube"},
                                       {model::Register::low, "low"},
                                       {model::Register::second, "second"},
                                       {model::Register::third, "third"}});
inline constexpr auto kEffortWords =
    base::word_table<EntryKind>({{EntryKind::plain, "plain"},
                                 {EntryKind::cross, "cross"},
                                 {EntryKind::half_usual, "half-usual"},
                                 {EntryKind::half_harder, "half-harder"},
                                 {EntryKind::half_hard, "half-hard"}});

/// What an entry asks that does not say it: メ and カ are as hard as the built-in ones of their
/// number, signs of one's own as 五メ.
EntryKind usual_kind(const model::Fingering& fingering);

/// A sign, perhaps with メ or カ, without a bend; nothing for any other text.
std::optional<model::Fingering> parse_entry_sign(std::string_view text);

/// Reads one member of "entries"; nothing after an error. How a reading was come by ("spread",
/// "seconds") is for people and changes nothing. Reports json rules, `flute-sign`,
/// `flute-pattern` for characters that are no hole, and `flute-pitch` for cents beside Hz.
std::optional<FileEntry> read_file_entry(const base::JsonValue& value, std::size_t number,
                                         base::Diagnostics& diagnostics);

/// Reports `flute-alike` for signs with the same fingers, steadying aside, that lie too close to be
/// told apart by the breath (an overblown octave and カ beside メ are no fault) and for a pattern
/// that a sign has twice; `flute-order` for plain numbers of a register that do not rise
/// (cross-fingerings and half holes need not). `places` has the place of each entry.
base::Diagnostics doubts_about(const std::vector<Entry>& entries,
                               const std::vector<base::SourceRange>& places);

/// Reads a flute file (JSON, schemas/flute.schema.json). `name` is how the score names it; entries
/// in Hz keep their frequency at any tuning of A4, those in cents follow it with 一. Reports faults
/// at their places, and signs that cannot be told apart or stand out of order.
base::Outcome<Flute> read_flute_file(const base::SourceText& source, const model::FluteName& name,
                                     double a4_hz);

}  // namespace yubifu::flute
