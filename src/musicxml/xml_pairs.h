// Why a parser refused a text: which tag has no partner, and where it stands.
#pragma once

#include <optional>
#include <string_view>

#include "musicxml/xml_scan.h"

namespace yubifu::musicxml {

/// The first end tag that does not end the element that is open, or the innermost element that is
/// open where the text ends; nothing for a text whose tags pair, or where they cannot be told.
/// Slower than the parser: only for texts that it refused.
std::optional<XmlFault> find_unpaired(std::string_view text);

/// The tag that the text breaks off in, if it does.
std::optional<XmlFault> find_cut_tag(std::string_view text);

}  // namespace yubifu::musicxml
