#include "cli/idle_options.h"

#include <algorithm>
#include <vector>

#include <fmt/ranges.h>

#include "base/message.h"
#include "cli/option_table.h"

namespace yubifu::cli {
namespace {

// The formats that heed the options of a group, or one of its options; what is not named here is
// for all of them.
struct Heeding {
  OptionGroup group;
  std::vector<std::string_view> formats;
  std::string_view option = {};
};

const std::vector<Heeding>& heedings() {
  static const std::vector<Heeding> list{
      {OptionGroup::layout, {"text"}},      {OptionGroup::staff, {"musicxml", "mxl"}},
      {OptionGroup::sound, {"midi"}},       {OptionGroup::page, {"svg", "html"}},
      {OptionGroup::page, {"svg"}, "tall"},
  };
  return list;
}

}  // namespace

bool is_given(const Options& options, std::string_view name) {
  return std::any_of(options.given.begin(), options.given.end(),
                     [&](const OptionRow* row) { return row->name == name; });
}

std::optional<std::string> idle_option(const Options& options, const Format& to) {
  for (const OptionRow* row : options.given) {
    for (const auto& [group, names, option] : heedings()) {
      const bool is_for_row = group == row->group && (option.empty() || option == row->name);
      if (!is_for_row || std::find(names.begin(), names.end(), to.name) != names.end()) continue;
      return base::message("--{} changes nothing in an output of the format {}; it is for {}",
                           row->name, to.name, fmt::join(names, ", "));
    }
  }
  return std::nullopt;
}

}  // namespace yubifu::cli
