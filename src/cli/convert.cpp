// The verb convert: any readable format to any writable one, one file or many.
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/message.h"
#include "cli/batch.h"
#include "cli/conversion.h"
#include "cli/formats.h"
#include "cli/idle_options.h"
#include "cli/messages.h"
#include "cli/report_output.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;
// Why nothing is done.
using Refusal = std::string;

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

// Of a folder. A .json there is a flute as often as a score; by its name it is taken.
bool is_tune(const std::string& path) {
  return has_reader(path) && format_of_path(path)->name != "json";
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
