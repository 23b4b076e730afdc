// Diagnostics about a measure.
#pragma once

#include <optional>
#include <string>

#include "base/diagnostic.h"
#include "model/measure.h"

namespace yubifu::model {

/// Where a diagnostic about a measure stands; nothing when its source is not known.
std::optional<base::SourceRange> place_of(const Measure& measure);

/// A report that names a measure.
base::Diagnostic report_measure(const base::Rule& rule, const Measure& measure, std::string message,
                                std::string hint = {});

}  // namespace yubifu::model
