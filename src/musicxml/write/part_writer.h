// Writes the bars of the part, one after the other.
#pragma once

#include "musicxml/write/score_layout.h"
#include "musicxml/write/staff_plan.h"

namespace yubifu::musicxml {

/// The `<measure>` elements of a score that is laid out whole.
void write_bars(const WriterContext& context, const StaffPlan& plan, const ScoreLayout& layout);

}  // namespace yubifu::musicxml
