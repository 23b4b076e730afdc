#include "cli/rules.h"

namespace yubifu::cli {

const std::vector<const base::Rule*>& content_rules() {
  static const std::vector<const base::Rule*> list{&rule::bend_not_reset, &rule::layout};
  return list;
}

const std::vector<const base::Rule*>& file_rules() {
  static const std::vector<const base::Rule*> list{&rule::unknown_format, &rule::other_format,
                                                   &rule::nothing_to_check, &rule::link_to_folder};
  return list;
}

}  // namespace yubifu::cli
