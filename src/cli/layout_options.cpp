// Options for how fingering text looks.
#include "cli/option_groups.h"

namespace yubifu::cli {
std::vector<OptionRow> layout_options() {
  return {
      {"ascii",
       0,
       "",
       OptionGroup::layout,
       {"convert", "chart", "tidy"},
       "fingerings in letters and digits that any keyboard has",
       [](Options& o, const std::string&) -> Complaint {
         o.notation_write.alphabet = notation::Alphabet::ascii;
         return std::nullopt;
       }},
  };
}

}  // namespace yubifu::cli
