// Options that say what is read, where the result goes and how it is told.
#include <fmt/ranges.h>

#include "cli/formats.h"
#include "cli/options/rows.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

constexpr int kMostJobs = 256;

Taken format(const std::vector<std::string_view>& names, std::string Options::*member) {
  return {[=](Options& options, const std::string& value) {
            const bool known = find_format(value) != nullptr;
            return keep(known ? std::optional(value) : std::nullopt, options.*member,
                        base::message("one of {}", fmt::join(names, ", ")));
          },
          names};
}

OptionRow from_row(std::vector<std::string_view> verbs, std::string_view help) {
  return row("from", "FORMAT", OptionGroup::files, std::move(verbs), help,
             format(readable_format_names(), &Options::from));
}

// Taken out of the words before any option is read, so that wrong usage is told in that language.
Taken taken_before(std::vector<std::string_view> values = {}) {
  return {[](Options&, const std::string&) -> Complaint { return std::nullopt; },
          std::move(values)};
}

}  // namespace

std::vector<OptionRow> file_options() {
  constexpr OptionGroup files = OptionGroup::files;
  return {
      row("output", "FILE", files,
          {"convert", "annotate", "chart", "fit", "tidy", "gauge", "bind", "new", "schema"},
          "where to write; - is standard output, the default", text(&Options::output), 'o'),
      row("out-dir", "DIR", files, {"convert"},
          "a folder for the results of many inputs or flutes; each keeps its name",
          text(&Options::out_dir)),
      from_row({"convert", "fit", "check"},
               "format of the input, where its name and first bytes do not tell"),
      from_row({"compare"}, "format of both files, where their names and first bytes do not tell"),
      from_row({"chart"}, "format of the score, where its name and first bytes do not tell"),
      row("to", "FORMAT", files, {"convert"}, "format of the output, where its name does not tell",
          format(format_names(), &Options::to)),
      row("to", "FORMAT", files, {"bind"},
          "svg, html or pdf, where the name of the book does not tell",
          one_of<std::string>({{"svg", "svg"}, {"html", "html"}, {"pdf", "pdf"}},
                              base::catalogued("svg, html or pdf"), &Options::to)),
      row("jobs", "N", files, {"convert", "check", "tidy"},
          "files to work on at the same time; as many as there are cores by default",
          number(1, kMostJobs, &Options::jobs)),
  };
}

std::vector<OptionRow> layout_options() {
  return {
      row("ascii", "", OptionGroup::layout, {"convert", "chart", "tidy", "new"},
          "fingerings in letters and digits that any keyboard has",
          becomes(model::Alphabet::ascii, &Options::alphabet)),
      row("meter", "METER", OptionGroup::layout, {"new"},
          "such as 2/4 or 6/8, or free; 4/4 by default",
          read_by(model::parse_meter, base::catalogued("a meter such as 3/4 or 6/8, or free"), {},
                  &Options::starter, &StarterOptions::meter)),
      row("tempo", "BEATS", OptionGroup::layout, {"new"},
          "beats a minute; 80 by default. In 6/8, 9/8 and 12/8 these are dotted quarters, else "
          "words",
          read_by(
              [](const std::string& value) {
                const bool known = model::parse_tempo(value, 1).has_value();
                return known ? std::optional(value) : std::nullopt;
              },
              base::catalogued("beats a minute such as 80"), {}, &Options::starter,
              &StarterOptions::tempo)),
  };
}

std::vector<OptionRow> reporting_options() {
  return {
      row("strict", "", OptionGroup::reporting, {"convert", "annotate", "gauge", "bind"},
          "exit with status 1 when anything could not be carried over",
          becomes(Strictness::strict, &Options::strictness)),
      row("language", "en|ja", OptionGroup::reporting, verb_names(),
          "language of messages; as the environment says by default", taken_before({"en", "ja"})),
      row("no-settings", "", OptionGroup::reporting, verb_names(),
          "pass over the settings of the player ('yubifu help settings')", taken_before()),
  };
}

}  // namespace yubifu::cli
