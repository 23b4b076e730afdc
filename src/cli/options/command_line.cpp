// From the words of a command line to Options.
#include <algorithm>
#include <filesystem>
#include <optional>
#include <system_error>

#include <cxxopts.hpp>

#include "base/message.h"
#include "base/word_table.h"
#include "cli/options/option_table.h"

namespace yubifu::cli {
namespace {

using base::message;

std::string flags_of(const OptionRow& row) {
  const std::string name(row.name);
  return row.letter == 0 ? name : std::string{row.letter, ','} + name;
}

bool is_option(const std::string& word) {
  return word.size() > 1 && word.front() == '-';
}

// The first word that begins with a dash and is the name of a file.
template <typename Words>
std::optional<std::string> file_taken_for_option(Words begin, Words end) {
  const auto found = std::find_if(begin, end, [](const std::string& word) {
    std::error_code error;
    return is_option(word) && std::filesystem::exists(word, error);
  });
  return found == end ? std::nullopt : std::optional(*found);
}

UsageError unknown_option(std::string_view verb, const std::string& word) {
  const std::string name = word.substr(std::min(word.find_first_not_of('-'), word.size()));
  std::vector<std::string_view> known;
  for (const OptionRow* row : options_of(verb)) known.push_back(row->name);
  const auto meant = base::nearest_word(name.substr(0, name.find('=')), known);
  if (meant) {
    return message("{} does not know the option {}: did you mean --{}?", verb, word, *meant);
  }
  const bool elsewhere = std::any_of(option_table().begin(), option_table().end(),
                                     [&](const OptionRow& row) { return row.name == name; });
  if (elsewhere) {
    return message("{} does not take {}; 'yubifu help {}' lists its options", verb, word, verb);
  }
  return message("{} does not know the option {}; 'yubifu help {}' lists its options", verb, word,
                 verb);
}

cxxopts::Options definition_of(std::string_view verb) {
  cxxopts::Options definition("yubifu " + std::string(verb));
  definition.allow_unrecognised_options();
  for (const OptionRow* row : options_of(verb)) {
    const auto value =
        row->placeholder.empty()
            ? std::static_pointer_cast<cxxopts::Value>(cxxopts::value<bool>())
            : std::static_pointer_cast<cxxopts::Value>(cxxopts::value<std::string>());
    definition.add_options()(flags_of(*row), std::string(row->help), value);
  }
  return definition;
}

std::optional<UsageError> store(const OptionRow& row, const cxxopts::ParseResult& parsed,
                                Options& options) {
  const std::string name(row.name);
  if (parsed.count(name) == 0) return std::nullopt;
  options.given.push_back(&row);
  if (row.placeholder.empty()) {
    if (parsed[name].as<bool>()) row.taken.set(options, {});
    return std::nullopt;
  }
  // Each time it was given: most options keep the last value, some gather them.
  for (const auto& argument : parsed.arguments()) {
    if (argument.key() != name) continue;
    if (const auto complaint = row.taken.set(options, argument.value())) {
      return message("--{} {}: expected {}", name, argument.value(), *complaint);
    }
  }
  return std::nullopt;
}

}  // namespace

std::variant<Options, UsageError> parse_command_line(std::string_view verb,
                                                     const std::vector<std::string>& words) {
  const auto separator = std::find(words.begin(), words.end(), "--");
  std::vector<const char*> arguments{"yubifu"};
  for (auto word = words.begin(); word != separator; ++word) arguments.push_back(word->c_str());

  Options options;
  try {
    cxxopts::Options definition = definition_of(verb);
    const auto parsed = definition.parse(static_cast<int>(arguments.size()), arguments.data());
    for (const std::string& word : parsed.unmatched()) {
      if (!is_option(word)) {
        options.inputs.push_back(word);
      } else if (const auto file = file_taken_for_option(words.begin(), separator)) {
        return UsageError{message("{} is read as options; write ./{} for the file", *file, *file)};
      } else {
        return unknown_option(verb, word);
      }
    }
    for (const OptionRow* row : options_of(verb)) {
      if (auto error = store(*row, parsed, options)) return *error;
    }
  } catch (const cxxopts::exceptions::exception& error) {
    return UsageError{message("{}; 'yubifu help {}' shows how it is used", error.what(), verb)};
  }
  if (separator != words.end()) {
    options.inputs.insert(options.inputs.end(), separator + 1, words.end());
  }
  return options;
}

}  // namespace yubifu::cli
