#include <fmt/format.h>

#include "cli/all_rules.h"
#include "cli/completion_parts.h"
#include "cli/completion_scripts.h"
#include "cli/help_topics.h"

namespace yubifu::cli {
namespace {

// Needs nothing but bash itself. "=" is a word of its own to bash, and what is offered replaces
// only the part behind it.
constexpr std::string_view kHelpers =
    R"(# Completion of yubifu in bash, made from the program's table of options.

_yubifu_words() {
  COMPREPLY=($(compgen -W "$1" -- "$current"))
}

_yubifu_paths() {
  local path
  COMPREPLY=()
  while IFS= read -r path; do
    COMPREPLY+=("$path")
  done < <(compgen "$1" -- "$current")
  compopt -o filenames 2>/dev/null
}

_yubifu_rule() {
  if [[ $current == *=* ]]; then
    front+=${current%%=*}=
    current=${current#*=}
    _yubifu_words "$_yubifu_choices"
  else
    _yubifu_words "$_yubifu_rules"
    COMPREPLY=("${COMPREPLY[@]/%/=}")
    compopt -o nospace 2>/dev/null
  fi
}

)";

constexpr std::string_view kBegin = R"(
_yubifu() {
  local words=() word i last
  for ((i = 1; i <= COMP_CWORD; ++i)); do
    word=${COMP_WORDS[i]}
    last=$((${#words[@]} - 1))
    if ((last >= 0)) && [[ $word == "=" || ${words[last]} == *= ]]; then
      words[last]+=$word
    else
      words+=("$word")
    fi
  done
  last=$((${#words[@]} - 1))
  local current=${words[last]} front=
  unset "words[last]"

  local verb= option= inputs_only=
  for ((i = 0; i < last; ++i)); do
    case ${words[i]} in
      --language) ((++i)) ;;
      --language=*) ;;
      --) inputs_only=yes ;;
      *) [[ -n $verb ]] || verb=${words[i]} ;;
    esac
  done
  ((last == 0)) || option=${words[last - 1]}
  if [[ $current == --*=* ]]; then
    option=${current%%=*}
    front=$option=
    current=${current#*=}
  fi
  [[ -z $inputs_only ]] || option=

  _yubifu_reply
  if [[ $COMP_WORDBREAKS != *=* ]]; then
    COMPREPLY=("${COMPREPLY[@]/#/$front}")
  fi
}

complete -F _yubifu yubifu
)";

std::string flags_of(const OptionRow& row) {
  const std::string letter = row.letter == 0 ? "" : fmt::format("-{} | ", row.letter);
  return letter + fmt::format("--{}", row.name);
}

std::string answer(const OptionRow& row) {
  switch (value_of(row)) {
    case Value::file:
      return "_yubifu_paths -f";
    case Value::folder:
      return "_yubifu_paths -d";
    case Value::words:
      return fmt::format("_yubifu_words \"{}\"", joined(row.values, " "));
    case Value::rule:
      return "_yubifu_rule";
    case Value::none:
    case Value::free:
      break;
  }
  return {};
}

std::string value_cases(const std::vector<const OptionRow*>& rows) {
  std::string text;
  for (const OptionRow* row : rows) {
    if (value_of(*row) == Value::none) continue;
    const std::string reply = answer(*row);
    text += fmt::format("        {}) {}{}return ;;\n", flags_of(*row), reply,
                        reply.empty() ? "" : "; ");
  }
  return text;
}

std::string option_words(const std::vector<const OptionRow*>& rows) {
  std::string text;
  for (const OptionRow* row : rows) {
    if (row->letter != 0) text += fmt::format("-{} ", row->letter);
    text += fmt::format("--{} ", row->name);
  }
  return text + "--help";
}

std::string input_answer(const Verb& verb) {
  switch (inputs_of(verb)) {
    case Inputs::files:
      return "_yubifu_paths -f";
    case Inputs::schemas:
      return fmt::format("_yubifu_words \"{}\"", joined(schema_names(), " "));
    case Inputs::none:
      break;
  }
  return ":";
}

std::string verb_case(const Verb& verb) {
  const auto rows = options_of(verb.name);
  return fmt::format(
      "    {})\n"
      "      case $option in\n{}      esac\n"
      "      if [[ $current == -* && -z $inputs_only ]]; then\n"
      "        _yubifu_words \"{}\"\n"
      "      else\n"
      "        {}\n"
      "      fi\n"
      "      ;;\n",
      verb.name, value_cases(rows), option_words(rows), input_answer(verb));
}

}  // namespace

std::string bash_completion() {
  std::string text(kHelpers);
  text += fmt::format("_yubifu_choices=\"{}\"\n", joined(check::choice_words(), " "));
  text += fmt::format("_yubifu_rules=\"{}\"\n", joined(rule_names(), " "));
  const std::string names = joined(verb_names(), " ");
  std::string topics;
  for (const HelpTopic& topic : help_topics()) topics += ' ' + std::string(topic.name);
  text += fmt::format(
      "\n_yubifu_reply() {{\n"
      "  COMPREPLY=()\n"
      "  case $option in\n"
      "    --language) _yubifu_words \"{}\"; return ;;\n"
      "  esac\n"
      "  case $verb in\n"
      "    '') _yubifu_words \"{} help --help --version --language\" ;;\n"
      "    help) _yubifu_words \"{}{}\" ;;\n",
      joined(language_row().values, " "), names, names, topics);
  for (const Verb& verb : verbs()) text += verb_case(verb);
  text += "  esac\n}\n";
  return text.append(kBegin);
}

}  // namespace yubifu::cli
