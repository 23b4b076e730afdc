// What a score uses of its flutes.
#pragma once

#include <memory>
#include <vector>

#include "flute/flute.h"
#include "model/score.h"
#include "page/page.h"

namespace yubifu::page {

/// A flute and every fingering that is played on it, in the order of the notes, grace notes among
/// them; a fingering may stand there many times.
struct FluteUse {
  std::shared_ptr<const flute::Flute> flute;
  std::vector<model::Fingering> fingerings;
};

/// The flutes in the order in which they first appear; one that comes back has a single entry.
/// `flutes` has one for each of Score::flutes.
std::vector<FluteUse> flutes_used(const model::Score& score, const FluteList& flutes);

}  // namespace yubifu::page
