#include "cli/completion.h"

#include <algorithm>
#include <set>
#include <string_view>

#include <fmt/format.h>

#include "base/message.h"
#include "cli/embedded_files.h"
#include "cli/formats.h"
#include "cli/help.h"
#include "cli/rules.h"
#include "cli/settings.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;
using base::translated;

// One command line as far as it is typed.
struct CommandLine {
  std::string current = {};     // the word to be completed
  std::string typed_verb = {};  // empty while it is still to come
  std::string option = {};      // whose value the word may be, with its dashes
  std::string front = {};       // what of the word stays: "--output="
  bool only_inputs = false;
  std::string lines = {};

  explicit CommandLine(std::vector<std::string> words) {
    if (words.empty()) words.emplace_back();
    current = std::move(words.back());
    words.pop_back();
    for (std::size_t i = 0; i < words.size(); ++i) {
      const std::string& word = words[i];
      if (word == "--") {
        only_inputs = true;
      } else if (word == "--language") {
        ++i;
      } else if (typed_verb.empty() && !word.starts_with("--language=") &&
                 word != "--no-settings") {
        typed_verb = word;
      }
    }
    if (!words.empty() && words.back().starts_with('-')) option = std::move(words.back());
    const std::size_t equals = current.find('=');
    if (current.starts_with("--") && equals != std::string::npos) {
      option = current.substr(0, equals);
      front = option + '=';
    }
    if (only_inputs) option.clear();
  }

  std::string answer() {
    if (option == "--language") {
      for (const std::string& language : languages()) offer(language);
    } else if (typed_verb.empty()) {
      offer_verbs();
      offer("help", message("Shows the options of a verb and an example."));
      offer("--help", message("list the verbs"));
      offer("--version", message("show the version"));
      const auto& table = option_table();
      const auto row = std::find_if(table.begin(), table.end(),
                                    [](const OptionRow& one) { return one.name == "language"; });
      offer("--language", translated(row->help));
    } else if (typed_verb == "help") {
      offer_verbs();
      for (const HelpTopic& topic : help_topics()) offer(topic.name, translated(topic.sentence));
    } else if (const Verb* verb = find_verb(typed_verb)) {
      answer_behind(*verb);
    }
    return std::move(lines);
  }

  void offer(std::string_view word, std::string_view meaning = {}) {
    const std::string whole = front + std::string(word);
    if (whole.starts_with(current)) lines += fmt::format("{}\t{}\n", whole, meaning);
  }

  void offer_paths(std::string_view kind) { lines += fmt::format("{}\t{}\n", kind, front); }

  void offer_verbs() {
    for (const Verb& verb : verbs()) offer(verb.name, translated(verb.sentence));
  }

  void answer_behind(const Verb& verb) {
    const auto rows = options_of(verb.name);
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const OptionRow* one) {
      return option == fmt::format("--{}", one->name) ||
             (one->letter != 0 && option == std::string{'-', one->letter});
    });
    if (row != rows.end() && value_of(**row) != Value::none) {
      offer_values(**row);
    } else if (current.starts_with('-') && !only_inputs) {
      for (const OptionRow* one : rows) {
        if (one->letter != 0) offer(std::string{'-', one->letter}, translated(one->help));
        offer(fmt::format("--{}", one->name), translated(one->help));
      }
      offer("--help", message("show the options of the verb"));
    } else if (verb.name == "schema") {
      for (const EmbeddedFile& schema : embedded_schemas()) {
        offer(schema.name.substr(0, schema.name.find('.')));
      }
    } else if (!verb.inputs.empty() && verb.name != "new") {
      offer_paths(":files");
    }
  }

  void offer_values(const OptionRow& row) {
    const Value kind = value_of(row);
    if (kind == Value::file) offer_paths(":files");
    if (kind == Value::folder) offer_paths(":folders");
    if (kind == Value::rule) offer_rules();
    if (kind != Value::words) return;
    for (const std::string_view value : row.taken.values) offer(value);
  }

  void offer_rules() {
    const std::size_t equals = current.find('=', front.size());
    if (equals == std::string::npos) {
      for (const base::Rule* rule : all_rules()) {
        offer(fmt::format("{}=", rule->name), translated(rule->sentence));
      }
      return;
    }
    front = current.substr(0, equals + 1);
    for (const std::string_view choice : check::kChoices.words()) offer(choice);
  }
};

}  // namespace

std::string completions(std::vector<std::string> words) {
  return CommandLine(std::move(words)).answer();
}

Value value_of(const OptionRow& row) {
  if (row.placeholder.empty()) return Value::none;
  if (row.name == "rule") return Value::rule;
  if (row.placeholder == "DIR") return Value::folder;
  if (row.placeholder.find("FILE") != std::string_view::npos) return Value::file;
  return row.taken.values.empty() ? Value::free : Value::words;
}

std::string listed_texts() {
  std::set<std::string> texts;
  for (const base::Rule* rule : all_rules()) texts.emplace(rule->sentence);
  for (const OptionRow& row : option_table()) texts.emplace(row.help);
  for (const auto& [group, heading] : kHeadings) texts.emplace(heading);
  for (const Verb& verb : verbs()) texts.emplace(verb.sentence);
  for (const Format& format : formats()) texts.emplace(format.sentence);
  texts.erase("");
  std::string lines;
  for (const std::string& text : texts) {
    lines += "catalogued(\"";
    for (const char c : text) {
      if (c == '"' || c == '\\') lines += '\\';
      lines += c;
    }
    lines += "\");\n";
  }
  return lines;
}

}  // namespace yubifu::cli
