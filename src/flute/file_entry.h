// The entries of a flute file as they stand there, before it is known what 一 sounds, and what can
// be doubted about the table they make.
#pragma once

#include "base/diagnostic.h"
#include "base/json.h"
#include "flute/flute.h"

namespace yubifu::flute {

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

/// Their words in flute files.
std::string_view name_of(model::Register in);
std::string_view name_of(EntryKind kind);

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

}  // namespace yubifu::flute
