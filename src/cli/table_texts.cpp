#include "cli/table_texts.h"

#include <set>

#include "cli/all_rules.h"
#include "cli/formats.h"
#include "cli/option_table.h"
#include "cli/verbs.h"

namespace yubifu::cli {

std::vector<std::string> table_texts() {
  std::set<std::string> texts;
  for (const base::Rule* rule : all_rules()) texts.emplace(rule->sentence);
  for (const OptionRow& row : option_table()) {
    texts.emplace(row.help);
    texts.emplace(heading(row.group));
  }
  for (const Verb& verb : verbs()) texts.emplace(verb.sentence);
  for (const Format& format : formats()) texts.emplace(format.sentence);
  texts.erase("");
  return {texts.begin(), texts.end()};
}

}  // namespace yubifu::cli
