#include <fmt/format.h>

#include "cli/all_rules.h"
#include "cli/completion_parts.h"
#include "cli/completion_scripts.h"
#include "cli/help_topics.h"

namespace yubifu::cli {
namespace {

constexpr std::string_view kHead = R"(#compdef yubifu
# Completion of yubifu in zsh, made from the program's table of options.

)";

// Loaded by name the file is the function itself; read in by hand it only defines it.
constexpr std::string_view kEnd = R"(
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then
  _yubifu "$@"
else
  compdef _yubifu yubifu
fi
)";

// In single quotes.
std::string quoted(std::string_view text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'') {
      out += "'\\''";
    } else {
      out += c;
    }
  }
  return out + '\'';
}

// "name:sentence" for _describe.
std::string described(std::string_view name, std::string_view sentence) {
  return quoted(fmt::format("{}:{}", name, escaped(sentence, "\\", "\\")));
}

std::string action(const OptionRow& row) {
  switch (value_of(row)) {
    case Value::file:
      return "_files";
    case Value::folder:
      return "_files -/";
    case Value::words:
      return fmt::format("({})", joined(row.values, " "));
    case Value::rule:
      return "_yubifu_rule";
    case Value::none:
    case Value::free:
      break;
  }
  // One space: a value is wanted, and there is nothing to offer.
  return " ";
}

// One argument of _arguments.
std::string specification(const OptionRow& row) {
  const Value value = value_of(row);
  std::string rest = fmt::format("[{}]", escaped(row.help, "[]\\", "\\"));
  if (value != Value::none) rest += fmt::format(":{}:{}", row.placeholder, action(row));
  const std::string_view equals = value == Value::none ? "" : "=";
  if (row.letter != 0) {
    return fmt::format("'(-{} --{})'{{-{}{},--{}{}}}{}", row.letter, row.name, row.letter,
                       value == Value::none ? "" : "+", row.name, equals, quoted(rest));
  }
  const std::string_view many = value == Value::rule ? "*" : "";
  return quoted(fmt::format("{}--{}{}{}", many, row.name, equals, rest));
}

std::string input_specification(const Verb& verb) {
  switch (inputs_of(verb)) {
    case Inputs::files:
      return " \\\n        '*:file:_files'";
    case Inputs::schemas:
      return fmt::format(" \\\n        '1:schema:({})'", joined(schema_names(), " "));
    case Inputs::none:
      break;
  }
  return {};
}

std::string verb_case(const Verb& verb) {
  std::string text = fmt::format(
      "    {})\n      _arguments -S '(- *)'{{-h,--help}}'[show the options of the verb]'",
      verb.name);
  for (const OptionRow* row : options_of(verb.name)) {
    text += " \\\n        " + specification(*row);
  }
  return text + input_specification(verb) + "\n      ;;\n";
}

std::string rule_function() {
  std::string text = "_yubifu_rule() {\n  local -a rules\n  if compset -P '*='; then\n";
  text += fmt::format("    compadd -- {}\n    return\n  fi\n  rules=(\n",
                      joined(check::choice_words(), " "));
  for (const base::Rule* rule : all_rules()) {
    text += fmt::format("    {}\n", described(rule->name, rule->sentence));
  }
  return text + "  )\n  _describe -t rules rule rules -S =\n}\n\n";
}

}  // namespace

std::string zsh_completion() {
  std::string text(kHead);
  text += rule_function();
  text += "_yubifu() {\n  local curcontext=$curcontext context state line ret=1\n";
  text += "  local -a verbs\n  typeset -A opt_args\n  verbs=(\n";
  for (const Verb& verb : verbs()) {
    text += fmt::format("    {}\n", described(verb.name, verb.sentence));
  }
  text += "    'help:Shows the options of a verb and an example.'\n  )\n";
  text += fmt::format(
      "  _arguments -C \\\n"
      "    '(- *)'{{-h,--help}}'[list the verbs]' \\\n"
      "    '(- *)--version[show the version]' \\\n"
      "    {} \\\n"
      "    '1: :->verb' \\\n"
      "    '*:: :->rest' && ret=0\n",
      specification(language_row()));
  text += "  case $state in\n    verb) _describe -t verbs verb verbs && ret=0; return ret ;;\n";
  text += "    rest) ;;\n    *) return ret ;;\n  esac\n";
  std::string topics;
  for (const HelpTopic& topic : help_topics()) {
    topics += (topics.empty() ? "" : " ") + described(topic.name, topic.sentence);
  }
  text += fmt::format(
      "  case $words[1] in\n"
      "    help) verbs+=({}); _describe -t verbs verb verbs ;;\n",
      topics);
  for (const Verb& verb : verbs()) text += verb_case(verb);
  text += "  esac\n}\n";
  return text.append(kEnd);
}

}  // namespace yubifu::cli
