#include "cli/settings.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <system_error>
#include <utility>

#include <fmt/ranges.h>

#include "base/file.h"
#include "base/json.h"
#include "base/message.h"
#include "base/rules.h"
#include "cli/embedded_files.h"
#include "cli/loading.h"
#include "cli/options/rows.h"
#include "cli/report/log.h"
#include "cli/report/messages.h"
#include "fingering/rank.h"
#include "fingering/rules.h"

namespace yubifu::cli {
namespace {

namespace fs = std::filesystem;
using base::message;

constexpr std::string_view kIgnoringOption = "--no-settings";
constexpr std::string_view kLanguageOption = "--language";

// "ja" of "ja_JP.UTF-8"; empty when nothing is translated into it.
std::string known_language(std::string_view locale) {
  const std::string name(locale.substr(0, locale.find_first_of("_.@")));
  const auto& all = languages();
  return std::find(all.begin(), all.end(), name) == all.end() ? std::string() : name;
}

// A size as a number or as text, or the path of a file, which counts from the settings.
std::optional<model::FluteName> flute_of(const base::JsonValue& value, const fs::path& folder,
                                         base::Diagnostics& faults) {
  std::string text;
  if (const auto* number = value.as<base::JsonNumber>()) {
    text = fmt::format("{}", number->value);
  } else if (const auto* words = value.as<std::string>()) {
    text = *words;
  } else {
    base::report_json_kind(faults, value, "flutes", message("a number or a string"));
    return std::nullopt;
  }
  auto name = model::parse_flute_name(text);
  if (!name) {
    faults.push_back(base::report(
        base::rule::json_value, value.where, message("there is no flute {}", text),
        message("expected sizes from 1 to 13 such as 6, 7.5 or 6+15c, or paths of flute files")));
    return std::nullopt;
  }
  if (auto* file = std::get_if<model::FlutePath>(&*name)) {
    file->path = (folder / file->path).lexically_normal().string();
  }
  return name;
}

Settings settings_of(const base::JsonValue& value, const fs::path& folder,
                     base::Diagnostics& faults) {
  Settings settings;
  base::JsonFields fields(value, message("the settings file"), faults);
  if (!fields.is_object()) return settings;
  fields.text("$schema");
  if (const auto* flutes = fields.array("flutes")) {
    for (const base::JsonValue& flute : *flutes) {
      if (auto name = flute_of(flute, folder, faults)) settings.flutes.push_back(*std::move(name));
    }
  }
  if (const auto hz = fields.number("tuning")) {
    settings.tuning_hz = tuning_hz(fmt::format("{}", *hz));
    if (!settings.tuning_hz)
      fields.report_value("tuning", message("expected hertz from 300 to 600"));
  }
  if (const std::string* language = fields.text("language")) {
    const auto& known = languages();
    settings.language = *language;
    if (std::find(known.begin(), known.end(), *language) == known.end()) {
      fields.report_value("language", message("expected {}", fmt::join(known, " or ")));
    }
  }
  fields.report_unknown();
  return settings;
}

// Faults of the settings never stop the work: they become warnings that say what follows.
std::string told(base::Diagnostics faults, const base::SourceText& source) {
  for (base::Diagnostic& fault : faults) {
    if (fault.severity != base::Severity::error) continue;
    fault.severity = base::Severity::warning;
    const std::string follows = message("until it is mended, the settings are ignored");
    fault.hint = fault.hint.empty() ? follows : fault.hint + "; " + follows;
  }
  return printed(faults, source);
}

// The melody as it sounds, to be tried on flutes. Nothing when its song text is fingering.
std::optional<fingering::Resolved> bare_melody(const model::Score& score,
                                               const fingering::ResolveOptions& resolve) {
  fingering::ResolveOptions sounding;
  sounding.origin = resolve.origin;
  sounding.tuning_hz = resolve.tuning_hz;
  auto resolved = fingering::resolve(score, sounding);
  const bool was_annotated =
      std::any_of(resolved.diagnostics.begin(), resolved.diagnostics.end(),
                  [](const auto& one) { return one.rule == &fingering::rule::annotation_taken; });
  return was_annotated ? std::nullopt : std::move(resolved.value);
}

std::string told_choice(const Settings& settings, const model::FluteName& taken) {
  std::vector<std::string> names;
  for (const model::FluteName& name : settings.flutes) names.push_back(to_text(name));
  return names.size() == 1 ? message("no flute is named, so yours is taken: {}", to_text(taken))
                           : message("no flute is named; of yours ({}), {} suits the melody best",
                                     fmt::join(names, ", "), to_text(taken));
}

}  // namespace

const std::vector<std::string>& languages() {
  static const std::vector<std::string> list{"en", "ja"};
  return list;
}

std::optional<std::string> take_language(std::vector<std::string>& words) {
  std::optional<std::string> taken;
  for (auto word = words.begin(); word != words.end() && *word != "--";) {
    if (word->starts_with(std::string(kLanguageOption) + '=')) {
      taken = word->substr(kLanguageOption.size() + 1);
      word = words.erase(word);
    } else if (*word == kLanguageOption) {
      const auto value = std::next(word);
      taken = value == words.end() ? std::string() : *value;
      word = words.erase(word, value == words.end() ? value : std::next(value));
    } else {
      ++word;
    }
  }
  return taken;
}

std::string_view environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string_view() : value;
}

