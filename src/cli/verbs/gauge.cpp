// The verb gauge: a flute file from a recording of the flute, or from what a tuner showed.
#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>

#include <fmt/format.h>

#include "base/file.h"
#include "base/json_writer.h"
#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "cli/loading.h"
#include "cli/verbs.h"
#include "fingering/rules.h"
#include "flute/flute_file.h"
#include "hearing/measured_flute.h"
#include "hearing/rules.h"

namespace yubifu::cli {
namespace {

using base::JsonLayout;
using base::JsonWriter;
using base::message;
using hearing::MeasuredFlute;
using hearing::MeasuredSign;

// What was measured, beside the flute that it is like.
struct Gauged {
  MeasuredFlute flute;
  flute::Flute like;

  double hz(const MeasuredSign& sign) const { return hearing::concert_hz(sign.hz, flute.celsius); }
  model::Pitch pitch(const MeasuredSign& sign) const {
    return model::pitch_at(model::total_cents_of(hz(sign), like.tuning_hz()));
  }
  // Over the same sign of that flute.
  std::optional<double> cents_over_like(const MeasuredSign& sign) const {
    const auto other = like.total_cents(sign.fingering);
    return other ? std::optional(pitch(sign).total_cents() - *other) : std::nullopt;
  }
};

std::optional<std::string> wrong_gauge_usage(const Options& options) {
  if (options.inputs.size() != 1) {
    return message("gauge takes one recording or one table; 'yubifu help gauge' shows how");
  }
  if (options.report == check::ReportKind::json && options.output == "-") {
    return message("--report json goes to standard output, so name the flute file with -o");
  }
  return std::nullopt;
}

// A table is text; in recordings there are bytes that no text has.
bool is_text(const base::ByteSource& bytes) {
  std::array<char, 4096> start{};
  const std::size_t count = bytes.read(0, start.data(), start.size());
  return count > 0 && std::all_of(start.begin(), start.begin() + count, [](char c) {
           const auto byte = static_cast<unsigned char>(c);
           return byte >= 0x20 || c == '\t' || c == '\n' || c == '\r';
         });
}

// Words parted by white space or commas.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  bool inside = false;
  while (!text.empty()) {
    const base::CodePoint first = base::first_code_point(text);
    const bool parts =
        base::is_white_space(first.value) || first.value == U',' || first.value == U'、';
    if (!parts) {
      if (!inside) words.emplace_back();
      words.back() += text.substr(0, first.size);
    }
    inside = !parts;
    text.remove_prefix(first.size);
  }
  return words;
}

// The entries of the flute that --signs names; nothing after telling what is wrong.
std::optional<std::vector<std::size_t>> signs_played(const Options& options,
                                                     const flute::Flute& like) {
  if (options.gauge.signs.empty()) return hearing::upward_signs(like);
  std::vector<std::size_t> signs;
  for (const std::string& word : words_of(options.gauge.signs)) {
    const auto entry = hearing::entry_named(like, word);
    if (!entry) {
      refuse(
          message("--signs: {} is no sign of the flute {}; a flute file that has it can be named "
                  "with --like",
                  word, like.title()));
      return std::nullopt;
    }
    if (std::find(signs.begin(), signs.end(), *entry) != signs.end()) {
      refuse(message(
          "--signs: {} stands there twice; a sign may be played again at once, and is named once",
          word));
      return std::nullopt;
    }
    signs.push_back(*entry);
  }
  if (signs.empty()) refuse(message("--signs names no sign"));
  return signs.empty() ? std::nullopt : std::optional(std::move(signs));
}

model::FluteName name_of_like(const Options& options) {
  return options.gauge.like.value_or(model::FluteName(model::kDefaultFluteSize));
}

std::optional<flute::Flute> flute_it_is_like(const Options& options, Log& log) {
  const model::FluteName name = name_of_like(options);
  if (!options.gauge.like) {
    log.add(fingering::rule::no_flute_given, input_name(options.inputs.front()),
            message("signs and holes are taken from size {}", to_text(name)),
            message("--like names another flute"));
  }
  return named_flute(name, options.tuning_hz(), log);
}

// Nothing after an error, which is told.
std::vector<MeasuredSign> heard_in(base::ByteSource bytes, const std::vector<std::size_t>& signs,
                                   const flute::Flute& like, const std::string& name, Log& log) {
  auto recording = log.taken(hearing::Recording::open(std::move(bytes)), name);
  const auto tones = recording ? log.taken(hearing::hear(*recording), name) : std::nullopt;
  const auto heard = tones ? log.taken(hearing::signs_of(*tones, signs, like), name) : std::nullopt;
  return heard ? hearing::measured(*heard, like) : std::vector<MeasuredSign>();
}

std::vector<MeasuredSign> noted_in(const std::string& input, const flute::Flute& like, Log& log) {
  const std::string name = input_name(input);
  const auto bytes = log.taken(base::read_file(input), name);
  auto text = bytes ? log.taken(hearing::readings_text(*bytes), name) : std::nullopt;
  if (!text) return {};
  const base::SourceText source(name, *std::move(text));
  const auto noted = log.taken(hearing::read_readings(source, like), source);
  return noted ? hearing::measured(*noted) : std::vector<MeasuredSign>();
}

std::string title_of(const Options& options) {
  const std::string& named = options.output == "-" ? options.inputs.front() : options.output;
  const std::string stem = std::filesystem::path(named).stem().string();
  return stem.empty() || stem == "-" ? "flute" : stem;
}

// Of the recording as a file, not of where it lies.
std::string origin_of(const Options& options, bool is_table) {
  const std::string& input = options.inputs.front();
  const std::string name =
      input == "-" ? "standard input" : std::filesystem::path(input).filename().string();
  return fmt::format("{} {}", is_table ? "readings in" : "measured from the recording", name);
}

std::string signed_cents(double cents) {
  const double shown = base::rounded(cents, 10);
  return shown == 0 ? "0.0" : fmt::format("{:+.1f}", shown);
}

std::string table_of(const Gauged& gauged) {
  const std::vector<MeasuredSign>& signs = gauged.flute.signs;
  const auto cells = [&](std::string heading, auto text) {
    return column(std::move(heading), Aligned::right, signs, text);
  };
  std::vector<Column> columns{
      column(message("sign"), Aligned::left, signs,
             [](const MeasuredSign& sign) { return printed(sign.fingering); }),
      cells(message("Hz"),
            [&](const MeasuredSign& sign) { return fmt::format("{:.2f}", gauged.hz(sign)); }),
      column(message("note"), Aligned::left, signs,
             [&](const MeasuredSign& sign) {
               return to_text(model::spell_in_key(gauged.pitch(sign).key, {}));
             }),
      cells(message("cents"),
            [&](const MeasuredSign& sign) { return signed_cents(gauged.pitch(sign).cents); }),
      cells(message("from {}", gauged.like.title()), [&](const MeasuredSign& sign) {
        const auto over = gauged.cents_over_like(sign);
        return over ? signed_cents(*over) : std::string();
      })};
  const bool heard = std::any_of(signs.begin(), signs.end(),
                                 [](const MeasuredSign& sign) { return sign.seconds.has_value(); });
  if (heard) {
    columns.push_back(cells(message("steadiness"), [](const MeasuredSign& sign) {
      return sign.spread_cents ? fmt::format("±{:.1f}", *sign.spread_cents) : std::string();
    }));
    columns.push_back(cells(message("seconds"), [](const MeasuredSign& sign) {
      return sign.seconds ? fmt::format("{:.1f}-{:.1f}", sign.seconds->first, sign.seconds->second)
                          : std::string();
    }));
  }
  const auto& [title, origin, celsius, all] = gauged.flute;
  const double hz = gauged.like.tuning_hz();
  std::string text =
      signs.size() == 1
          ? message("{}: 1 sign, its note and cents at A4 = {} Hz", title, hz)
          : message("{}: {} signs, their notes and cents at A4 = {} Hz", title, signs.size(), hz);
  text += '\n';
  if (celsius) {
    text +=
        message("Measured at {} °C, shown as at {} °C", *celsius, flute::kConcertCelsius) + '\n';
  }
  return without_control_characters(text + '\n' + laid_out(columns));
}

void write_sign(JsonWriter& json, const MeasuredSign& sign, const Gauged& gauged) {
  json.begin_object(JsonLayout::one_line);
  json.key("sign").text(printed(sign.fingering));
  json.key("hz").number(base::rounded(gauged.hz(sign), 100));
  json.key("note").text(to_text(model::spell_in_key(gauged.pitch(sign).key, {})));
  json.key("cents").number(base::rounded(gauged.pitch(sign).cents, 10));
  if (const auto over = gauged.cents_over_like(sign)) {
    json.key("cents-from-like").number(base::rounded(*over, 10));
  }
  hearing::write_reading(json, sign);
  json.end_object();
}

// schemas/gauge.schema.json. Nothing gauged: no flute file was written.
std::string json_of(const std::optional<Gauged>& gauged, const Options& options,
                    const std::vector<check::FileReport>& files) {
  JsonWriter json;
  json.begin_object();
  json.key("yubifu-gauge").number(std::int64_t{1});
  json.key("input").text(input_name(options.inputs.front()));
  json.key("like").text(to_text(name_of_like(options)));
  json.key("tuning").number(options.tuning_hz());
  constexpr double kNone = std::numeric_limits<double>::quiet_NaN();  // null
  json.key("temperature").number(options.gauge.celsius.value_or(kNone));
  json.key("signs");
  json.begin_array();
  if (gauged) {
    for (const MeasuredSign& sign : gauged->flute.signs) write_sign(json, sign, *gauged);
  }
  json.end_array();
  check::write_files(json, files);
  json.end_object();
  return json.take();
}

// What converting for this flute will miss.
void tell_unnamed(const Gauged& gauged, const std::string& name, Log& log) {
  std::vector<std::string> missing;
  for (const flute::Entry& entry : gauged.like.entries()) {
    const bool has = std::any_of(
        gauged.flute.signs.begin(), gauged.flute.signs.end(),
        [&](const MeasuredSign& sign) { return sign.fingering == fingering_of(entry); });
    if (!has) missing.push_back(printed(entry));
  }
  if (missing.empty()) return;
  log.add(hearing::rule::signs_unnamed, name,
          message("not in the flute file: {}", fmt::join(missing, " ")),
          message("tunes that need them can be fingered once they are measured"));
}

// Writes it where it belongs, once it is read again as any flute file is.
void write(const Gauged& gauged, const Options& options, Log& log) {
  const base::SourceText file(output_name(options.output),
                              hearing::flute_file_text(gauged.flute, gauged.like));
  const auto flute = log.taken(
      flute::read_flute_file(file, model::FlutePath{options.output}, gauged.like.tuning_hz()),
      file);
  if (!flute || !log.write(options.output, file.text())) return;
  const auto& entries = flute->entries();
  const bool loud = std::any_of(entries.begin(), entries.end(), [&](const flute::Entry& entry) {
    return is_loud(*flute, fingering_of(entry));
  });
  if (loud) log.add_line(flute::hearing_caution());
}

// Nothing where no flute file is written; what keeps it from that is told.
std::optional<Gauged> gauge(const Options& options, Log& log) {
  const std::string& input = options.inputs.front();
  const std::string name = input_name(input);
  log.open(name);
  auto like = flute_it_is_like(options, log);
  if (!like) return std::nullopt;
  const auto signs = signs_played(options, *like);
  auto bytes = log.taken(base::open_file(input), name);
  if (!signs) log.raise(ExitStatus::unusable);
  if (!signs || !bytes) return std::nullopt;
  const bool is_table = is_text(*bytes);
  Gauged gauged{{title_of(options), origin_of(options, is_table), options.gauge.celsius, {}},
                *std::move(like)};
  gauged.flute.signs = is_table ? noted_in(input, gauged.like, log)
                                : heard_in(*std::move(bytes), *signs, gauged.like, name, log);
  if (gauged.flute.signs.empty()) log.raise(ExitStatus::unusable);
  if (log.failed()) return std::nullopt;
  tell_unnamed(gauged, name, log);
  write(gauged, options, log);
  return log.failed() ? std::nullopt : std::optional(std::move(gauged));
}

}  // namespace

ExitStatus run_gauge(const Options& options) {
  if (const auto complaint = wrong_gauge_usage(options)) return refuse(*complaint);
  Log log(options.strictness, options.report);
  const auto gauged = gauge(options, log);
  const JobResult result = log.take();
  print_message(result.messages);
  std::string text;
  if (options.report == check::ReportKind::json) {
    text = json_of(gauged, options, result.reports);
  } else if (gauged) {
    text = table_of(*gauged);
  }
  // With the flute file on standard output the table is a message.
  if (options.output != "-" && !text.empty()) return worse(result.status, print_result(text));
  print_message(text);
  return result.status;
}

}  // namespace yubifu::cli
