// The verb fit: which flute lets a melody lie under the fingers.
#include <algorithm>
#include <cstddef>
#include <variant>

#include <fmt/format.h>

#include "base/json_writer.h"
#include "base/message.h"
#include "cli/loading.h"
#include "cli/verbs.h"
#include "fingering/rules.h"
#include "flute/flute.h"

namespace yubifu::cli {
namespace {

using base::JsonLayout;
using base::JsonWriter;
using base::message;
using fingering::Fit;

std::string signed_number(int number) {
  return number == 0 ? "0" : fmt::format("{:+}", number);
}

// What convert is told to take that flute, word by word.
std::vector<std::string> options_for(fingering::Origin origin, const Fit& fit) {
  std::vector<std::string> words{"--flute", to_text(fit.flute)};
  // Fingers that are there already would stay.
  if (origin == fingering::Origin::fingers) words.push_back("--refinger");
  if (fit.octave != 0) words.insert(words.end(), {"--octave", std::to_string(fit.octave)});
  if (fit.moved != 0) words.insert(words.end(), {"--move", std::to_string(fit.moved)});
  return words;
}

// As it can be pasted behind the name of the program.
std::string one_line(const std::vector<std::string>& words) {
  std::string line;
  for (const std::string& word : words) {
    if (!line.empty()) line += ' ';
    const bool plain = word.find_first_of(" '\"\\$`!*?()[]{};&|<>~#") == std::string::npos;
    line += plain ? word : fmt::format("\"{}\"", word);
  }
  return line;
}

std::vector<Column> columns_of(fingering::Keys keys, fingering::Origin origin,
                               const std::vector<Fit>& fits) {
  std::vector<Column> columns;
  const auto add = [&](std::string heading, Aligned side, auto text) {
    columns.push_back(column(std::move(heading), side, fits, text));
  };
  const auto add_count = [&](std::string heading, std::size_t Fit::*count) {
    add(std::move(heading), Aligned::right,
        [=](const Fit& fit) { return std::to_string(fit.*count); });
  };
  add(message("flute"), Aligned::left, [](const Fit& fit) { return fit.title; });
  add(message("do"), Aligned::left, [](const Fit& fit) { return to_text(fit.ichi); });
  add(message("octave"), Aligned::right, [](const Fit& fit) { return signed_number(fit.octave); });
  if (keys == fingering::Keys::any) {
    add(message("semitones"), Aligned::right,
        [](const Fit& fit) { return signed_number(fit.semitones); });
  }
  add_count(message("plain"), &Fit::plain);
  add_count(message("half"), &Fit::half_usual);
  add_count(message("hard"), &Fit::half_hard);
  add_count(message("bent"), &Fit::bent);
  add_count(message("loud"), &Fit::loud);
  add_count(message("out"), &Fit::out_of_reach);
  add(message("effort"), Aligned::right,
      [](const Fit& fit) { return fmt::format("{:.1f}", fit.effort_a_note); });
  add(message("hardest bar"), Aligned::left, [](const Fit& fit) {
    return fit.hardest ? message("{} ({} points)", fit.hardest->number, fit.hardest->effort)
                       : std::string();
  });
  add(message("to take it"), Aligned::left,
      [&](const Fit& fit) { return one_line(options_for(origin, fit)); });
  add({}, Aligned::left, [](const Fit& fit) { return fit.remark; });
  return columns;
}

std::string legend(fingering::Keys keys) {
  std::string text = message(
      "do: the note of 一; octave: by which the melody moves; plain: neither half-holed nor bent;\n"
      "half: half holes in every player's hand (三メ 七メ 3メ 7メ); hard: all others; loud: third\n"
      "register, or 2,000 Hz and more; out: out of reach; effort: points a note, 150 for one that\n"
      "is out of reach; to take it: the options of convert\n");
  if (keys == fingering::Keys::any) {
    text += message("semitones: by which the melody moves beside the octave\n");
  }
  return text;
}

void write_name(JsonWriter& json, const Fit& fit) {
  if (const auto* file = std::get_if<model::FlutePath>(&fit.flute)) {
    json.key("flute").text(file->path);
    json.key("title").text(fit.title);
    return;
  }
  const auto& size = std::get<model::FluteSize>(fit.flute);
  json.key("size").number(size.size.as_double());
  if (size.cents != 0) json.key("cents").number(std::int64_t{size.cents});
}

void write_fit(JsonWriter& json, fingering::Origin origin, const Fit& fit) {
  const auto whole = [&](std::string_view key, auto value) {
    json.key(key).number(static_cast<std::int64_t>(value));
  };
  json.begin_object(JsonLayout::one_line);
  write_name(json, fit);
  json.key("do").text(to_text(fit.ichi));
  whole("pitch-number", fit.pitch_number);
  whole("octave", fit.octave);
  whole("semitones", fit.semitones);
  whole("plain", fit.plain);
  whole("half-usual", fit.half_usual);
  whole("half-hard", fit.half_hard);
  whole("bent", fit.bent);
  whole("loud", fit.loud);
  whole("out-of-reach", fit.out_of_reach);
  json.key("effort-a-note").number(fit.effort_a_note);
  json.key("hardest-bar");
  if (fit.hardest) {
    json.begin_object(JsonLayout::one_line);
    json.key("number").text(fit.hardest->number);
    whole("effort", fit.hardest->effort);
    json.end_object();
  } else {
    json.null();
  }
  json.key("options");
  json.begin_array(JsonLayout::one_line);
  for (const std::string& word : options_for(origin, fit)) json.text(word);
  json.end_array();
  if (!fit.remark.empty()) json.key("remark").text(fit.remark);
  json.end_object();
}

// A line that names the columns, one line a flute, what the columns mean.
std::string fit_table(const Options& options, fingering::Origin origin,
                      const std::vector<Fit>& fits) {
  const std::string input = input_name(options.inputs.front());
  const std::size_t notes = fits.front().notes;
  return (notes == 1 ? message("{}: 1 note, the best flute first\n\n", input)
                     : message("{}: {} notes, the best flute first\n\n", input, notes)) +
         laid_out(columns_of(options.fit.keys, origin, fits)) + '\n' + legend(options.fit.keys);
}

// schemas/fit.schema.json.
std::string fit_json(const Options& options, fingering::Origin origin,
                     const std::vector<Fit>& fits) {
  JsonWriter json;
  json.begin_object();
  json.key("yubifu-fit").number(std::int64_t{1});
  json.key("input").text(input_name(options.inputs.front()));
  json.key("notes").number(static_cast<std::int64_t>(fits.front().notes));
  json.key("fits");
  json.begin_array();
  for (const Fit& fit : fits) write_fit(json, origin, fit);
  json.end_array();
  json.end_object();
  return json.take();
}

// Why these options do not go together.
std::optional<std::string> wrong_fit_usage(const Options& options) {
  if (options.inputs.empty()) {
    return message("fit needs an input; 'yubifu help fit' shows how it is used");
  }
  if (options.inputs.size() > 1) return message("fit looks at one melody at a time");
  if (options.fit.pitch_number && options.fit.keys == fingering::Keys::any) {
    return message("--any-key and --pitch-number exclude each other");
  }
  return std::nullopt;
}

// The flutes named, or else the player's; the sizes 1 to 13 unless sizes are named; then those of
// the score that are none of these, such as one of a file. Nothing when one cannot be had.
std::optional<std::vector<flute::Flute>> flutes_to_rank(const Options& options, double tuning_hz,
                                                        const fingering::Resolved& score,
                                                        Log& log) {
  const bool names_size =
      std::any_of(options.flutes.begin(), options.flutes.end(),
                  [](const auto& name) { return std::holds_alternative<model::FluteSize>(name); });
  std::vector<flute::Flute> flutes;
  if (!names_size) flutes = fingering::whole_sizes(tuning_hz);
  const auto add = [&](const flute::Flute& flute) {
    const bool known = std::any_of(flutes.begin(), flutes.end(), [&](const flute::Flute& one) {
      return one.name() == flute.name() || one.title() == flute.title();
    });
    if (!known) flutes.push_back(flute);
  };
  for (const model::FluteName& name : options.flutes) {
    auto flute = named_flute(name, tuning_hz, log);
    if (!flute) return std::nullopt;
    flutes.push_back(*std::move(flute));
  }
  if (names_size) return flutes;
  if (options.flutes.empty()) {
    const auto own = own_flutes(options.settings, tuning_hz, log);
    if (!own) return std::nullopt;
    std::for_each(own->begin(), own->end(), add);
  }
  for (const auto& named : score.flutes) add(*named);
  return flutes;
}

std::optional<fingering::Resolved> sounding(Loaded loaded, double tuning_hz, const Options& options,
                                            Log& log) {
  namespace rule = fingering::rule;
  // A score without a flute is read for size 8 where that decides its sound or its pitch number.
  const bool decides =
      options.fit.pitch_number || loaded.format->origin == fingering::Origin::fingers;
  if (!loaded.score.header.flute && decides) {
    log.add(rule::no_flute_given, loaded.source.name(),
            message("no flute is named, so the melody is taken as one for size 8"),
            message("name the flute in the score"));
  }
  fingering::ResolveOptions resolve = resolving({}, options.inputs.front(), loaded.source,
                                                loaded.format->origin, std::nullopt, log);
  resolve.tuning_hz = tuning_hz;
  auto resolved = fingering::resolve(std::move(loaded.score), resolve);
  // That a note is out of reach, or that no flute is named, is what the ranking is about.
  std::erase_if(resolved.diagnostics, [](const base::Diagnostic& one) {
    return one.rule == &rule::out_of_reach || one.rule == &rule::no_flute_given;
  });
  log.add(resolved.diagnostics, loaded.source);
  if (log.failed()) return std::nullopt;
  return std::move(resolved.value);
}

void rank(const Options& options, Log& log) {
  std::optional<Loaded> loaded = load(options.inputs.front(), options, log);
  if (!loaded) return;
  std::optional<double> asked = options.resolve.tuning_hz;
  if (!asked) asked = loaded->score.header.tuning_hz;
  if (!asked && settings_serve(loaded->score, loaded->format->origin)) {
    asked = options.settings.tuning_hz;
  }
  const double tuning_hz = asked.value_or(model::kConcertPitchHz);
  const fingering::Origin origin = loaded->format->origin;
  const bool names_no_flute = origin == fingering::Origin::staff && !loaded->score.header.flute;
  const auto resolved = sounding(*std::move(loaded), tuning_hz, options, log);
  auto flutes = resolved ? flutes_to_rank(options, tuning_hz, *resolved, log) : std::nullopt;
  if (!flutes) {
    log.raise(ExitStatus::unusable);
    return;
  }
  fingering::RankOptions ranking;
  ranking.effort = options.resolve.effort;
  ranking.allowed = options.resolve.allowed;
  ranking.move_semitones = options.resolve.move_semitones;
  if (names_no_flute) ranking.pitches = fingering::Pitches::nominal;
  ranking.keys = options.fit.keys;
  ranking.pitch_number = options.fit.pitch_number;
  ranking.flutes = *std::move(flutes);
  if (options.flutes.empty()) ranking.preferred = options.settings.flutes;
  const std::vector<Fit> fits = fingering::rank_flutes(*resolved, ranking);

  const std::string report = options.report == check::ReportKind::json
                                 ? fit_json(options, origin, fits)
                                 : without_control_characters(fit_table(options, origin, fits));
  log.write(options.output, report);
  if (!ranking.preferred.empty()) {
    log.add_line(message("Your own flutes come first; they stand in {}", options.settings.path));
  }
  const bool loud =
      std::any_of(fits.begin(), fits.end(), [](const Fit& fit) { return fit.loud > 0; });
  if (loud) log.add_line(flute::hearing_caution());
}

}  // namespace

ExitStatus run_fit(const Options& options) {
  if (const auto complaint = wrong_fit_usage(options)) return refuse(*complaint);
  Log log(options.strictness);
  rank(options, log);
  return log.finish();
}

}  // namespace yubifu::cli
