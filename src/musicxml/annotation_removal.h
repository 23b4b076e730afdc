// Takes the annotation that `annotate` wrote out of a staff file again.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace yubifu::musicxml {

/// A text as it was before it was annotated; nothing for one that is not. The text must be
/// well-formed. What was spliced into it goes byte for byte; in a file that another program has
/// saved since, what is still marked as ours goes.
std::optional<std::string> without_annotation(std::string_view text);

}  // namespace yubifu::musicxml
