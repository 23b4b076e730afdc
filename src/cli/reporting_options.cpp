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
      // Taken out of the words before any option is read, so that wrong usage is told in it too.
      {"language",
       0,
       "en|ja",
       OptionGroup::reporting,
       {"convert", "annotate", "fit", "chart", "check", "compare", "tidy", "schema"},
       "language of messages; as the environment says by default",
       [](Options&, const std::string&) -> Complaint { return std::nullopt; },
       {"en", "ja"}},
  };
}

}  // namespace yubifu::cli
