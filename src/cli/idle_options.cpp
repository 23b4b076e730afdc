#include "cli/idle_options.h"

#include <algorithm>
#include <array>
#include <vector>

#include <fmt/ranges.h>

#include "base/message.h"
#include "cli/option_table.h"

namespace yubifu::cli {
namespace {

// The formats that heed the options of a group; what is not named here is for all of them.
struct Heeding {
  OptionGroup group;
  std::vector<std::string_view> formats;
};

const std::vector<Heeding>& heedings() {
  static const std::vector<Heeding> list{
      {OptionGroup::layout, {"text"}},
      {OptionGroup::staff, {"musicxml", "mxl"}},
      {OptionGroup::sound, {"midi"}},
      {OptionGroup::page, {"svg", "html"}},
  };
  return list;
}

}  // namespace

bool is_given(const Options& options, std::string_view name) {
  return std::any_of(options.given.begin(), options.given.end(),
                     [&](const OptionRow* row) { return row->name == name; });
}

std::optional<std::string> idle_option(const Options& options, const Format& to) {
  // A page for the browser has its sheets in one file as it is.
  if (to.name == "html" && is_given(options, "tall")) {
    return base::message("--{} changes nothing in an output of the format {}; it is for {}", "tall",
                         to.name, "svg");
  }
  for (const OptionRow* row : options.given) {
    for (const auto& [group, names] : heedings()) {
      if (group != row->group || std::find(names.begin(), names.end(), to.name) != names.end()) {
        continue;
      }
      return base::message("--{} changes nothing in an output of the format {}; it is for {}",
                           row->name, to.name, fmt::join(names, ", "));
    }
  }
  return std::nullopt;
}

}  // namespace yubifu::cli
