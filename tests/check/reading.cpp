#include "check/reading.h"

#include <utility>

#include <gtest/gtest.h>

#include "check/findings.h"
#include "check/rules.h"
#include "fingering/rules.h"
#include "model/rules.h"
#include "notation/read/reader.h"
#include "notation/rules.h"

namespace yubifu::tests {
namespace {

std::vector<const base::Rule*> all_rules() {
  std::vector<const base::Rule*> all;
  for (const auto& list : {notation::rules(), fingering::rules(), model::rules(),
                           check::score_rules(), check::allowance_rules()}) {
    all.insert(all.end(), list.begin(), list.end());
  }
  return all;
}

}  // namespace

fingering::Resolved resolved_text(std::string_view text) {
  auto read = notation::read_notation(base::SourceText("test.yubifu", std::string(text)));
  EXPECT_TRUE(read.ok()) << text;
  auto resolved = fingering::resolve(std::move(read.value).value_or(model::Score{}), {});
  EXPECT_TRUE(resolved.ok()) << text;
  return std::move(resolved.value).value_or(fingering::Resolved{});
}

std::vector<std::string> reported(std::string_view text, base::Severity least) {
  auto read = notation::read_notation(base::SourceText("test.yubifu", std::string(text)));
  base::Diagnostics all = read.diagnostics;
  if (read.value) {
    auto resolved = fingering::resolve(*std::move(read.value), {});
    base::append(all, std::move(resolved.diagnostics));
    if (resolved.value) {
      base::append(all, check::check_score(*resolved.value, fingering::Origin::fingers));
      all = check::without_allowed(std::move(all), resolved.value->score, all_rules());
    }
  }
  std::vector<std::string> names;
  for (const base::Diagnostic& diagnostic : all) {
    if (diagnostic.severity <= least) names.emplace_back(diagnostic.rule->name);
  }
  return names;
}

}  // namespace yubifu::tests
