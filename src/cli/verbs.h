// The verbs of the program: one row each.
#pragma once

#include <string_view>
#include <vector>

#include "cli/options/options.h"
#include "cli/report/messages.h"

namespace yubifu::cli {

/// One verb: a row of the table.
struct Verb {
  std::string_view name;
  std::string_view inputs;    ///< as shown behind the verb in help
  std::string_view sentence;  ///< what it does
  std::string_view example;   ///< a command line that works in the examples folder
  ExitStatus (*run)(const Options& options);
};

/// All verbs, in the order of help.
const std::vector<Verb>& verbs();

/// Their names, in the same order.
std::vector<std::string_view> verb_names();

/// Null for an unknown name.
const Verb* find_verb(std::string_view name);

/// Each does the work of one verb and prints what it has to say.
ExitStatus run_convert(const Options& options);
ExitStatus run_annotate(const Options& options);
ExitStatus run_fit(const Options& options);
ExitStatus run_chart(const Options& options);
ExitStatus run_check(const Options& options);
ExitStatus run_compare(const Options& options);
ExitStatus run_tidy(const Options& options);
ExitStatus run_gauge(const Options& options);
ExitStatus run_bind(const Options& options);
ExitStatus run_new(const Options& options);
ExitStatus run_schema(const Options& options);

}  // namespace yubifu::cli
