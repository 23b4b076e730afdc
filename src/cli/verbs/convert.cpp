// The verb convert: any readable format to any writable one, one file or many.
#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/ranges.h>

#include "base/file.h"
#include "base/message.h"
#include "cli/formats.h"
#include "cli/loading.h"
#include "cli/options/option_table.h"
#include "cli/report/batch.h"
#include "cli/report/log.h"
#include "cli/report/messages.h"
#include "cli/report/summary_line.h"
#include "cli/verbs.h"
#include "fingering/summary.h"
#include "midi/rules.h"
#include "model/excerpt.h"
#include "model/play_out.h"

namespace yubifu::cli {
namespace {

using base::message;
// Why nothing is done.
using Refusal = std::string;

// What one conversion needs beyond the options: where from, where to, and which flute.
struct Conversion {
  FoundFile input;
  std::string output;
  const Format* to = nullptr;
  std::optional<model::FluteName> flute;
};

// "tune" and "tune-7.5": the name of the input with the flute where there are several.
std::string result_name(const std::string& input, const Format& to,
                        const std::optional<model::FluteName>& flute, bool several) {
  std::string name = std::filesystem::path(input).stem().string();
  if (several && flute) {
    const auto* file = std::get_if<model::FlutePath>(&*flute);
    name += "-" +
            (file != nullptr ? std::filesystem::path(file->path).stem().string() : to_text(*flute));
  }
  return name + "." + std::string(to.extensions.front());
}

std::variant<const Format*, Refusal> output_format(const Options& options) {
  if (!options.to.empty()) return find_format(options.to);
  if (!options.out_dir.empty()) {
    return message("--out-dir needs --to FORMAT: one of {}", format_names());
  }
  if (options.output == "-") return find_format("text");
  if (const Format* format = format_of_path(options.output)) return format;
  std::vector<std::string_view> all;
  for (const Format& format : formats()) {
    if (format.write != nullptr) all.push_back(format.name);
  }
  const auto refusal = wrong_ending(options.output, all);
  return refusal ? *refusal
                 : message(
                       "the name {} tells no format; end it in one of those that 'yubifu help' "
                       "lists, or say it with --to: {}",
                       options.output, format_names());
}

std::vector<std::optional<model::FluteName>> wanted_flutes(const Options& options) {
  if (options.flutes.empty()) return {std::nullopt};
  return {options.flutes.begin(), options.flutes.end()};
}

// The formats that heed the options of a group, or one of its options, which is then not as the
// others; what is not named here is for all of them.
struct Heeding {
  OptionGroup group;
  std::vector<std::string_view> formats;
  std::string_view option = {};
};

const std::vector<Heeding>& heedings() {
  static const std::vector<Heeding> list{
      {OptionGroup::page, {"svg"}, "tall"},
      {OptionGroup::staff, {"musicxml", "mxl", "svg", "html", "pdf"}, "holes"},
      {OptionGroup::sound, {"midi", "musicxml", "mxl", "svg", "html", "pdf"}, "bars"},
      {OptionGroup::layout, {"text"}},
      {OptionGroup::staff, {"musicxml", "mxl"}},
      {OptionGroup::sound, {"midi"}},
      {OptionGroup::page, {"svg", "html", "pdf"}},
  };
  return list;
}

// A complaint about the first option given that belongs to other formats than this output's: what
// the user asked for must not be passed over.
std::optional<Refusal> idle_option(const Options& options, const Format& to) {
  for (const OptionRow* row : options.given) {
    const auto& all = heedings();
    const auto heeding = std::find_if(all.begin(), all.end(), [&](const Heeding& one) {
      return one.group == row->group && (one.option.empty() || one.option == row->name);
    });
    if (heeding == all.end()) continue;
    const auto& names = heeding->formats;
    if (std::find(names.begin(), names.end(), to.name) != names.end()) continue;
    return message("--{} changes nothing in an output of the format {}; it is for {}", row->name,
                   to.name, fmt::join(names, ", "));
  }
  return std::nullopt;
}

// Pages are numbered: a.yubifu may become a-1.svg, and so would a-1.yubifu. `sources` tell which
// input becomes which output.
std::optional<Refusal> clash_of_pages(const std::map<std::string, std::string>& sources) {
  for (const auto& [output, input] : sources) {
    const std::filesystem::path path(output);
    const std::string stem = path.stem().string();
    const std::size_t end = stem.find_last_not_of("0123456789");
    if (end == std::string::npos || stem[end] != '-' || end + 1 == stem.size()) continue;
    const std::string whole = stem.substr(0, end) + path.extension().string();
    const auto other = sources.find((path.parent_path() / whole).string());
    if (other == sources.end()) continue;
    return message(
        "a page of {} and {} would both become {}; nothing was written (rename one, or take one "
        "file a score with --tall)",
        other->second, input, output);
  }
  return std::nullopt;
}

std::variant<std::vector<Conversion>, Refusal> into_folder(const Options& options,
                                                           const Format* to) {
  std::vector<Conversion> conversions;
  std::map<std::string, std::string> sources;  // output → input
  for (const FoundFile& file : find_files(options.inputs, is_tune)) {
    const std::string& input = file.path;
    if (input == "-") return message("--out-dir takes no standard input: it has no name to keep");
    for (const auto& flute : wanted_flutes(options)) {
      const std::filesystem::path name = result_name(input, *to, flute, options.flutes.size() > 1);
      const std::string output = (std::filesystem::path(options.out_dir) / name).string();
      const auto [other, fresh] = sources.emplace(output, input);
      if (!fresh) {
        return message("{} and {} would both become {}; nothing was written", other->second, input,
                       output);
      }
      conversions.push_back({file, output, to, flute});
    }
  }
  if (to->write_pages != nullptr && options.page.documents == page::SvgDocuments::one_a_page) {
    if (const auto refusal = clash_of_pages(sources)) return *refusal;
  }
  return conversions;
}

std::variant<std::vector<Conversion>, Refusal> plan(const Options& options) {
  if (options.inputs.empty()) {
    return message("convert needs an input; 'yubifu help convert' shows how it is used");
  }
  const auto format = output_format(options);
  if (const auto* refusal = std::get_if<Refusal>(&format)) return *refusal;
  const Format* to = std::get<const Format*>(format);
  if (const auto refusal = idle_option(options, *to)) return *refusal;
  if (!options.out_dir.empty()) {
    if (options.output != "-") return message("-o and --out-dir exclude each other");
    return into_folder(options, to);
  }
  if (options.inputs.size() > 1) return message("several inputs need --out-dir DIR for results");
  if (options.flutes.size() > 1) return message("several flutes need --out-dir DIR for results");
  return std::vector<Conversion>{{{options.inputs.front(), FoundBy::name, std::nullopt},
                                  options.output,
                                  to,
                                  wanted_flutes(options).front()}};
}

void explain(const fingering::Resolved& resolved, Log& log) {
  if (resolved.explained.empty()) return;
  log.add_line(
      message("Effort in points: the way through the melody with the least sum is taken (*)."));
  log.add_line(
      message("note: what the fingers ask by themselves; change: to come from the note before;"));
  log.add_line(
      message("detour: how much more the whole melody would cost with these fingers here."));
  for (const std::string& line : fingering::explanation(resolved)) log.add_line(line);
}

// Flutes come back with the repeats: the table of each flute of the played score.
std::vector<std::shared_ptr<const flute::Flute>> tables_of(const model::Score& played,
                                                           const fingering::Resolved& written) {
  std::vector<std::shared_ptr<const flute::Flute>> tables;
  for (const model::FluteInUse& in_use : played.flutes) {
    const auto& known = written.score.flutes;
    const auto same = std::find_if(known.begin(), known.end(), [&](const model::FluteInUse& one) {
      return one.name == in_use.name;
    });
    tables.push_back(written.flutes[static_cast<std::size_t>(same - known.begin())]);
  }
  return tables;
}

// Leaves only some bars; false where there are none of these numbers.
bool cut_out(const midi::BarRange& bars, fingering::Resolved& resolved,
             const base::SourceText& source, Log& log) {
  auto cut = model::excerpt(resolved.score, bars.first, bars.last);
  if (!cut) {
    const auto& measures = resolved.score.measures;
    log.add({base::report(
                midi::rule::bars_not_played, std::nullopt,
                message("there are no bars {}-{}; the bars of this score are {} to {}", bars.first,
                        bars.last, measures.front().number, measures.back().number))},
            source);
    return false;
  }
  if (!resolved.flutes.empty()) {
    const auto begin = resolved.flutes.begin() + static_cast<std::ptrdiff_t>(cut->first_flute);
    const auto count = static_cast<std::ptrdiff_t>(cut->score.flutes.size());
    resolved.flutes = {begin, begin + count};
  }
  resolved.score = std::move(cut->score);
  return true;
}

// What is written: one document, or one a page. Standard output takes only one.
base::Outcome<std::vector<std::string>> documents_of(const Format& to, const std::string& output,
                                                     const fingering::Resolved& resolved,
                                                     const Options& options) {
  if (to.write_pages != nullptr && output != "-") return to.write_pages(resolved, options);
  base::Outcome<std::string> written = to.write(resolved, options);
  base::Outcome<std::vector<std::string>> documents;
  documents.diagnostics = std::move(written.diagnostics);
  if (written.value) documents.value.emplace({std::move(*written.value)});
  return documents;
}

// One input to one output: reading, resolving, writing. Messages are complete lines: what was
// found, then one line that sums up.
JobResult convert(const Conversion& conversion, const Options& options) {
  Log log(options.strictness, options.proof.report);
  const std::string& path = conversion.input.path;
  const std::string input = input_name(path);
  log.open(input);
  if (log.add_problem(conversion.input)) return log.take();
  std::optional<Loaded> loaded = load(path, options, log);
  if (!loaded) return log.take();

  fingering::ResolveOptions resolve = resolving(options.resolve, path, loaded->source,
                                                loaded->format->origin, conversion.flute, log);
  resolve.octave = options.octave;
  if (!take_settings(loaded->score, loaded->source, options, resolve, log)) return log.take();
  auto resolved = fingering::resolve(std::move(loaded->score), resolve);
  log.add(resolved.diagnostics, loaded->source);
  if (!resolved.value || log.failed()) {
    log.raise(ExitStatus::unusable);
    return log.take();
  }
  if (options.resolve.explain != fingering::Explain::nothing) explain(*resolved.value, log);

  Options writing = options;
  if (options.repeats == Repeats::played_out) {
    auto played = model::play_out(resolved.value->score);
    log.add(played.diagnostics, loaded->source);
    if (!played.ok()) return log.take();
    resolved.value->flutes = tables_of(played.value->score, *resolved.value);
    resolved.value->score = std::move(played.value->score);
    writing.json_write.source = std::move(played.value->source);
  }
  const auto& bars = options.midi_write.practice.bars;
  if (bars && conversion.to->name != "midi" &&
      !cut_out(*bars, *resolved.value, loaded->source, log)) {
    return log.take();
  }
  move_flutes(resolved.value->score, folder_of(path), folder_of(conversion.output));
  const base::Outcome<std::vector<std::string>> written =
      documents_of(*conversion.to, conversion.output, *resolved.value, writing);
  log.add(written.diagnostics, loaded->source);
  if (!written.ok()) return log.take();

  const std::vector<std::string> paths = document_paths(conversion.output, written.value->size());
  for (std::size_t i = 0; i < paths.size(); ++i) {
    log.add(base::write_file(paths[i], (*written.value)[i]),
            base::SourceText(output_name(paths[i]), {}));
  }
  if (log.failed()) return log.take();
  std::string output = output_name(paths.front());
  if (paths.size() > 1) output += message(" to {}", output_name(paths.back()));
  log.add_line(bars && conversion.to->name == "midi"
                   ? summary_line(input, output, *resolved.value, *bars)
                   : summary_line(input, output, *resolved.value));
  return log.take();
}

}  // namespace

ExitStatus run_convert(const Options& options) {
  const auto planned = plan(options);
  if (const auto* refusal = std::get_if<Refusal>(&planned)) return refuse(*refusal);
  if (!options.out_dir.empty()) {
    std::error_code error;
    std::filesystem::create_directories(options.out_dir, error);
    if (error) {
      return refuse(message("cannot make the folder {}: {}", options.out_dir, error.message()));
    }
  }
  std::vector<Job> jobs;
  for (const Conversion& conversion : std::get<std::vector<Conversion>>(planned)) {
    jobs.push_back([&options, conversion] { return convert(conversion, options); });
  }
  const JobsDone done = run_jobs(jobs, options.jobs);
  const bool output_taken = options.out_dir.empty() && options.output == "-";
  return finish_report(options, "convert", done.status, done.reports,
                       output_taken ? ReportTarget::standard_error : ReportTarget::standard_output);
}

}  // namespace yubifu::cli
