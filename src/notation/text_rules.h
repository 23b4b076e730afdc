// Rules about the text as a whole, its header and its limits.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::notation::rule {

using base::Rule;
using base::Severity;

// --- the text --------------------------------------------------------------------------------

inline constexpr Rule not_utf8{"not-utf8", Severity::error, "Fingering text is UTF-8.",
                               "a file in Latin-1", "the same file in UTF-8"};
inline constexpr Rule other_encoding{"other-encoding", Severity::note,
                                     "A text in Shift_JIS or UTF-16 is read, and belongs in UTF-8.",
                                     "a file in Shift_JIS", "the same file in UTF-8"};
inline constexpr Rule empty_input{"empty-input", Severity::error, "A fingering text is not empty.",
                                  "\n", "五 六 |\n"};
inline constexpr Rule no_words{"no-words", Severity::error,
                               "After the header stands at least one word of music.",
                               "title: Rain\n", "title: Rain\n\n五 六 |\n"};
inline constexpr Rule size_limit{
    "size-limit", Severity::error,
    "A text holds at most 5,000,000 words, 2,000,000 notes and 500,000 bars; a word or a brace is "
    "at most 4,096 bytes long.",
    "a word of 5,000 bytes", "five words of 1,000 bytes"};
inline constexpr Rule nesting_too_deep{"nesting-too-deep", Severity::error,
                                       "Groups nest at most 64 deep.", "65 brackets that nest",
                                       "64 brackets that nest"};
inline constexpr Rule too_many_findings{"too-many-findings", Severity::error,
                                        "After 1,000 findings the rest is not told.",
                                        "a text with 2,000 faults", "the same without faults"};

// --- the header ------------------------------------------------------------------------------

inline constexpr Rule unknown_header{
    "unknown-header", Severity::warning,
    "A header line has one of the known keys; another one is kept, but nothing reads it.",
    "titel: Rain\n五 六 |\n", "title: Rain\n五 六 |\n"};
inline constexpr Rule duplicate_header{
    "duplicate-header", Severity::error, "A header key is given once.",
    "title: Rain\ntitle: Snow\n五 六 |\n", "title: Rain\nsubtitle: Snow\n五 六 |\n"};
inline constexpr Rule late_header{"late-header", Severity::error,
                                  "Header lines stand before the music.", "五 六 |\ntempo: 90\n",
                                  "五 六 | {tempo 90} 七 六 五 - |\n"};
inline constexpr Rule header_space{"header-space", Severity::error,
                                   "White space follows the colon of a header line.",
                                   "title:Rain\n五 六 |\n", "title: Rain\n五 六 |\n"};
inline constexpr Rule header_colon{"header-colon", Severity::error,
                                   "A colon follows the key of a header line.",
                                   "title Rain\n五 六 |\n", "title: Rain\n五 六 |\n"};
inline constexpr Rule bad_header_value{"bad-header-value", Severity::error,
                                       "The value of a header line has the form its key asks for.",
                                       "meter: 4/5\n五 六 |\n", "meter: 4/4\n五 六 |\n"};
inline constexpr Rule unknown_flute{
    "unknown-flute", Severity::error,
    "A flute is a size from 1 to 13, a half size, a size with an offset in cents, or the path of a "
    "flute file.",
    "flute: 14\n五 六 |\n", "flute: 13\n五 六 |\n"};
inline constexpr Rule beat_meter{
    "beat-meter", Severity::error, "The beat divides the meter into whole words.",
    "meter: 4/4\nbeat: 3/8\n五 六 |\n", "meter: 6/8\nbeat: 3/8\n五 六 |\n"};
inline constexpr Rule start_conflict{
    "start-conflict", Severity::warning,
    "A direction at the very start of the music does not contradict the header.",
    "tempo: 90\n{tempo 60} 五 六 |\n", "tempo: 60\n五 六 |\n"};

}  // namespace yubifu::notation::rule
