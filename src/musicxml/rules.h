// The rules that musicxml reports.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "musicxml/annotating_rules.h"
#include "musicxml/file_rules.h"
#include "musicxml/reading_rules.h"
#include "musicxml/refusal_rules.h"
#include "musicxml/writing_rules.h"

namespace yubifu::musicxml {

/// All of them, in the order of these headers.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::musicxml
