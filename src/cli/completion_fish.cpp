#include <fmt/format.h>

#include "cli/all_rules.h"
#include "cli/completion_parts.h"
#include "cli/completion_scripts.h"
#include "cli/help_topics.h"

namespace yubifu::cli {
namespace {

constexpr std::string_view kHead =
    R"(# Completion of yubifu in fish, made from the program's table of options.

# The verb that stands before the cursor.
function __yubifu_verb
    set -l words (commandline -opc)[2..-1]
    while set -q words[1]
        switch $words[1]
            case --language
                set -e words[1]
                set -q words[1]; and set -e words[1]
            case '--language=*'
                set -e words[1]
            case '*'
                echo $words[1]
                return
        end
    end
end

# True behind one of these verbs; without any, where the verb is still to come.
function __yubifu_at
    set -l verb (__yubifu_verb)
    if not set -q argv[1]
        test -z "$verb"
        return
    end
    contains -- "$verb" $argv
end

complete -c yubifu -f
)";

std::string quoted(std::string_view text) {
  return "'" + escaped(text, "'\\", "\\") + "'";
}

std::string action(const OptionRow& row) {
  switch (value_of(row)) {
    case Value::none:
      return {};
    case Value::file:
      return " -r -F";
    case Value::folder:
      return " -x -a '(__fish_complete_directories)'";
    case Value::words:
      return fmt::format(" -x -a '{}'", joined(row.values, " "));
    case Value::rule:
      return " -x -a '(__yubifu_rules)'";
    case Value::free:
      break;
  }
  return " -x";
}

// What stands behind the condition.
std::string option_rest(const OptionRow& row) {
  const std::string letter = row.letter == 0 ? "" : fmt::format(" -s {}", row.letter);
  return letter + fmt::format(" -l {}{} -d {}\n", row.name, action(row), quoted(row.help));
}

std::string option_line(const OptionRow& row) {
  return fmt::format("complete -c yubifu -n '__yubifu_at {}'", joined(row.verbs, " ")) +
         option_rest(row);
}

std::string verb_lines() {
  std::string text;
  const auto line = [&](std::string_view where, std::string_view name, std::string_view sentence) {
    text += fmt::format("complete -c yubifu -n '{}' -a {} -d {}\n", where, name, quoted(sentence));
  };
  for (const Verb& verb : verbs()) line("__yubifu_at", verb.name, verb.sentence);
  line("__yubifu_at", "help", "Shows the options of a verb and an example.");
  for (const Verb& verb : verbs()) line("__yubifu_at help", verb.name, verb.sentence);
  for (const HelpTopic& topic : help_topics()) line("__yubifu_at help", topic.name, topic.sentence);
  return text;
}

std::string input_lines() {
  std::string text;
  for (const Verb& verb : verbs()) {
    if (inputs_of(verb) == Inputs::files) {
      text += fmt::format("complete -c yubifu -n '__yubifu_at {}' -F\n", verb.name);
    } else if (inputs_of(verb) == Inputs::schemas) {
      text += fmt::format("complete -c yubifu -n '__yubifu_at {}' -a '{}'\n", verb.name,
                          joined(schema_names(), " "));
    }
  }
  return text;
}

std::string rule_function() {
  std::string text =
      "\n# Every rule with everything that it may be made.\nfunction __yubifu_rules\n";
  text += "    for choice in " + joined(check::choice_words(), " ") + "\n        printf '%s\\n'";
  for (const std::string_view name : rule_names())
    text += fmt::format(" \\\n            {}=$choice", name);
  return text + "\n    end\nend\n";
}

}  // namespace

std::string fish_completion() {
  std::string text(kHead);
  text += verb_lines();
  text += "complete -c yubifu -s h -l help -d 'list the verbs, or show the options of the verb'\n";
  text += "complete -c yubifu -n __yubifu_at -l version -d 'show the version'\n";
  text += "complete -c yubifu -n __yubifu_at" + option_rest(language_row());
  text += input_lines();
  text += rule_function();
  for (const OptionRow& row : option_table()) text += option_line(row);
  return text;
}

}  // namespace yubifu::cli
