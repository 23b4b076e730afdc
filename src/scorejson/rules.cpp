#include "scorejson/rules.h"

namespace yubifu::scorejson {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{&rule::not_score_json, &rule::score_inconsistent,
                                                   &rule::onset_overflow, &rule::field_left_out};
  return list;
}

}  // namespace yubifu::scorejson
