// Options that say what is read, where the result goes and how it is told.
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/message.h"
#include "cli/formats.h"
#include "cli/options/rows.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr int kMostJobs = 256;

Complaint set_format(const std::string& name, const std::string& known, std::string& target) {
  const Format* format = find_format(name);
  if (format == nullptr) return message("one of {}", known);
  target = name;
  return std::nullopt;
}

bool readable(const Format& format) {
  return format.read != nullptr;
}

bool writable(const Format& format) {
  return format.write != nullptr;
}

std::vector<std::string_view> words_of_formats(bool (*wanted)(const Format&)) {
  std::vector<std::string_view> words;
  for (const Format& format : formats()) {
    if (wanted(format)) words.push_back(format.name);
  }
  return words;
}

OptionRow from_row(std::vector<std::string_view> verbs, std::string_view help) {
  return {"from",
          0,
          "FORMAT",
          OptionGroup::files,
          std::move(verbs),
          help,
          [](Options& o, const std::string& v) {
            return set_format(v, readable_format_names(), o.from);
          },
          words_of_formats(readable)};
}

}  // namespace

std::vector<OptionRow> file_options() {
  return {
      {"output",
       'o',
       "FILE",
       OptionGroup::files,
       {"convert", "annotate", "chart", "fit", "tidy", "new", "schema"},
       "where to write; - is standard output, the default",
       [](Options& o, const std::string& v) -> Complaint {
         o.output = v;
         return std::nullopt;
       }},
      {"out-dir",
       0,
       "DIR",
       OptionGroup::files,
       {"convert"},
       "a folder for the results of many inputs or flutes; each keeps its name",
       [](Options& o, const std::string& v) -> Complaint {
         o.out_dir = v;
         return std::nullopt;
       }},
      from_row({"convert", "fit", "check"},
               "format of the input, where its name and first bytes do not tell"),
      from_row({"compare"}, "format of both files, where their names and first bytes do not tell"),
      from_row({"chart"}, "format of the score, where its name and first bytes do not tell"),
      {"to",
       0,
       "FORMAT",
       OptionGroup::files,
       {"convert"},
       "format of the output, where its name does not tell",
       [](Options& o, const std::string& v) { return set_format(v, format_names(), o.to); },
       words_of_formats(writable)},
      {"jobs",
       0,
       "N",
       OptionGroup::files,
       {"convert", "check", "tidy"},
       "files to work on at the same time; as many as there are cores by default",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostJobs), o.jobs,
                     message("a number from 1 to {}", kMostJobs));
       }},
  };
}

std::vector<OptionRow> layout_options() {
  return {
      {"ascii",
       0,
       "",
       OptionGroup::layout,
       {"convert", "chart", "tidy", "new"},
       "fingerings in letters and digits that any keyboard has",
       [](Options& o, const std::string&) -> Complaint {
         o.notation_write.alphabet = notation::Alphabet::ascii;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> reporting_options() {
  return {
      {"strict",
       0,
       "",
       OptionGroup::reporting,
       {"convert", "annotate"},
       "exit with status 1 when anything could not be carried over",
       [](Options& o, const std::string&) -> Complaint {
         o.strictness = Strictness::strict;
         return std::nullopt;
       }},
      // Both are taken out of the words before any option is read, so that wrong usage is told in
      // the language that they choose.
      {"language",
       0,
       "en|ja",
       OptionGroup::reporting,
       verb_names(),
       "language of messages; as the environment says by default",
       [](Options&, const std::string&) -> Complaint { return std::nullopt; },
       {"en", "ja"}},
      {"no-settings", 0, "", OptionGroup::reporting, verb_names(),
       "pass over the settings of the player ('yubifu help settings')",
       [](Options&, const std::string&) -> Complaint { return std::nullopt; }},
  };
}

}  // namespace yubifu::cli
