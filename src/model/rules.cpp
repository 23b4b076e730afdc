#include "model/rules.h"

namespace yubifu::model {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::unpaired_repeat,     &rule::repeat_without_start, &rule::ending_without_repeat,
      &rule::ending_never_played, &rule::jump_without_target,  &rule::tie_struck_anew,
      &rule::played_too_long};
  return list;
}

}  // namespace yubifu::model
