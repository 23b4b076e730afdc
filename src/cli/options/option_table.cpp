#include "cli/options/option_table.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include <cxxopts.hpp>

#include "base/numbers.h"
#include "base/word_table.h"
#include "cli/options/rows.h"

namespace yubifu::cli {
namespace {

using base::message;

bool is_option(const std::string& word) {
  return word.size() > 1 && word.front() == '-';
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
  return elsewhere
             ? message("{} does not take {}; 'yubifu help {}' lists its options", verb, word, verb)
             : message("{} does not know the option {}; 'yubifu help {}' lists its options", verb,
                       word, verb);
}

cxxopts::Options definition_of(std::string_view verb) {
  cxxopts::Options definition("yubifu " + std::string(verb));
  definition.allow_unrecognised_options();
  for (const OptionRow* row : options_of(verb)) {
    const auto value =
        row->placeholder.empty()
            ? std::static_pointer_cast<cxxopts::Value>(cxxopts::value<bool>())
            : std::static_pointer_cast<cxxopts::Value>(cxxopts::value<std::string>());
    const std::string letter = row->letter == 0 ? "" : std::string{row->letter, ','};
    definition.add_options()(letter + std::string(row->name), std::string(row->help), value);
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

const std::vector<OptionRow>& option_table() {
  static const std::vector<OptionRow> table = [] {
    std::vector<OptionRow> all;
    for (auto& rows :
         {file_options(), flute_options(), reading_options(), staff_options(), sound_options(),
          layout_options(), page_options(), reporting_options(), proof_options(), task_options()}) {
      all.insert(all.end(), rows.begin(), rows.end());
    }
    return all;
  }();
  return table;
}

std::vector<const OptionRow*> options_of(std::string_view verb) {
  std::vector<const OptionRow*> rows;
  for (const OptionRow& row : option_table()) {
    if (std::find(row.verbs.begin(), row.verbs.end(), verb) != row.verbs.end()) {
      rows.push_back(&row);
    }
  }
  return rows;
}

std::string_view next_part(std::string_view& rest) {
  const std::string_view part = rest.substr(0, rest.find(','));
  rest.remove_prefix(std::min(rest.size(), part.size() + 1));
  return part;
}

std::optional<int> whole_number(std::string_view text, int least, int most) {
  if (text.starts_with('+')) text.remove_prefix(1);
  const auto value = base::whole_number(text);
  return value && *value >= least && *value <= most ? value : std::nullopt;
}

std::optional<double> tuning_hz(std::string_view text) {
  const auto value = model::parse_decimal(text);
  if (!value || *value < model::Rational(300) || *value > model::Rational(600)) {
    return std::nullopt;
  }
  return value->as_double();
}

OptionRow row(std::string_view name, std::string_view placeholder, OptionGroup group,
              std::vector<std::string_view> verbs, std::string_view help, Taken taken,
              char letter) {
  return {name, placeholder, group, std::move(verbs), help, std::move(taken), letter};
}

bool is_given(const Options& options, std::string_view name) {
  return std::any_of(options.given.begin(), options.given.end(),
                     [&](const OptionRow* row) { return row->name == name; });
}

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
        continue;
      }
      const auto file = std::find_if(words.begin(), separator, [](const std::string& one) {
        std::error_code error;
        return is_option(one) && std::filesystem::exists(one, error);
      });
      if (file == separator) return unknown_option(verb, word);
      return UsageError{message("{} is read as options; write ./{} for the file", *file, *file)};
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
