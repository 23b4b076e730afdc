// The verb convert: any readable format to any writable one, one file or many.
#include <algorithm>
#include <map>
#include <memory>
#include <variant>

#include <fmt/ranges.h>

#include "base/message.h"
#include "cli/loading.h"
#include "cli/options/option_table.h"
#include "cli/verbs.h"
#include "midi/rules.h"
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
  return name + "." + std::string(to.extension);
}

std::variant<const Format*, Refusal> output_format(const Options& options) {
  if (!options.to.empty()) return find_format(options.to);
  if (!options.out_dir.empty()) {
    return message("--out-dir needs --to FORMAT: one of {}", fmt::join(format_names(), ", "));
  }
  if (options.output == "-") return find_format("text");
  if (const Format* format = format_of_path(options.output)) return format;
  const auto refusal = wrong_ending(options.output, format_names());
  return refusal ? *refusal
                 : message(
                       "the name {} tells no format; end it in one of those that 'yubifu help' "
                       "lists, or say it with --to: {}",
                       options.output, fmt::join(format_names(), ", "));
}

// The formats that heed the options of a group, or one of its options; others are for all formats.
struct Heeding {
  OptionGroup group;
  std::vector<std::string_view> formats;
  std::string_view option = {};
};

// Complains of the first option for other formats than this one: nothing asked for is passed over.
std::optional<Refusal> idle_option(const Options& options, const Format& to) {
  static const std::vector<Heeding> all{
      {OptionGroup::page, {"svg"}, "tall"},
      {OptionGroup::staff, {"musicxml", "mxl", "svg", "html", "pdf"}, "holes"},
      {OptionGroup::sound, {"midi", "musicxml", "mxl", "svg", "html", "pdf"}, "bars"},
      {OptionGroup::layout, {"text"}},
      {OptionGroup::staff, {"musicxml", "mxl"}},
      {OptionGroup::sound, {"midi"}},
      {OptionGroup::page, {"svg", "html", "pdf"}},
  };
  for (const OptionRow* row : options.given) {
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

// Pages are numbered: a.yubifu and a-1.yubifu may both become a-1.svg. `sources`: output → input.
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

std::optional<Refusal> into_folder(const Options& options, const Format* to,
                                   std::vector<Conversion>& conversions) {
  std::map<std::string, std::string> sources;  // output → input
  std::vector<std::optional<model::FluteName>> flutes(options.flutes.begin(), options.flutes.end());
  if (flutes.empty()) flutes.emplace_back();
  for (const FoundFile& file : find_files(options.inputs, is_tune)) {
    const std::string& input = file.path;
    if (input == "-") return message("--out-dir takes no standard input: it has no name to keep");
    for (const auto& flute : flutes) {
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
  const bool numbered =
      to->name == "svg" && options.page.documents == page::SvgDocuments::one_a_page;
  return numbered ? clash_of_pages(sources) : std::nullopt;
}

std::optional<Refusal> plan(const Options& options, std::vector<Conversion>& conversions) {
  if (options.inputs.empty()) {
    return message("convert needs an input; 'yubifu help convert' shows how it is used");
  }
  const auto format = output_format(options);
  if (const auto* refusal = std::get_if<Refusal>(&format)) return *refusal;
  const Format* to = std::get<const Format*>(format);
  if (auto refusal = idle_option(options, *to)) return refusal;
  if (!options.out_dir.empty()) {
    if (options.output != "-") return message("-o and --out-dir exclude each other");
    return into_folder(options, to, conversions);
  }
  if (options.inputs.size() > 1) return message("several inputs need --out-dir DIR for results");
  if (options.flutes.size() > 1) return message("several flutes need --out-dir DIR for results");
  const FoundFile input{options.inputs.front(), FoundBy::name, std::nullopt};
  conversions.push_back({input, options.output, to, options.flute()});
  return std::nullopt;
}

void explain(const fingering::Resolved& resolved, Log& log) {
  if (resolved.explanation.empty()) return;
  log.add_line(
      message("Effort in points: the way through the melody with the least sum is taken (*)."));
  log.add_line(
      message("note: what the fingers ask by themselves; change: to come from the note before;"));
  log.add_line(
      message("detour: how much more the whole melody would cost with these fingers here."));
  for (const std::string& line : resolved.explanation) log.add_line(line);
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
    log.add(midi::rule::bars_not_played, source.name(),
            message("there are no bars {}-{}; the bars of this score are {} to {}", bars.first,
                    bars.last, measures.front().number, measures.back().number));
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

// Reads, resolves and writes. Messages are what was found, then one line that sums up.
JobResult convert(const Conversion& conversion, const Options& options) {
  Log log(options.strictness, options.report);
  const std::string& path = conversion.input.path;
  const std::string input = input_name(path);
  log.open(input);
  if (log.add_problem(conversion.input)) return log.take();
  std::optional<Loaded> loaded = load(path, options, log);
  if (!loaded) return log.take();

  auto resolved = fingered(*loaded, path, conversion.flute, options, log);
  if (!resolved) return log.take();
  explain(*resolved, log);

  Options writing = options;
  if (options.repeats == Repeats::played_out) {
    auto played = log.taken(model::play_out(resolved->score), loaded->source);
    if (!played) return log.take();
    resolved->flutes = tables_of(played->score, *resolved);
    resolved->score = std::move(played->score);
    writing.json_write.source = std::move(played->source);
  }
  std::optional<midi::BarRange> bars = options.midi_write.practice.bars;
  if (bars && conversion.to->name != "midi") {
    if (!cut_out(*bars, *resolved, loaded->source, log)) return log.take();
    bars.reset();
  }
  move_flutes(resolved->score, folder_of(path), folder_of(conversion.output));
  // Standard output takes only one.
  if (conversion.output == "-") writing.page.documents = page::SvgDocuments::one_tall;
  const auto documents = log.taken(conversion.to->write(*resolved, writing), loaded->source);
  if (!documents) return log.take();
  const auto paths = document_paths(conversion.output, documents->size());
  for (std::size_t i = 0; i < paths.size(); ++i) log.write(paths[i], (*documents)[i]);
  if (log.failed()) return log.take();
  std::string output = output_name(paths.front());
  if (paths.size() > 1) output += message(" to {}", output_name(paths.back()));
  log.add_line(summary_line(input, output, *resolved, bars));
  return log.take();
}

}  // namespace

ExitStatus run_convert(const Options& options) {
  std::vector<Conversion> conversions;
  if (const auto refusal = plan(options, conversions)) return refuse(*refusal);
  if (!options.out_dir.empty()) {
    std::error_code error;
    std::filesystem::create_directories(options.out_dir, error);
    if (error) {
      return refuse(message("cannot make the folder {}: {}", options.out_dir, error.message()));
    }
  }
  std::vector<Job> jobs;
  for (const Conversion& conversion : conversions) {
    jobs.push_back([&] { return convert(conversion, options); });
  }
  const JobResult done = run_jobs(jobs, options.jobs);
  const bool output_taken = options.out_dir.empty() && options.output == "-";
  return finish_report(options, "convert", done.status, done.reports,
                       output_taken ? ReportTarget::standard_error : ReportTarget::standard_output);
}

}  // namespace yubifu::cli
