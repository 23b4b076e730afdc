// Options of check, compare and tidy.
#include "cli/proof_options.h"

#include <charconv>
#include <string_view>

#include "base/message.h"
#include "base/word_table.h"
#include "cli/all_rules.h"
#include "cli/option_groups.h"

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

}  // namespace yubifu::cli
