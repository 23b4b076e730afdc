// Takes the annotation that `annotate` wrote out of a staff file again.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace yubifu::musicxml {

/// A text as it was before it was annotated, and what its annotation said of itself.
struct Unannotated {
  std::string text;
  std::string flute;  ///< as the field has it
};

/// Nothing for a text that is not annotated. The text must be well-formed. What was spliced into it
/// goes byte for byte; in a file that another program has saved since, what is still marked as ours
/// goes.
std::optional<Unannotated> without_annotation(std::string_view text);

}  // namespace yubifu::musicxml
