// Over all folders together: reports name rules, so no two rules may share a name.
#include "base/rules.h"

#include <map>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "check/rules.h"
#include "fingering/rules.h"
#include "flute/rules.h"
#include "midi/rules.h"
#include "model/rules.h"
#include "musicxml/rules.h"
#include "notation/rules.h"
#include "page/rules.h"
#include "scorejson/rules.h"

namespace yubifu {
namespace {

const std::map<std::string_view, const std::vector<const base::Rule*>*>& rules_of_folders() {
  static const std::map<std::string_view, const std::vector<const base::Rule*>*> folders{
      {"base", &base::rules()},           {"check", &check::rules()},
      {"fingering", &fingering::rules()}, {"flute", &flute::rules()},
      {"midi", &midi::rules()},           {"model", &model::rules()},
      {"musicxml", &musicxml::rules()},   {"notation", &notation::rules()},
      {"page", &page::rules()},           {"scorejson", &scorejson::rules()}};
  return folders;
}

TEST(RulesOfAllFolders, HaveNamesOfTheirOwn) {
  std::map<std::string_view, std::string_view> folder_of;
  for (const auto& [folder, rules] : rules_of_folders()) {
    EXPECT_FALSE(rules->empty()) << folder;
    for (const base::Rule* rule : *rules) {
      const auto [place, is_new] = folder_of.emplace(rule->name, folder);
      EXPECT_TRUE(is_new) << rule->name << " in " << folder << " and " << place->second;
    }
  }
}

TEST(RulesOfAllFolders, AreDescribedAndHaveExamples) {
  for (const auto& [folder, rules] : rules_of_folders()) {
    for (const base::Rule* rule : *rules) {
      EXPECT_EQ(rule->name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-"),
                std::string_view::npos)
          << folder << " " << rule->name;
      EXPECT_TRUE(rule->sentence.ends_with('.')) << folder << " " << rule->name;
      EXPECT_FALSE(rule->wrong.empty()) << folder << " " << rule->name;
      EXPECT_NE(rule->wrong, rule->right) << folder << " " << rule->name;
    }
  }
}

}  // namespace
}  // namespace yubifu
