// The rules about files as such: their encoding, their XML, their container.
#pragma once

#include "base/diagnostic.h"
#include "musicxml/rule_examples.h"

namespace yubifu::musicxml::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule unreadable_text{
    "unreadable-text", Severity::error,
    "The bytes must fit an encoding: UTF-8, UTF-16, or another one that the file declares.",
    "a title with the single byte E9 in a file that declares no encoding",
    "the same file with encoding=\"ISO-8859-1\" in its XML declaration"};

inline constexpr Rule declared_encoding{
    "declared-encoding", Severity::warning,
    "The XML declaration should name the encoding that the file has.",
    "a title in Japanese, saved as UTF-8, in a file that declares ISO-8859-1",
    "the same file with encoding=\"UTF-8\" in its XML declaration"};

inline constexpr Rule xml_syntax{"xml-syntax", Severity::error,
                                 "The text must be well-formed XML with one root element.",
                                 kOneBar<"<note><rest/><duration>2</duration></rest>">,
                                 kOneBar<"<note><rest/><duration>2</duration></note>">};

inline constexpr Rule xml_limits{
    "xml-limits", Severity::error,
    "XML that could exhaust a reader is refused: entity declarations, elements nested more than "
    "200 deep, more than 200 attributes on one element.",
    kText<"<?xml version=\"1.0\"?>\n<!DOCTYPE score-partwise [<!ENTITY a \"b\">]>\n"
          "<score-partwise/>\n">,
    kOneBar<"<note><rest/><duration>2</duration></note>">};

inline constexpr Rule broken_container{
    "broken-container", Severity::error,
    "A compressed file must be a whole zip archive with one score to read.",
    "a .mxl file cut in half", "the whole .mxl file"};

inline constexpr Rule unsafe_container{
    "unsafe-container", Severity::error,
    "A compressed file must hold at most 1000 files of together 256 MiB, with names that stay "
    "inside.",
    "a .mxl file with an entry named ../score.musicxml",
    "a .mxl file with an entry named score.musicxml"};

inline constexpr Rule container_without_rootfile{
    "container-without-rootfile", Severity::warning,
    "A compressed file should say in META-INF/container.xml where its score is.",
    "a .mxl file with nothing but score.musicxml",
    "a .mxl file with META-INF/container.xml and score.musicxml"};

inline constexpr Rule not_a_staff_file{"not-a-staff-file", Severity::error,
                                       "The root element must be score-partwise or score-timewise.",
                                       "<opus/>",
                                       kOneBar<"<note><rest/><duration>2</duration></note>">};

}  // namespace yubifu::musicxml::rule
