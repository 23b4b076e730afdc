// What is our own in a staff file. Writer, annotator, remover and reader share this page, so that
// what one writes the others read.
//
// A `<direction>` that holds `<other-direction print-object="no">` with one of our texts says
// exactly what the text says; whatever else stands in the same `<direction>` (words, metronome,
// sound) is its print and is not read. A `<key>` or `<transpose>` change comes in `<attributes>`
// before such a direction at the same place and is print as well.
//
// A file that `annotate` has written is told from others by the field `yubifu.annotated`; behind it
// come `yubifu.fingering`, `yubifu.flute` and perhaps `yubifu.tuning`, which hold over fields of
// the same names before it. `yubifu.octave` says by how many octaves the fingers lie over the notes
// of the part, which stay as they are written. A lyric is ours by its name, as in every file. A
// `<notations>` of an annotation says what is so anyway, print-object="yes", and has only
// <technical> with the fingering and the holes; a `<direction>` says directive="no" and
// placement="below", and has only <words>.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/word_table.h"
#include "model/header.h"
#include "model/score.h"

namespace yubifu::musicxml {

/// The names of `<miscellaneous-field>`; the value is the header's text. A field that is missing
/// was not in the header, in particular `key` (the staff's own key was found by the writer then,
/// and `<key>` is no header field) and `staff`. A file with `version` is one of ours.
namespace field {
inline constexpr std::string_view kPrefix = "yubifu.";
inline constexpr std::string_view kVersion = "yubifu.version";      ///< "1"
inline constexpr std::string_view kFingering = "yubifu.fingering";  ///< kind of annotation
inline constexpr std::string_view kFlute = "yubifu.flute";
inline constexpr std::string_view kTuning = "yubifu.tuning";
/// The header fields without an element of their own, each as the prefix and its word; the subtitle
/// is printed as a `<credit>` too.
inline constexpr std::array kKept{model::HeaderKey::subtitle, model::HeaderKey::flute,
                                  model::HeaderKey::tuning,   model::HeaderKey::beat,
                                  model::HeaderKey::key,      model::HeaderKey::staff,
                                  model::HeaderKey::zero};
/// Before the key of a header line that nobody knows.
inline constexpr std::string_view kUnknownPrefix = "yubifu.header.";
/// Its value tells what stands around the fields for their sake.
inline constexpr std::string_view kAnnotated = "yubifu.annotated";
inline constexpr std::string_view kOctave = "yubifu.octave";  ///< PartOctaves
}  // namespace field
// Title: `<work-title>`; composer and lyricist: `<creator type="…">`; rights and source: elements
// of `<identification>`. The header's meter is that of the first bar, its tempo the metronome at
// the start.

/// The next `<note>` has a pattern of holes of its own: `yubifu:holes ○●●●●●○`.
struct HolesAsked {
  model::HolePattern holes;
  friend bool operator==(const HolesAsked&, const HolesAsked&) = default;
};

/// The bar is irregular: `yubifu:irregular`, at its start.
struct IrregularBar {
  friend bool operator==(const IrregularBar&, const IrregularBar&) = default;
};

/// The bar ends with a repeat and with this line: `yubifu:bar section` or `… final`, at its end.
struct BarLine {
  model::BarStyle style = model::BarStyle::regular;
  friend bool operator==(const BarLine&, const BarLine&) = default;
};

/// A line of print that is no part of the score: `yubifu:print`.
struct PrintOnly {
  friend bool operator==(const PrintOnly&, const PrintOnly&) = default;
};

/// What a hidden direction means. A direction of the score: `yubifu:tempo UNIT PER_MINUTE`
/// (quarters, both fractions), `yubifu:beat 1/8` (at the start of a bar it is Measure::beat),
/// `yubifu:key D minor`, `yubifu:flute 7.5`, `yubifu:section NAME`, `yubifu:text TEXT`,
/// `yubifu:dyn mf`, `yubifu:rit` and the other cues by the names of the fingering text.
using OwnMeaning =
    std::variant<model::DirectionValue, HolesAsked, IrregularBar, BarLine, PrintOnly>;

std::string own_text(const OwnMeaning& meaning);

/// Nothing for a text that does not begin with `yubifu:` or is none of ours.
std::optional<OwnMeaning> parse_own_text(std::string_view text);

/// Every text of our own begins so.
inline constexpr std::string_view kOwnPrefix = "yubifu:";

/// How far the fingering of a part was moved; as text `P1 1` or `P1 -2`.
struct PartOctaves {
  std::string part;  ///< as `part_label` gives it
  int octaves = 0;   ///< up, or down if below 0
};

std::string to_text(const PartOctaves& moved);
/// Nothing for another text, and none for more octaves than there are MIDI keys.
std::optional<PartOctaves> parse_part_octaves(std::string_view text);

/// A part by its id, given as it stands in the file, or by # and its number from 1 on where the id
/// is missing or cannot be told from the text around it.
std::string part_label(std::string_view id, std::size_t number);

/// What `annotate` had to add so that the fields have a place. The last two stand in for an empty
/// element, which is in the comment right behind.
enum class FieldHome {
  fields,
  miscellaneous,
  identification,
  instead_of_miscellaneous,
  instead_of_identification,
};

inline constexpr auto kFieldHomes = base::word_table<FieldHome>({
    {FieldHome::fields, "fields"},
    {FieldHome::miscellaneous, "miscellaneous"},
    {FieldHome::identification, "identification"},
    {FieldHome::instead_of_miscellaneous, "instead-of-miscellaneous"},
    {FieldHome::instead_of_identification, "instead-of-identification"},
});

/// An attribute with a value.
struct MarkAttribute {
  const char* name;
  std::string_view value;
};

inline constexpr MarkAttribute kNotationsMark{"print-object", "yes"};
inline constexpr std::array<MarkAttribute, 2> kDirectionMarks{
    {{"directive", "no"}, {"placement", "below"}}};

}  // namespace yubifu::musicxml
