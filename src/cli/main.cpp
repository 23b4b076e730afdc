#include <algorithm>
#include <csignal>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/message.h"
#include "base/word_table.h"
#include "cli/completion.h"
#include "cli/help.h"
#include "cli/loading.h"
#include "cli/options/option_table.h"
#include "cli/report/messages.h"
#include "cli/settings.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;

ExitStatus run_help(const std::vector<std::string>& words) {
  if (words.empty()) return print_result(general_help());
  const std::string& name = words.front();
  if (const Verb* verb = find_verb(name)) return print_result(verb_help(*verb));
  if (const auto text = topic_help(name)) return print_result(*text);
  std::vector<std::string_view> known = verb_names();
  for (const HelpTopic& topic : help_topics()) known.push_back(topic.name);
  const auto meant = base::nearest_word(name, known);
  return refuse(
      meant ? message("there is no help on {}: did you mean {}?", name, *meant)
            : message("there is no help on {}; there is on {}", name, fmt::join(known, ", ")));
}

ExitStatus run(const std::vector<std::string>& words, Settings settings) {
  if (words.empty()) {
    print_message(general_help());
    return ExitStatus::unusable;
  }
  const std::string& first = words.front();
  const std::vector<std::string> rest(words.begin() + 1, words.end());
  if (first == "help" || first == "--help" || first == "-h") return run_help(rest);
  if (first == "--version") return print_result("yubifu " YUBIFU_VERSION "\n");

  const Verb* verb = find_verb(first);
  if (verb == nullptr) {
    const auto meant = base::nearest_word(first, verb_names());
    return refuse(meant ? message("there is no verb {}: did you mean {}?", first, *meant)
                        : message("there is no verb {}; 'yubifu help' lists them", first));
  }
  const auto options_end = std::find(rest.begin(), rest.end(), "--");
  const bool asks_for_help = std::any_of(rest.begin(), options_end, [](const std::string& word) {
    return word == "--help" || word == "-h";
  });
  if (asks_for_help) return print_result(verb_help(*verb));
  auto parsed = parse_command_line(first, rest);
  if (const auto* error = std::get_if<UsageError>(&parsed)) return refuse(*error);
  Options& options = std::get<Options>(parsed);
  if (const auto refusal = unwritable_output(options.output)) return refuse(*refusal);
  options.settings = std::move(settings);
  return verb->run(options);
}

ExitStatus run_in_language(std::vector<std::string> words) {
  const std::string first = words.empty() ? std::string() : words.front();
  if (first == kListTexts) return print_result(listed_texts());
  if (first == kCompleteWord) {  // what is typed is no command line yet
    speak_language(language_of_environment());
    return print_result(completions({words.begin() + 1, words.end()}));
  }
  const std::optional<std::string> wanted = take_language(words);
  const bool ignored = settings_ignored(words);
  Settings settings = ignored ? Settings() : read_settings();
  const std::string language =
      wanted.value_or(settings.language.value_or(language_of_environment()));
  const auto& known = languages();
  const bool is_known = std::find(known.begin(), known.end(), language) != known.end();
  speak_language(is_known ? language : language_of_environment());
  if (!is_known) {
    return refuse(message("--language takes {}, not '{}'", fmt::join(known, " or "), language));
  }
  // Once more for the faults, which are told in the language that has just been found.
  if (!settings.faults.empty()) settings = read_settings();
  print_message(settings.faults);
  return run(words, std::move(settings));
}

}  // namespace
}  // namespace yubifu::cli

int main(int argc, char** argv) {
  // Who closes a pipe has read enough: what is left of the work is done all the same.
  std::signal(SIGPIPE, SIG_IGN);
  std::vector<std::string> words(argv + 1, argv + argc);
  return static_cast<int>(yubifu::cli::run_in_language(std::move(words)));
}
