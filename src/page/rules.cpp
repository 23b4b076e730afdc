#include "page/rules.h"

namespace yubifu::page {

const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::not_fingered, &rule::too_fine, &rule::option_range, &rule::crowded,
      &rule::made_smaller, &rule::left_out, &rule::not_in_chart};
  return list;
}

}  // namespace yubifu::page
