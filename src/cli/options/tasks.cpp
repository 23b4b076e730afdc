// Options of single verbs: check, compare, tidy, fit, chart and gauge.
#include <fmt/ranges.h>

#include "base/numbers.h"
#include "base/word_table.h"
#include "cli/options/rows.h"
#include "cli/rules.h"
#include "flute/flute_file.h"

namespace yubifu::cli {
namespace {

using base::catalogued;
using base::message;

constexpr double kMostCents = 1200;
constexpr int kMostPitchNumber = 12;

Complaint set_rules(Options& options, const std::string& value) {
  std::string_view rest = value;
  do {
    const std::string_view part = next_part(rest);
    const std::size_t equals = part.find('=');
    const std::string_view name = part.substr(0, equals);
    if (find_rule(name) == nullptr) {
      const auto meant = base::nearest_word(name, rule_names());
      return meant ? message("the name of a rule: did you mean {}?", *meant)
                   : message("the name of a rule; 'yubifu check --rules' lists them");
    }
    const auto choice = equals == std::string_view::npos
                            ? std::nullopt
                            : check::kChoices.value_of(part.substr(equals + 1));
    if (!choice) return message("{}=error, {}=warning, {}=note or {}=off", name, name, name, name);
    options.rules[std::string(name)] = *choice;
  } while (!rest.empty());
  return std::nullopt;
}

Complaint set_ignored(Options& options, const std::string& value) {
  std::string_view rest = value;
  do {
    const auto aspect = check::kAspects.value_of(next_part(rest));
    if (!aspect) {
      return message("one of {}, or several of them parted by commas",
                     fmt::join(check::kAspects.words(), ", "));
    }
    options.compare.aspects.erase(*aspect);
  } while (!rest.empty());
  return std::nullopt;
}

std::optional<double> decimal_within(std::string_view text, double least, double most) {
  const auto value = base::decimal_number(text);
  return value && *value >= least && *value <= most ? value : std::nullopt;
}

Complaint set_cents(Options& options, const std::string& text) {
  return keep(decimal_within(text, 0, kMostCents), options.compare.cents,
              message("a number of cents from 0 to {}", kMostCents));
}

std::optional<double> celsius(std::string_view text) {
  return decimal_within(text, flute::kColdestCelsius, flute::kHottestCelsius);
}

// With --check nothing is rewritten, wherever it stands.
Complaint set_in_place(Options& options, const std::string&) {
  if (options.tidy_task != TidyTask::tell) options.tidy_task = TidyTask::in_place;
  return std::nullopt;
}

}  // namespace

std::vector<OptionRow> proof_options() {
  return {
      row("rule", "NAME=WHAT", OptionGroup::proof, {"check"},
          "make a rule an error, a warning, a note, or off; may be given many times", {set_rules}),
      row("rules", "", OptionGroup::proof, {"check"},
          "list the rules, or those named instead of files, each with a wrong and a right example",
          becomes(CheckTask::list_rules, &Options::check_task)),
      row("ignore", "WHAT", OptionGroup::proof, {"compare"},
          "what need not agree: pitch, onset, duration, fingering, marks, lyrics, form, header; "
          "several parted by commas",
          {set_ignored, check::kAspects.words()}),
      row("cents", "N", OptionGroup::proof, {"compare"},
          "pitches nearer than this are the same; 1 by default", {set_cents}),
      row("check", "", OptionGroup::files, {"tidy"},
          "change nothing; show what would change, and exit with status 1 if anything would",
          becomes(TidyTask::tell, &Options::tidy_task)),
      row("in-place", "", OptionGroup::files, {"tidy"},
          "rewrite the files themselves, those that change", {set_in_place}),
      row("report", "KIND", OptionGroup::reporting, {"convert", "annotate", "check", "compare"},
          "how findings are told: text (the default), json, sarif or junit",
          read_by([](std::string_view word) { return check::kReportKinds.value_of(word); },
                  catalogued("text, json, sarif or junit"), check::kReportKinds.words(),
                  &Options::report)),
  };
}

std::vector<OptionRow> task_options() {
  constexpr auto fit = &Options::fit;
  constexpr auto chart = &Options::chart;
  constexpr auto gauge = &Options::gauge;
  return {
      row("any-key", "", OptionGroup::flute, {"fit"},
          "try the melody in every key, and show by how many semitones it moves on each flute",
          becomes(fingering::Keys::any, fit, &FitOptions::keys)),
      row("pitch-number", "N", OptionGroup::flute, {"fit"},
          "of the singer, 1 to 12 (1 is A, 4 is C): the melody is moved so that what stands at 三 "
          "sounds there",
          number(1, kMostPitchNumber, fit, &FitOptions::pitch_number)),
      row("to", "FORMAT", OptionGroup::files, {"chart"},
          "text, svg, pdf or json, where the name of the output does not tell",
          one_of<ChartFormat>({{"text", ChartFormat::text},
                               {"svg", ChartFormat::svg},
                               {"pdf", ChartFormat::pdf},
                               {"json", ChartFormat::json}},
                              catalogued("text, svg, pdf or json"), chart, &ChartOptions::to)),
      row("score", "FILE", OptionGroup::files, {"chart"},
          "show only the fingerings that this score uses, on its own flute unless --flute names "
          "another",
          text(chart, &ChartOptions::score)),
      row("size", "SIZE", OptionGroup::page, {"chart"},
          "of a chart as SVG or PDF: a4 (the default) or letter for paper, screen for one tall "
          "picture",
          one_of<page::ChartSize>({{"a4", page::ChartSize::a4},
                                   {"letter", page::ChartSize::letter},
                                   {"screen", page::ChartSize::screen}},
                                  catalogued("screen, a4 or letter"), chart, &ChartOptions::size)),
      row("like", "SIZE|FILE", OptionGroup::flute, {"gauge"},
          "the flute whose signs and holes this one has, whatever it sounds: size 1 to 13, or the "
          "path of a flute file",
          read_by(model::parse_flute_name, catalogued("a size from 1 to 13 or a flute file"), {},
                  gauge, &GaugeOptions::like)),
      row("signs", "SIGNS", OptionGroup::flute, {"gauge"},
          "what was played, in this order, such as \"筒 一 二 三\"; all plain signs upwards by "
          "default",
          text(gauge, &GaugeOptions::signs)),
      row("temperature", "CELSIUS", OptionGroup::flute, {"gauge"},
          "of the air while the flute was played; the pitches are then brought to 20 degrees",
          read_by(celsius, catalogued("degrees Celsius from -30 to 60"), {}, gauge,
                  &GaugeOptions::celsius)),
      row("report", "KIND", OptionGroup::reporting, {"fit", "gauge"},
          "text, a table (the default), or json",
          one_of<check::ReportKind>(
              {{"text", check::ReportKind::text}, {"json", check::ReportKind::json}},
              catalogued("text or json"), &Options::report)),
  };
}

}  // namespace yubifu::cli
