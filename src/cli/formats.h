// All formats in one table: what reads them, what writes them, how they are told apart.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "cli/options/options.h"
#include "fingering/resolve.h"
#include "model/score.h"

namespace yubifu::cli {

/// A file that was read: the text that places in messages count in, and what the reader made.
struct Reading {
  base::SourceText source;
  base::Outcome<model::Score> outcome;
};

/// One format: a row of the table.
struct Format {
  std::string_view name;             ///< as --from and --to take it
  std::string_view extension;        ///< the usual one, without the dot
  std::string_view other_extension;  ///< that is read as well; empty for none
  std::string sentence;              ///< for help
  fingering::Origin origin;  ///< what stays in a score of this format when the flute changes
  /// True for bytes that can only be this format; null when it has no mark of its own.
  bool (*recognises)(std::string_view bytes);
  /// Null for formats that are only written.
  Reading (*read)(const std::string& name, std::string&& bytes, const Options& options);
  /// One document; of pages as SVG one each.
  base::Outcome<std::vector<std::string>> (*write)(const fingering::Resolved& resolved,
                                                   const Options& options);
};

/// The table, in the order in which help and messages name the formats.
const std::vector<Format>& formats();

/// By its name or one of its extensions ("midi", "mid"). Null for an unknown name.
const Format* find_format(std::string_view name);

/// Of the file a path names: without the dot, in small letters; empty where it has none.
std::string extension_of(std::string_view path);

/// Null for an unknown extension; upper case is accepted.
const Format* format_of_path(std::string_view path);

/// Whether some bytes are a JSON object that soon has a member of this name, given with its quotes.
bool is_json_with(std::string_view key, std::string_view bytes);

/// Whether a file of that name can be read.
bool has_reader(const std::string& path);

/// Whether a file of a folder is taken for a tune. A .json there is a flute as often as a score.
bool is_tune(const std::string& path);

/// The format of some bytes: the one named `from`, or without a name by what only it begins with,
/// else by the path; "-" is then taken for fingering text. Null when neither tells.
const Format* format_of_input(std::string_view path, std::string_view bytes,
                              std::string_view from = {});

/// Why nothing can be read from a file of that format, or of none that is known.
base::Diagnostic no_reader(const Format* format);

/// Why nothing is written to a file whose ending tells none of the formats that the verb writes.
/// Nothing for "-", for a name without an ending, and for fingering text in a .txt.
std::optional<std::string> wrong_ending(const std::string& output,
                                        const std::vector<std::string_view>& writes);

/// The files of `count` documents: the path itself for one, `tune-1.svg`, `tune-2.svg` … for more.
std::vector<std::string> document_paths(const std::string& path, std::size_t count);

/// The names of all formats, which all are written, and of those that can be read.
std::vector<std::string_view> format_names();
std::vector<std::string_view> readable_format_names();

}  // namespace yubifu::cli
