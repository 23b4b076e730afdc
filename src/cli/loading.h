// From what a command line names to files, from a file to a score for its flute, and the paths by
// which scores name flute files.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli/formats.h"
#include "cli/options/options.h"
#include "cli/report/log.h"
#include "fingering/flute_line.h"
#include "model/flute_name.h"
#include "model/score.h"

namespace yubifu::cli {

/// How a file came into the list.
enum class FoundBy {
  name,    ///< the user named it
  folder,  ///< it lies in a folder that the user named
};

/// A file to work on, or why it cannot be.
struct FoundFile {
  std::string path;  ///< "-" for standard input
  FoundBy by = FoundBy::name;
  /// Why it cannot be read: a broken link, a folder without permission, no file in a folder.
  std::optional<base::Diagnostic> problem;
};

/// The files named, and for each folder the files in it and in its folders whose name `is_wanted`,
/// in the order of their paths, without hidden names. With their problem: links to folders (not
/// followed) and to nowhere, unreadable and empty folders, wanted things that are no files.
std::vector<FoundFile> find_files(const std::vector<std::string>& names,
                                  bool (*is_wanted)(const std::string& path));

/// A file that was read without an error.
struct Loaded {
  const Format* format = nullptr;
  base::SourceText source;  ///< places in later findings count in it
  model::Score score;
};

/// How messages call an input or an output; "-" is the standard one.
std::string input_name(const std::string& path);
std::string output_name(const std::string& path);

/// Why nothing can be written to `path`: its folder is not there, or it is a folder itself.
std::optional<std::string> unwritable_output(const std::string& path);

/// Whether a score comes with the fingers of any note.
bool has_fingers(const model::Score& score);

/// Reads a file ("-": standard input) in the format that --from, its first bytes or its name tell.
/// Tells `log` what was found; without a value the log has failed.
std::optional<Loaded> load(const std::string& input, const Options& options, Log& log);

/// The folder from which flute paths of a score count: its file's, the current one for "-".
std::filesystem::path folder_of(const std::string& path);

/// Built-in sizes, and flute files from `folder`; `log`, told of their faults, must live on.
fingering::FluteSupply flute_supply(std::filesystem::path folder, Log& log);

/// How a score read from `path` is resolved: as `wanted`, for what its format keeps, with the
/// flutes of files, and with `flute`, if any, instead of its own. `source` tells the place at which
/// the score names an unusable flute (`flute-file-not-read`); it and `log` must outlive the result.
fingering::ResolveOptions resolving(fingering::ResolveOptions wanted, const std::string& path,
                                    const base::SourceText& source, fingering::Origin origin,
                                    const std::optional<model::FluteName>& flute, Log& log);

/// The score that was read from `path`, fingered to be written as the options say, for `flute`, if
/// any, or with the settings of the player. Nothing when the job is unusable, which `log` is told.
std::optional<fingering::Resolved> fingered(Loaded& loaded, const std::string& path,
                                            const std::optional<model::FluteName>& flute,
                                            const Options& options, Log& log);

/// The flute named on the command line, else the first of `own`, else size 8; the last two told.
model::FluteName flute_given(const Options& options, const std::vector<model::FluteName>& own,
                             Log& log);

/// The flute of a name from the command line. Nothing when it cannot be had, which `log` is told.
std::optional<flute::Flute> named_flute(const model::FluteName& name, double tuning_hz, Log& log);

/// Writes documents to document_paths; more than one to "-" is `too_many`. False when unusable.
bool write_documents(const std::vector<std::string>& documents, const std::string& output,
                     const std::string& too_many, Log& log);

/// A flute named from the folder `from`, as seen from `to`. Sizes and absolute paths stay.
model::FluteName moved(const model::FluteName& name, const std::filesystem::path& from,
                       const std::filesystem::path& to);

/// Renames the flute files of a score on its way from one folder to another.
void move_flutes(model::Score& score, const std::filesystem::path& from,
                 const std::filesystem::path& to);

}  // namespace yubifu::cli
