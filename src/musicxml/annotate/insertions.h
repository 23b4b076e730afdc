// Where annotate puts what it adds to the text of a staff file: beside the notes that are struck,
// and into the header. And changes at many places of a text.
#pragma once

#include <cstddef>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "musicxml/vocabulary_own.h"

namespace yubifu::musicxml {

/// A place between two tags, and the white space that sets off an element there as its neighbours
/// are set off. What stands before the place is no white space: so an element that was put there
/// goes again, without a trace, with all white space before it.
struct Place {
  std::size_t offset = 0;
  std::string_view space;
};

/// Of one struck note; of a chord its first note, which carries what belongs to all.
struct NotePlaces {
  Place direction;         ///< before the note
  Place notations;         ///< behind all notations the note has
  Place lyric;             ///< behind all lyrics the note has
  std::string_view staff;  ///< the note's own staff, empty where it names none
};

/// Where the fields go, and what has to be put around them.
struct FieldPlace {
  FieldHome home = FieldHome::fields;
  Place place;
  /// An empty element that ours stands in for. An element without content cannot be filled by
  /// insertion, so it goes into a comment.
  std::optional<base::SourceRange> replaced;
};

struct AnnotationPlaces {
  std::vector<NotePlaces> notes;  ///< one for each offset asked for, in that order
  std::string part;               ///< that has the notes, as `part_label` names it
  /// Of an export of ours: how it is fingered, as the field for that says it.
  std::optional<std::string_view> fingering;
  FieldPlace fields;
  int free_verse = 1;  ///< over all verse numbers of the part that has the notes
};

/// Finds the places in a well-formed score for the `<note>` elements that begin at these offsets.
/// Nothing if the text has no note at one of them.
std::optional<AnnotationPlaces> find_places(std::string_view text,
                                            const std::vector<std::size_t>& notes);

/// A text in the place of the bytes [begin, end), where either may be empty.
struct Change {
  std::size_t begin = 0;
  std::size_t end = 0;
  std::string text;
};

/// The text with the changes, which must not overlap; of several insertions at one place the
/// earlier ones of the list come first.
std::string changed(std::string_view text, std::vector<Change> changes);

/// Whether a name is one of a few.
bool is_any_of(std::string_view name, std::initializer_list<std::string_view> names);

}  // namespace yubifu::musicxml
