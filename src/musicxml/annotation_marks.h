// How the annotation of `annotate` is told from what else a staff file holds. Writer, remover and
// reader share this page.
//
// The header has the field `yubifu.annotated`, and behind it `yubifu.fingering`, `yubifu.flute` and
// perhaps `yubifu.tuning`, which hold over fields of the same names before it. `yubifu.octave` says
// by how many octaves the fingers lie over the notes of the part, which stay as they are written.
// A lyric is ours by its name, as in every file. A `<notations>` of ours says what is so anyway,
// print-object="yes", and has only <technical> with the fingering and the holes; a `<direction>`
// of ours says directive="no" and placement="below", and has only <words>.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace yubifu::musicxml {

namespace field {
/// Its value tells what stands around the fields for their sake.
inline constexpr std::string_view kAnnotated = "yubifu.annotated";
inline constexpr std::string_view kOctave = "yubifu.octave";  ///< PartOctaves
}  // namespace field

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

std::string_view field_home_name(FieldHome home);
std::optional<FieldHome> field_home_named(std::string_view name);

/// An attribute with a value.
struct MarkAttribute {
  const char* name;
  std::string_view value;
};

inline constexpr MarkAttribute kNotationsMark{"print-object", "yes"};
inline constexpr std::array<MarkAttribute, 2> kDirectionMarks{
    {{"directive", "no"}, {"placement", "below"}}};

}  // namespace yubifu::musicxml
