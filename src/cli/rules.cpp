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

const std::vector<const base::Rule*>& content_rules() {
  static const std::vector<const base::Rule*> list{&midi::rule::bend_not_reset, &rule::layout};
  return list;
}

const std::vector<const base::Rule*>& file_rules() {
  static const std::vector<const base::Rule*> list{&rule::unknown_format, &rule::other_format,
                                                   &rule::nothing_to_check, &rule::link_to_folder,
                                                   &rule::list_in_list};
  return list;
}

const std::vector<const base::Rule*>& all_rules() {
  static const std::vector<const base::Rule*> all = [] {
    std::vector<const base::Rule*> joined;
    for (const auto* rules :
         {&base::rules(), &notation::rules(), &model::rules(), &flute::rules(), &fingering::rules(),
          &hearing::rules(), &check::score_rules(), &content_rules(), &check::allowance_rules(),
          &file_rules(), &check::comparison_rules(), &musicxml::rules(), &midi::rules(),
          &scorejson::rules(), &page::rules()}) {
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
