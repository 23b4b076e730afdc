// Partwise scores turned into timewise ones, as the format's own stylesheet does.
#pragma once

#include <string>

namespace yubifu::musicxml {

/// The same score with its measures outside and its parts inside. The text must be well-formed and
/// its parts must have the same number of measures.
std::string timewise_text(const std::string& partwise);

}  // namespace yubifu::musicxml
