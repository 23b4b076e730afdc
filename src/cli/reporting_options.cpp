// Options for messages and the exit status.
#include "cli/option_groups.h"

namespace yubifu::cli {
std::vector<OptionRow> reporting_options() {
  return {
      {"strict",
       0,
       "",
       OptionGroup::reporting,
       {"convert", "annotate"},
       "exit with status 1 when anything could not be carried over",
       [](Options& o, const std::string&) -> Complaint {
         o.strictness = Strictness::strict;
         return std::nullopt;
       }},
  };
}

}  // namespace yubifu::cli
