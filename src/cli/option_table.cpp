#include "cli/option_table.h"

#include <algorithm>

#include "base/message.h"
#include "cli/option_groups.h"

namespace yubifu::cli {

std::string_view heading(OptionGroup group) {
  switch (group) {
    case OptionGroup::files:
      return base::catalogued("Files");
    case OptionGroup::flute:
      return base::catalogued("Flute and pitch");
    case OptionGroup::choice:
      return base::catalogued("What is read");
    case OptionGroup::staff:
      return base::catalogued("Staff");
    case OptionGroup::sound:
      return base::catalogued("Sound");
    case OptionGroup::layout:
      return base::catalogued("Fingering text");
    case OptionGroup::page:
      return base::catalogued("Printed page (.svg, .html)");
    case OptionGroup::proof:
      return base::catalogued("What is looked for");
    case OptionGroup::reporting:
      return base::catalogued("Messages");
  }
  return {};
}

const std::vector<OptionRow>& option_table() {
  static const std::vector<OptionRow> table = [] {
    std::vector<OptionRow> all;
    for (auto& rows : {file_options(), flute_options(), reading_options(), staff_options(),
                       sound_options(), layout_options(), starter_options(), page_options(),
                       reporting_options(), proof_options(), fit_options(), chart_options()}) {
      all.insert(all.end(), rows.begin(), rows.end());
    }
    return all;
  }();
  return table;
}

std::vector<const OptionRow*> options_of(std::string_view verb) {
  std::vector<const OptionRow*> rows;
  for (const OptionRow& row : option_table()) {
    if (std::find(row.verbs.begin(), row.verbs.end(), verb) != row.verbs.end()) {
      rows.push_back(&row);
    }
  }
  return rows;
}

}  // namespace yubifu::cli