std::string language_of_environment() {
  std::string_view locale;
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
    if (locale.empty()) locale = environment(name);
  }
  const std::string_view language = locale.substr(0, locale.find('.'));
  if (language.empty() || language == "C" || language == "POSIX") return "en";
  std::string_view wanted = environment("LANGUAGE");
  while (!wanted.empty()) {
    const std::size_t end = std::min(wanted.find(':'), wanted.size());
    if (auto known = known_language(wanted.substr(0, end)); !known.empty()) return known;
    wanted.remove_prefix(std::min(end + 1, wanted.size()));
  }
  const std::string known = known_language(locale);
  return known.empty() ? "en" : known;
}

void speak_language(const std::string& language) {
  for (const EmbeddedFile& catalogue : embedded_catalogues()) {
    if (catalogue.name == language + ".mo") return base::speak(catalogue.text);
  }
  base::speak({});
}

std::string settings_path() {
  constexpr const char* kFile = "yubifu/settings.json";
  // A relative folder there is to be ignored (XDG Base Directory Specification).
  const fs::path own = environment("XDG_CONFIG_HOME");
  if (own.is_absolute()) return (own / kFile).string();
  const std::string_view windows = environment("APPDATA");
  if (!windows.empty()) return (fs::path(windows) / kFile).string();
  const std::string_view home = environment("HOME");
  return home.empty() ? std::string() : (fs::path(home) / ".config" / kFile).string();
}

bool settings_ignored(std::vector<std::string>& words) {
  const auto end = std::find(words.begin(), words.end(), "--");
  const auto kept = std::remove(words.begin(), end, kIgnoringOption);
  const bool asked = kept != end;
  words.erase(kept, end);
  return asked || !environment("CI").empty();
}

Settings read_settings() {
  const std::string path = settings_path();
  std::error_code error;
  if (path.empty() || fs::status(path, error).type() == fs::file_type::not_found) return {};
  base::Outcome<std::string> text = base::read_file(path);
  const base::SourceText source(path, text.value ? *std::move(text.value) : std::string());
  base::Diagnostics faults = std::move(text.diagnostics);
  Settings settings;
  if (faults.empty()) {
    const auto json = base::parse_json(source);
    base::append(faults, json.diagnostics);
    if (json.value) settings = settings_of(*json.value, fs::path(path).parent_path(), faults);
  }
  settings.path = path;
  if (base::has_errors(faults)) settings = {};
  settings.faults = told(std::move(faults), source);
  return settings;
}

std::optional<std::vector<flute::Flute>> own_flutes(const Settings& settings, double tuning_hz,
                                                    Log& log) {
  std::vector<flute::Flute> flutes;
  const fingering::FluteSupply supply = flute_supply(".", log);
  for (const model::FluteName& name : settings.flutes) {
    auto flute = supply(name, tuning_hz);
    if (!flute.value) {
      log.add(fingering::rule::flute_file_not_read, settings.path,
              message("the flute file {} cannot be used", to_text(name)),
              message("mend it, or take it out of these settings"));
      return std::nullopt;
    }
    flutes.push_back(*std::move(flute.value));
  }
  return flutes;
}

bool settings_serve(const model::Score& score, fingering::Origin origin) {
  return origin != fingering::Origin::fingers && !has_fingers(score);
}

bool take_settings(const model::Score& score, const base::SourceText& source,
                   const Options& options, fingering::ResolveOptions& resolve, Log& log) {
  const Settings& settings = options.settings;
  if (!settings_serve(score, resolve.origin)) return true;
  if (!resolve.tuning_hz && !score.header.tuning_hz) resolve.tuning_hz = settings.tuning_hz;
  if (resolve.flute || score.header.flute || settings.flutes.empty()) return true;
  const auto melody = bare_melody(score, resolve);
  if (!melody) return true;
  auto flutes = own_flutes(
      settings, resolve.tuning_hz.value_or(score.header.tuning_hz.value_or(model::kConcertPitchHz)),
      log);
  if (!flutes) return false;
  fingering::RankOptions ranking;
  ranking.effort = resolve.effort;
  ranking.allowed = resolve.allowed;
  ranking.move_semitones = resolve.move_semitones;
  ranking.flutes = *std::move(flutes);
  resolve.flute = fingering::rank_flutes(*melody, ranking).front().flute;
  log.add(fingering::rule::no_flute_given, source.name(), told_choice(settings, *resolve.flute),
          message("--flute names another; your flutes stand in {}", settings.path));
  return true;
}

}  // namespace yubifu::cli
