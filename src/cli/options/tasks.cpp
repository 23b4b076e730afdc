// Options of single verbs: check, compare, tidy, fit, chart and new.
#include <charconv>
#include <string_view>

#include "base/message.h"
#include "base/suggest.h"
#include "cli/options/options.h"
#include "cli/options/rows.h"
#include "cli/rules.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr double kMostCents = 1200;

// One part of a list after another: what stands before the next comma, which is taken out.
std::string_view next_part(std::string_view& rest) {
  const std::string_view part = rest.substr(0, rest.find(','));
  rest.remove_prefix(std::min(rest.size(), part.size() + 1));
  return part;
}

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
                            : check::parse_choice(part.substr(equals + 1));
    if (!choice) return message("{}=error, {}=warning, {}=note or {}=off", name, name, name, name);
    options.proof.rules[std::string(name)] = *choice;
  } while (!rest.empty());
  return std::nullopt;
}

std::vector<std::string_view> aspect_words() {
  std::vector<std::string_view> words;
  for (const check::Aspect aspect : check::every_aspect()) words.push_back(check::name(aspect));
  return words;
}

std::string aspect_names() {
  std::string names;
  for (const std::string_view word : aspect_words()) {
    if (!names.empty()) names += ", ";
    names += word;
  }
  return names;
}

Complaint set_ignored(Options& options, const std::string& value) {
  std::string_view rest = value;
  do {
    const auto aspect = check::parse_aspect(next_part(rest));
    if (!aspect) return message("one of {}, or several of them parted by commas", aspect_names());
    options.proof.compare.aspects.erase(*aspect);
  } while (!rest.empty());
  return std::nullopt;
}

Complaint set_cents(Options& options, const std::string& value) {
  double cents = 0;
  const auto [end, error] = std::from_chars(value.data(), value.data() + value.size(), cents);
  const bool whole = error == std::errc{} && end == value.data() + value.size();
  if (!whole || !(cents >= 0 && cents <= kMostCents)) {
    return message("a number of cents from 0 to {}", kMostCents);
  }
  options.proof.compare.cents = cents;
  return std::nullopt;
}

constexpr int kMostPitchNumber = 12;

std::optional<FitReport> fit_report(const std::string& text) {
  if (text == "text") return FitReport::text;
  if (text == "json") return FitReport::json;
  return std::nullopt;
}

std::optional<ChartFormat> chart_format(const std::string& text) {
  if (text == "text") return ChartFormat::text;
  if (text == "svg") return ChartFormat::svg;
  return std::nullopt;
}

std::optional<page::ChartSize> chart_size(const std::string& text) {
  if (text == "screen") return page::ChartSize::screen;
  if (text == "a4") return page::ChartSize::a4;
  if (text == "letter") return page::ChartSize::letter;
  return std::nullopt;
}

}  // namespace

std::vector<OptionRow> proof_options() {
  return {
      {"rule",
       0,
       "NAME=WHAT",
       OptionGroup::proof,
       {"check"},
       "make a rule an error, a warning, a note, or off; may be given many times",
       set_rules},
      {"rules",
       0,
       "",
       OptionGroup::proof,
       {"check"},
       "list the rules, or those named instead of files, each with a wrong and a right example",
       [](Options& o, const std::string&) -> Complaint {
         o.proof.check_task = CheckTask::list_rules;
         return std::nullopt;
       }},
      {"ignore",
       0,
       "WHAT",
       OptionGroup::proof,
       {"compare"},
       "what need not agree: pitch, onset, duration, fingering, marks, lyrics, form, header; "
       "several parted by commas",
       set_ignored,
       aspect_words()},
      {"cents",
       0,
       "N",
       OptionGroup::proof,
       {"compare"},
       "pitches nearer than this are the same; 1 by default",
       set_cents},
      {"check",
       0,
       "",
       OptionGroup::files,
       {"tidy"},
       "change nothing; show what would change, and exit with status 1 if anything would",
       [](Options& o, const std::string&) -> Complaint {
         o.proof.tidy_task = TidyTask::tell;
         return std::nullopt;
       }},
      {"in-place",
       0,
       "",
       OptionGroup::files,
       {"tidy"},
       "rewrite the files themselves, those that change",
       [](Options& o, const std::string&) -> Complaint {
         // With --check nothing is rewritten, wherever it stands.
         if (o.proof.tidy_task != TidyTask::tell) o.proof.tidy_task = TidyTask::in_place;
         return std::nullopt;
       }},
      {"report",
       0,
       "KIND",
       OptionGroup::reporting,
       {"convert", "annotate", "check", "compare"},
       "how findings are told: text (the default), json, sarif or junit",
       [](Options& o, const std::string& v) {
         return keep(check::report_kind_named(v), o.proof.report,
                     message("text, json, sarif or junit"));
       },
       {"text", "json", "sarif", "junit"}},
  };
}

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

std::vector<OptionRow> chart_options() {
  return {
      {"to",
       0,
       "FORMAT",
       OptionGroup::files,
       {"chart"},
       "text or svg, where the name of the output does not tell",
       [](Options& o, const std::string& v) {
         return keep(chart_format(v), o.chart.to, message("text or svg"));
       },
       {"text", "svg"}},
      {"score",
       0,
       "FILE",
       OptionGroup::files,
       {"chart"},
       "show only the fingerings that this score uses, on its own flute unless --flute names "
       "another",
       [](Options& o, const std::string& v) -> Complaint {
         o.chart.score = v;
         return std::nullopt;
       }},
      {"size",
       0,
       "SIZE",
       OptionGroup::page,
       {"chart"},
       "of an SVG chart: a4 (the default) or letter for paper, screen for one tall picture",
       [](Options& o, const std::string& v) {
         return keep(chart_size(v), o.chart.size, message("screen, a4 or letter"));
       },
       {"a4", "letter", "screen"}},
  };
}

}  // namespace yubifu::cli
