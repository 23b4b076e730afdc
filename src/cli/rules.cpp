#include "cli/rules.h"

#include "base/rules.h"
#include "check/rules.h"
#include "fingering/rules.h"
#include "flute/rules.h"
#include "hearing/rules.h"
#include "midi/rules.h"
#include "model/rules.h"
#include "musicxml/rules.h"
#include "notation/rules.h"
#include "page/rules.h"
#include "scorejson/rules.h"

namespace yubifu::cli {

const std::vector<const base::Rule*>& all_rules() {
  using Rules = std::vector<const base::Rule*>;
  static const Rules all = [] {
    // What the bytes of a file show beside its score; and files and folders as such.
    const Rules content{&midi::rule::bend_not_reset, &rule::layout};
    const Rules files{&rule::unknown_format, &rule::other_format, &rule::nothing_to_check,
                      &rule::link_to_folder, &rule::list_in_list};
    Rules joined;
    for (const Rules* rules :
         {&base::rules(), &notation::rules(), &model::rules(), &flute::rules(), &fingering::rules(),
          &hearing::rules(), &check::score_rules(), &content, &check::allowance_rules(), &files,
          &check::comparison_rules(), &musicxml::rules(), &midi::rules(), &scorejson::rules(),
          &page::rules()}) {
      joined.insert(joined.end(), rules->begin(), rules->end());
    }
    return joined;
  }();
  return all;
}

const base::Rule* find_rule(std::string_view name) {
  for (const base::Rule* rule : all_rules()) {
    if (rule->name == name) return rule;
  }
  return nullptr;
}

std::vector<std::string_view> rule_names() {
  std::vector<std::string_view> names;
  for (const base::Rule* rule : all_rules()) names.push_back(rule->name);
  return names;
}

}  // namespace yubifu::cli
