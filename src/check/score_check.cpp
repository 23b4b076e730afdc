#include "check/score_check.h"

#include "check/form_checks.h"
#include "check/playing_checks.h"

namespace yubifu::check {

base::Diagnostics check_score(const fingering::Resolved& resolved, fingering::Origin origin) {
  base::Diagnostics found = check_bars(resolved.score);
  base::append(found, check_playing(resolved, origin));
  base::append(found, check_song(resolved.score, origin));
  return found;
}

}  // namespace yubifu::check
