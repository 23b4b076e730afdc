#include "cli/loading.h"

#include <algorithm>
#include <map>
#include <memory>
#include <system_error>
#include <utility>
#include <variant>

#include "base/file.h"
#include "base/message.h"
#include "base/rules.h"
#include "cli/rules.h"
#include "fingering/rules.h"
#include "flute/flute_file.h"

namespace yubifu::cli {
namespace {

namespace fs = std::filesystem;
using base::message;

FoundFile unreadable(const fs::path& path, std::string why) {
  return {path.string(), FoundBy::folder,
          base::report(base::rule::unreadable_file, std::nullopt, std::move(why))};
}

// Walks one folder and those in it, with a list of our own: an unreadable one ends nothing.
std::vector<FoundFile> files_in(const fs::path& top, bool (*is_wanted)(const std::string& path)) {
  std::vector<fs::path> folders{top};
  std::vector<FoundFile> found;
  const auto take = [&](const fs::directory_entry& entry) {
    // What the folder itself says of its entries is not asked for again: only links are followed.
    std::error_code failure;
    const fs::path& path = entry.path();
    const bool is_link = entry.is_symlink(failure);
    if (is_link && !entry.exists(failure)) {
      found.push_back(unreadable(path, message("this link leads nowhere")));
    } else if (is_link && entry.is_directory(failure)) {
      found.push_back({path.string(), FoundBy::folder,
                       base::report(rule::link_to_folder, std::nullopt,
                                    message("this link to a folder is not followed"),
                                    message("name the folder itself as well"))});
    } else if (entry.is_directory(failure)) {
      folders.push_back(path);
    } else if (is_wanted(path.string())) {
      found.push_back(entry.is_regular_file(failure)
                          ? FoundFile{path.string(), FoundBy::folder, std::nullopt}
                          : unreadable(path, message("this is not a file")));
    }
  };
  while (!folders.empty()) {
    const fs::path folder = std::move(folders.back());
    folders.pop_back();
    std::error_code failure;
    fs::directory_iterator entries(folder, failure);
    for (; !failure && entries != fs::directory_iterator(); entries.increment(failure)) {
      const bool is_hidden = entries->path().filename().string().starts_with('.');
      if (!is_hidden) take(*entries);
    }
    if (failure) {
      found.push_back(
          unreadable(folder, message("this folder cannot be read: {}", failure.message())));
    }
  }
  std::sort(found.begin(), found.end(),
            [](const FoundFile& a, const FoundFile& b) { return a.path < b.path; });
  return found;
}

base::Outcome<flute::Flute> read_flute(const fs::path& path, const model::FluteName& name,
                                       double tuning_hz, Log& log) {
  auto text = log.taken(base::read_file(path.string()), path.string());
  if (!text) return {};
  const base::SourceText source(path.string(), *std::move(text));
  base::Outcome<flute::Flute> flute = flute::read_flute_file(source, name, tuning_hz);
  log.add(flute.diagnostics, source);
  return {std::move(flute.value), {}};
}

// Faults of the file are told of that file; this is for the line that names it.
base::Diagnostic unusable_flute(const std::string& path, const base::SourceText& source) {
  const std::size_t at = source.text().find(path);
  return base::report(fingering::rule::flute_file_not_read,
                      at == std::string_view::npos
                          ? std::nullopt
                          : std::optional(base::SourceRange{at, at + path.size()}),
                      message("the flute file {} cannot be used", path),
                      message("what is wrong with it is told of that file"));
}

// A bare name with an unusual ending would be taken for a size.
std::string as_path_text(const fs::path& path) {
  const std::string text = path.generic_string();
  return path.has_parent_path() || path.extension() == ".json" ? text : "./" + text;
}

}  // namespace

std::vector<FoundFile> find_files(const std::vector<std::string>& names,
                                  bool (*is_wanted)(const std::string& path)) {
  std::vector<FoundFile> all;
  for (const std::string& name : names) {
    std::error_code failure;
    if (name == "-" || !fs::is_directory(name, failure)) {
      all.push_back({name, FoundBy::name, std::nullopt});
      continue;
    }
    std::vector<FoundFile> inside = files_in(name, is_wanted);
    if (inside.empty()) {
      all.push_back({name, FoundBy::name,
                     base::report(rule::nothing_to_check, std::nullopt,
                                  message("no file in this folder has a known format"))});
    }
    all.insert(all.end(), inside.begin(), inside.end());
  }
  return all;
}

std::string input_name(const std::string& path) {
  return path == "-" ? message("standard input") : path;
}

std::string output_name(const std::string& path) {
  return path == "-" ? message("standard output") : path;
}

std::optional<std::string> unwritable_output(const std::string& path) {
  if (path == "-") return std::nullopt;
  std::error_code error;
  const fs::path folder = fs::path(path).parent_path();
  if (!folder.empty() && !fs::is_directory(folder, error)) {
    return message("there is no folder {}; make it first, or choose another place with -o",
                   folder.string());
  }
  if (fs::is_directory(path, error)) {
    return message("{} is a folder; name a file in it with -o", path);
  }
  return std::nullopt;
}

bool has_fingers(const model::Score& score) {
  return std::any_of(score.notes.begin(), score.notes.end(),
                     [](const model::Note& note) { return note.tone.fingering.has_value(); });
}

std::optional<Loaded> load(const std::string& input, const Options& options, Log& log) {
  const std::string name = input_name(input);
  auto bytes = log.taken(base::read_file(input), name);
  if (!bytes) return std::nullopt;
  const Format* format = format_of_input(input, *bytes, options.from);
  if (format == nullptr || format->read == nullptr) {
    log.add({no_reader(format)}, name);
    return std::nullopt;
  }
  Reading reading = format->read(name, *std::move(bytes), options);
  log.add(reading.outcome.diagnostics, reading.source);
  if (!reading.outcome.ok()) return std::nullopt;
  return Loaded{format, std::move(reading.source), std::move(*reading.outcome.value)};
}

fs::path folder_of(const std::string& path) {
  const fs::path folder = path == "-" ? fs::path() : fs::path(path).parent_path();
  return folder.empty() ? fs::path(".") : folder;
}

fingering::FluteSupply flute_supply(fs::path folder, Log& log) {
  // Asked for again, a flute is not told of again.
  using Known = std::map<std::pair<std::string, double>, base::Outcome<flute::Flute>>;
  return [folder = std::move(folder), &log, known = std::make_shared<Known>()](
             const model::FluteName& name, double tuning_hz) {
    const auto* file = std::get_if<model::FlutePath>(&name);
    if (file == nullptr) return fingering::built_in_size(name, tuning_hz);
    const auto [place, is_new] = known->try_emplace({file->path, tuning_hz});
    if (is_new) {
      place->second = read_flute((folder / file->path).lexically_normal(), name, tuning_hz, log);
    }
    return place->second;
  };
}

fingering::ResolveOptions resolving(fingering::ResolveOptions wanted, const std::string& path,
                                    const base::SourceText& source, fingering::Origin origin,
                                    const std::optional<model::FluteName>& flute, Log& log) {
  const fs::path folder = folder_of(path);
  wanted.origin = origin;
  if (flute) wanted.flute = moved(*flute, ".", folder);
  wanted.flutes = [supply = flute_supply(folder, log), &source](const model::FluteName& name,
                                                                double tuning_hz) {
    base::Outcome<flute::Flute> found = supply(name, tuning_hz);
    if (!found.value && found.diagnostics.empty()) {
      found.diagnostics.push_back(unusable_flute(to_text(name), source));
    }
    return found;
  };
  return wanted;
}

std::optional<fingering::Resolved> fingered(Loaded& loaded, const std::string& path,
                                            const std::optional<model::FluteName>& flute,
                                            const Options& options, Log& log) {
  fingering::ResolveOptions resolve =
      resolving(options.resolve, path, loaded.source, loaded.format->origin, flute, log);
  resolve.octave = options.octave;
  if (!take_settings(loaded.score, loaded.source, options, resolve, log)) return std::nullopt;
  auto resolved = fingering::resolve(std::move(loaded.score), resolve);
  log.add(resolved.diagnostics, loaded.source);
  if (resolved.value && !log.failed()) return std::move(resolved.value);
  log.raise(ExitStatus::unusable);
  return std::nullopt;
}

model::FluteName flute_given(const Options& options, const std::vector<model::FluteName>& own,
                             Log& log) {
  if (!options.flutes.empty()) return options.flutes.front();
  model::FluteName name = own.empty() ? model::kDefaultFluteSize : own.front();
  log.add(fingering::rule::no_flute_given, "yubifu",
          own.empty() ? message("no flute is named, so size {} is taken", to_text(name))
                      : message("no flute is named, so yours is taken: {}", to_text(name)),
          message("--flute names another"));
  return name;
}

std::optional<flute::Flute> named_flute(const model::FluteName& name, double tuning_hz, Log& log) {
  auto flute = flute_supply(".", log)(name, tuning_hz);
  log.add(flute.diagnostics, to_text(name));
  if (!flute.value) log.raise(ExitStatus::unusable);
  return std::move(flute.value);
}

bool write_documents(const std::vector<std::string>& documents, const std::string& output,
                     const std::string& too_many, Log& log) {
  if (output == "-" && documents.size() > 1) {
    log.add(base::rule::unwritable_file, output_name(output), too_many,
            message("name a file with -o"));
  }
  const auto paths = document_paths(output, documents.size());
  for (std::size_t i = 0; i < documents.size() && !log.failed(); ++i) {
    log.write(paths[i], documents[i]);
  }
  return !log.failed();
}

model::FluteName moved(const model::FluteName& name, const fs::path& from, const fs::path& to) {
  const auto* file = std::get_if<model::FlutePath>(&name);
  if (file == nullptr || fs::path(file->path).is_absolute()) return name;
  std::error_code failure;
  const fs::path target = fs::absolute(from / file->path, failure).lexically_normal();
  const fs::path base = fs::absolute(to, failure).lexically_normal();
  if (failure) return name;
  const fs::path relative = target.lexically_relative(base);
  return model::FlutePath{as_path_text(relative.empty() ? target : relative)};
}

void move_flutes(model::Score& score, const fs::path& from, const fs::path& to) {
  auto line = fingering::named_flutes(score, model::kDefaultFluteSize);
  const bool any = std::any_of(line.begin(), line.end(), [](const fingering::NamedFlute& named) {
    return std::holds_alternative<model::FlutePath>(named.name);
  });
  if (!any) return;
  for (fingering::NamedFlute& named : line) named.name = moved(named.name, from, to);
  fingering::write_names(score, line);
  for (model::FluteInUse& flute : score.flutes) flute.name = moved(flute.name, from, to);
}

}  // namespace yubifu::cli
