#include "cli/formats.h"

#include <algorithm>
#include <filesystem>
#include <utility>

#include <fmt/ranges.h>

#include "base/message.h"
#include "base/utf8.h"
#include "base/word_table.h"
#include "cli/loading.h"
#include "cli/report/log.h"
#include "cli/rules.h"
#include "fingering/wording.h"
#include "midi/read/reader.h"
#include "midi/write/writer.h"
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/document_text.h"
#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "page/page.h"
#include "scorejson/reader.h"
#include "scorejson/writer.h"

namespace yubifu::cli {
namespace {

using Written = base::Outcome<std::vector<std::string>>;

// For messages: what is wrong with a flute file is told where it is used.
std::string signs_on(const std::string& score_path, const model::FluteName& name) {
  Log unheard(Strictness::lenient, check::ReportKind::json);
  const auto flute = flute_supply(folder_of(score_path), unheard)(name, model::kConcertPitchHz);
  return flute.value ? fingering::plain_signs(*flute.value) : std::string();
}

// What `read` makes of the text in a file; where there is none, places count in its bytes.
template <typename Read>
Reading read_from(const std::string& name, base::Outcome<std::string> text, std::string bytes,
                  const Read& read) {
  base::SourceText source(name, text.value ? *std::move(text.value) : std::move(bytes));
  if (base::has_errors(text.diagnostics)) {
    return {std::move(source), {std::nullopt, std::move(text.diagnostics)}};
  }
  auto outcome = read(source);
  base::append(text.diagnostics, std::move(outcome.diagnostics));
  return {std::move(source), {std::move(outcome.value), std::move(text.diagnostics)}};
}

Reading read_text(const std::string& name, std::string&& bytes, const Options&) {
  const auto signs = [&](const model::FluteName& flute) { return signs_on(name, flute); };
  return read_from(
      name, notation::notation_text(std::move(bytes)), {},
      [&](const base::SourceText& source) { return notation::read_notation(source, signs); });
}

Reading read_staff(const std::string& name, std::string&& bytes, const Options& options) {
  base::Outcome<std::string> text = musicxml::is_xml_text(bytes)
                                        ? base::Outcome<std::string>{std::exchange(bytes, {}), {}}
                                        : musicxml::xml_text(bytes);
  return read_from(name, std::move(text), std::move(bytes), [&](const base::SourceText& source) {
    return musicxml::read_musicxml(source, options.musicxml_read);
  });
}

Reading read_sound(const std::string& name, std::string&& bytes, const Options& options) {
  return {base::SourceText(name, {}), midi::read_midi(bytes, options.midi_read)};
}

Reading read_json(const std::string& name, std::string&& bytes, const Options&) {
  base::SourceText source(name, std::move(bytes));
  auto outcome = scorejson::read_score_json(source);
  return {std::move(source), std::move(outcome)};
}

Written one(base::Outcome<std::string> document) {
  if (!document.value) return {std::nullopt, std::move(document.diagnostics)};
  return {std::vector{*std::move(document.value)}, std::move(document.diagnostics)};
}

// By a writer with its options.
template <auto write, auto its_options>
Written write_one(const fingering::Resolved& resolved, const Options& options) {
  return one(write(resolved.score, options.*its_options));
}

Written write_container(const fingering::Resolved& resolved, const Options& options) {
  auto staff = musicxml::write_musicxml(resolved.score, options.musicxml_write);
  if (!staff.ok()) return one(std::move(staff));
  auto packed = musicxml::make_container(*staff.value);
  base::append(staff.diagnostics, std::move(packed.diagnostics));
  return one({std::move(packed.value), std::move(staff.diagnostics)});
}

Written write_sound_listing(const fingering::Resolved& resolved, const Options&) {
  return one(midi::write_listing(resolved.score));
}

template <page::PrintedAs as>
Written write_pages(const fingering::Resolved& resolved, const Options& options) {
  return page::write_pages(resolved.score, resolved.flutes, options.page, as);
}

// The first element of a page, in small letters: behind mark, comments, declaration, document type.
std::string first_element(std::string_view bytes) {
  constexpr std::size_t kHead = 4096;
  bytes = bytes.substr(0, kHead);
  if (bytes.starts_with(base::kByteOrderMark)) bytes.remove_prefix(base::kByteOrderMark.size());
  while (true) {
    bytes.remove_prefix(std::min(bytes.find_first_not_of(" \t\r\n"), bytes.size()));
    if (!bytes.starts_with("<?") && !bytes.starts_with("<!")) break;
    const std::string_view close = bytes.starts_with("<!--") ? "-->" : ">";
    const std::size_t end = bytes.find(close);
    if (end == std::string_view::npos) return {};
    bytes.remove_prefix(end + close.size());
  }
  if (!bytes.starts_with('<')) return {};
  bytes.remove_prefix(1);
  return base::lower_case(bytes.substr(0, bytes.find_first_of(" \t\r\n/>")));
}

// In UTF-16, too, which has a zero byte beside each letter; fingering text in it is none.
bool begins_like_xml(std::string_view bytes) {
  const std::string first = first_element(bytes);
  if (first == "svg" || first == "html") return false;
  for (const std::string_view mark :
       {base::kByteOrderMark, std::string_view("\xFF\xFE"), std::string_view("\xFE\xFF")}) {
    if (bytes.starts_with(mark)) bytes.remove_prefix(mark.size());
  }
  constexpr std::string_view kSpace("\0 \t\r\n", 5);
  const std::size_t start = bytes.find_first_not_of(kSpace);
  return start != std::string_view::npos && bytes[start] == '<';
}

}  // namespace

bool is_json_with(std::string_view key, std::string_view bytes) {
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && bytes[first] == '{' &&
         bytes.substr(0, 4096).find(key) != std::string_view::npos;
}

std::string extension_of(std::string_view path) {
  const std::size_t slash = path.rfind('/');
  const std::string_view file = slash == std::string_view::npos ? path : path.substr(slash + 1);
  const std::size_t dot = file.rfind('.');
  if (dot == std::string_view::npos) return {};
  return base::lower_case(file.substr(dot + 1));
}

const std::vector<Format>& formats() {
  using base::message;
  using fingering::Origin;
  static const std::vector<Format> table{
      {"text", "yubifu", "", message("fingering text, as you type it"), Origin::fingers, nullptr,
       read_text, write_one<notation::write_notation, &Options::alphabet>},
      {"musicxml", "musicxml", "xml", message("staff notation of any notation program"),
       Origin::staff, begins_like_xml, read_staff,
       write_one<musicxml::write_musicxml, &Options::musicxml_write>},
      {"mxl", "mxl", "", message("the same, compressed"), Origin::staff, musicxml::is_container,
       read_staff, write_container},
      {"midi", "mid", "midi", message("Standard MIDI File, to listen to"), Origin::sound,
       [](std::string_view bytes) {
         return bytes.starts_with("MThd") || bytes.starts_with("RIFF");
       },
       read_sound, write_one<midi::write_midi, &Options::midi_write>},
      {"json", "json", "", message("the whole score for other programs"), Origin::fingers,
       [](std::string_view bytes) { return is_json_with("\"yubifu-score\"", bytes); }, read_json,
       write_one<scorejson::write_score_json, &Options::json_write>},
      {"sound", "sound.json", "",
       message("what sounds when and how high, for programs that play it"), Origin::fingers,
       [](std::string_view bytes) { return is_json_with("\"yubifu-sound\"", bytes); }, nullptr,
       write_sound_listing},
      {"svg", "svg", "", message("the printed page, a file each"), Origin::fingers,
       [](std::string_view bytes) { return first_element(bytes) == "svg"; }, nullptr,
       write_pages<page::PrintedAs::svg>},
      {"html", "html", "htm", message("the printed page for browsers, all in one file"),
       Origin::fingers, [](std::string_view bytes) { return first_element(bytes) == "html"; },
       nullptr, write_pages<page::PrintedAs::html>},
      {"pdf", "pdf", "", message("the printed page as PDF, all in one file"), Origin::fingers,
       [](std::string_view bytes) { return bytes.starts_with("%PDF-"); }, nullptr,
       write_pages<page::PrintedAs::pdf>},
  };
  return table;
}

const Format* find_format(std::string_view name) {
  for (const Format& format : formats()) {
    if (format.name == name) return &format;
  }
  return format_of_path('.' + std::string(name));
}

const Format* format_of_path(std::string_view path) {
  const std::string name = base::lower_case(path.substr(path.rfind('/') + 1));
  const Format* found = nullptr;
  std::size_t longest = 0;  // .sound.json is more than .json
  for (const Format& format : formats()) {
    for (const std::string_view extension : {format.extension, format.other_extension}) {
      if (extension.size() <= longest || !name.ends_with('.' + std::string(extension))) continue;
      found = &format;
      longest = extension.size();
    }
  }
  return found;
}

bool has_reader(const std::string& path) {
  const Format* format = format_of_path(path);
  return format != nullptr && format->read != nullptr;
}

bool is_tune(const std::string& path) {
  return has_reader(path) && format_of_path(path)->name != "json";
}

const Format* format_of_input(std::string_view path, std::string_view bytes,
                              std::string_view from) {
  if (!from.empty()) return find_format(from);
  for (const Format& format : formats()) {
    if (format.recognises != nullptr && format.recognises(bytes)) return &format;
  }
  if (path == "-") return find_format("text");
  // Editors like to end the name of any text so.
  const bool is_score =
      extension_of(path) == "txt" &&
      notation::looks_like_notation(*notation::notation_text(std::string(bytes)).value);
  return is_score ? find_format("text") : format_of_path(path);
}

base::Diagnostic no_reader(const Format* format) {
  const std::string readable = fmt::format("{}", fmt::join(readable_format_names(), ", "));
  if (format == nullptr) {
    return base::report(rule::unknown_format, std::nullopt,
                        base::message("cannot tell the format of this file"),
                        base::message("say it with --from: {}", readable));
  }
  return base::report(
      rule::unknown_format, std::nullopt,
      base::message("this is {}, which is only written, never read", format->name),
      base::message("take the file that it was made from; {} can be read", readable));
}

std::optional<std::string> wrong_ending(const std::string& output,
                                        const std::vector<std::string_view>& writes) {
  const std::string ending = extension_of(output);
  if (output == "-" || ending.empty()) return std::nullopt;
  std::vector<std::string_view> known;
  for (const std::string_view name : writes) {
    known.push_back(find_format(name)->extension);
    known.push_back(find_format(name)->other_extension);
  }
  std::erase(known, "");
  if (std::find(known.begin(), known.end(), ending) != known.end()) return std::nullopt;
  if (ending == "txt" && writes.front() == "text") return std::nullopt;
  if (const auto near = base::nearest_word(ending, known)) {
    return base::message("the name {} tells no format: did you mean .{}?", output, *near);
  }
  return base::message("the name {} tells no format that can be written here; known endings: .{}",
                       output, fmt::join(known, " ."));
}

std::vector<std::string_view> format_names() {
  std::vector<std::string_view> names;
  for (const Format& format : formats()) names.push_back(format.name);
  return names;
}

std::vector<std::string_view> readable_format_names() {
  auto names = format_names();
  std::erase_if(names, [](std::string_view name) { return find_format(name)->read == nullptr; });
  return names;
}

std::vector<std::string> document_paths(const std::string& path, std::size_t count) {
  if (count == 1) return {path};
  const std::filesystem::path whole(path);
  std::vector<std::string> paths;
  for (std::size_t i = 1; i <= count; ++i) {
    const std::string name =
        fmt::format("{}-{}{}", whole.stem().string(), i, whole.extension().string());
    paths.push_back((whole.parent_path() / name).string());
  }
  return paths;
}

}  // namespace yubifu::cli
