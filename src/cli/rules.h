// The rules that the verbs report themselves, and those of all folders together.
#pragma once

#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::cli {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule layout{
    "layout",
    Severity::warning,
    "Fingering text should stand in its canonical layout. Off unless asked for.",
    "flute: 6\n五 六  七 - |=\n",
    "flute: 6\nmeter: 4/4\n\n五 六 七 - |=\n",
    base::Standing::off};

inline constexpr Rule unknown_format{
    "unknown-format", Severity::error,
    "A file to check must be of a format that its name or its first bytes tell.",
    "a picture named tune", "a MIDI file named tune"};
inline constexpr Rule other_format{"other-format", Severity::warning,
                                   "The name of a file should tell the format that it has.",
                                   "a MIDI file named tune.musicxml", "a MIDI file named tune.mid"};
inline constexpr Rule nothing_to_check{
    "nothing-to-check", Severity::warning,
    "A folder to check should hold at least one file of a known format.", "a folder of pictures",
    "a folder of pictures and scores"};
inline constexpr Rule list_in_list{"list-in-list", Severity::error, "A list of tunes names tunes.",
                                   "a list that names itself", "a list that names a tune"};
inline constexpr Rule link_to_folder{
    "link-to-folder", Severity::note,
    "A link to a folder is not followed: what it leads to wants to be named itself.",
    "a folder with a link to another folder", "both folders named"};
}  // namespace rule

/// In the order in which the folders build on one another.
const std::vector<const base::Rule*>& all_rules();

/// Null for an unknown name.
const base::Rule* find_rule(std::string_view name);

/// In the same order.
std::vector<std::string_view> rule_names();

}  // namespace yubifu::cli
