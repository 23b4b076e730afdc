// The music of a score on sheets of paper.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

/// The sheets of the music, at least one, with room for the foot, whose texts they hold; nothing
/// else that needs the number of all sheets. Reports the rules of page/rules.h; no value beside
/// errors.
base::Outcome<std::vector<Sheet>> music_sheets(const model::Score& score, const FluteList& flutes,
                                               const PageOptions& options);

}  // namespace yubifu::page
