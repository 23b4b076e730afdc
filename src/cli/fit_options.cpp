// Options of fit.
#include "cli/fit_options.h"

#include "base/message.h"
#include "cli/option_groups.h"
#include "cli/option_values.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr int kMostPitchNumber = 12;

std::optional<FitReport> fit_report(const std::string& text) {
  if (text == "text") return FitReport::text;
  if (text == "json") return FitReport::json;
  return std::nullopt;
}

}  // namespace

std::vector<OptionRow> fit_options() {
  return {
      {"any-key",
       0,
       "",
       OptionGroup::flute,
       {"fit"},
       "try the melody in every key, and show by how many semitones it moves on each flute",
       [](Options& o, const std::string&) -> Complaint {
         o.fit.keys = fingering::Keys::any;
         return std::nullopt;
       }},
      {"pitch-number",
       0,
       "N",
       OptionGroup::flute,
       {"fit"},
       "of the singer, 1 to 12 (1 is A, 4 is C): the melody is moved so that what stands at 三 "
       "sounds there",
       [](Options& o, const std::string& v) {
         return keep(whole_number(v, 1, kMostPitchNumber), o.fit.pitch_number,
                     message("a number from 1 to {}", kMostPitchNumber));
       }},
      {"report",
       0,
       "KIND",
       OptionGroup::reporting,
       {"fit"},
       "text, a table (the default), or json",
       [](Options& o, const std::string& v) {
         return keep(fit_report(v), o.fit.report, message("text or json"));
       },
       {"text", "json"}},
  };
}

}  // namespace yubifu::cli
