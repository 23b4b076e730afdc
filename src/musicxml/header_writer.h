// Writes everything before the first bar: title, creators, fields of our own, the part list.
#pragma once

#include "musicxml/writer_context.h"

namespace yubifu::musicxml {

/// Declaration, DOCTYPE and the elements up to `<part>`; opens the root element.
void write_document_start(const WriterContext& context);

/// The one part's id.
inline constexpr std::string_view kPartId = "P1";

}  // namespace yubifu::musicxml
