// The header of a score as text.
#pragma once

#include <string>

#include "model/score.h"

namespace yubifu::notation {

/// True when a field that nobody knows can stand in the header as it is.
bool is_writable_field(const model::Header& header, const model::HeaderField& field);

/// Comments, then the known keys in order (the meter always), then the fields that nobody knows.
std::string header_text(const model::Header& header);

/// A comment as it is written: "# text", "#" for an empty one.
std::string comment_text(const std::string& text);

}  // namespace yubifu::notation
