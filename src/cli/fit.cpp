// The verb fit: which flute lets a melody lie under the fingers.
#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/file.h"
#include "base/message.h"
#include "cli/fit_report.h"
#include "cli/flute_files.h"
#include "cli/loading.h"
#include "cli/log.h"
#include "cli/messages.h"
#include "cli/verbs.h"
#include "fingering/rank.h"
#include "fingering/rules.h"
#include "flute/flute.h"

namespace yubifu::cli {
namespace {

using base::message;
using fingering::Fit;

// Why these options do not go together.
std::optional<std::string> wrong_usage(const Options& options) {
  if (options.inputs.empty()) {
    return message("fit needs an input; 'yubifu help fit' shows how it is used");
  }
  if (options.inputs.size() > 1) return message("fit looks at one melody at a time");
  if (options.fit.pitch_number && options.fit.keys == fingering::Keys::any) {
    return message("--any-key and --pitch-number exclude each other");
  }
  return std::nullopt;
}

// Only what is wrong with the score itself: that a note is out of reach of the flute it names, or
// that a staff names none, is what the ranking is about.
base::Diagnostics about_the_score(base::Diagnostics found) {
  namespace rule = fingering::rule;
  std::erase_if(found, [](const base::Diagnostic& one) {
    return one.rule == &rule::out_of_reach || one.rule == &rule::no_flute_given;
  });
  return found;
}

// A score without a flute is read for size 8 where that decides its sound or its pitch number.
base::Diagnostics about_the_flute(const Options& options, const Loaded& loaded) {
  const bool decides =
      options.fit.pitch_number || loaded.format->origin == fingering::Origin::fingers;
  if (loaded.score.header.flute || !decides) return {};
  return {base::report(fingering::rule::no_flute_given, std::nullopt,
                       message("no flute is named, so the melody is taken as one for size 8"),
                       message("name the flute in the score"))};
}

// The flutes that are named, or where none is, those that the player owns; and the sizes 1 to 13
// unless sizes are among the named; then those of the score that are none of these, such as one of
// a file. Nothing when one cannot be had.
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
  const fingering::FluteSupply supply = flute_supply(".", log);
  for (const model::FluteName& name : options.flutes) {
    auto flute = supply(name, tuning_hz);
    log.add(flute.diagnostics, base::SourceText(to_text(name), {}));
    if (!flute.value) return std::nullopt;
    flutes.push_back(*std::move(flute.value));
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
  fingering::ResolveOptions resolve;
  resolve.origin = loaded.format->origin;
  log.add(about_the_flute(options, loaded), loaded.source);
  resolve.tuning_hz = tuning_hz;
  resolve.flutes = flute_supply(folder_of(options.inputs.front()), loaded.source, log);
  auto resolved = fingering::resolve(std::move(loaded.score), resolve);
  log.add(about_the_score(std::move(resolved.diagnostics)), loaded.source);
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

  const FitHead head{input_name(options.inputs.front()), options.fit.keys, origin};
  const std::string report = options.fit.report == FitReport::json
                                 ? fit_json(head, fits)
                                 : without_control_characters(fit_table(head, fits));
  log.add(base::write_file(options.output, report),
          base::SourceText(output_name(options.output), {}));
  if (!ranking.preferred.empty()) {
    log.add_line(message("Your own flutes come first; they stand in {}", options.settings.path));
  }
  const bool loud =
      std::any_of(fits.begin(), fits.end(), [](const Fit& fit) { return fit.loud > 0; });
  if (loud) log.add_line(flute::hearing_caution());
}

}  // namespace

ExitStatus run_fit(const Options& options) {
  if (const auto complaint = wrong_usage(options)) return refuse(*complaint);
  Log log(options.strictness);
  rank(options, log);
  const JobResult result = log.take();
  print_message(result.messages);
  return result.status;
}

}  // namespace yubifu::cli
