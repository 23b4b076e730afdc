// The verb compare: whether two files hold the same music.
#include <algorithm>

#include <fmt/format.h>

#include "base/message.h"
#include "cli/loading.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

using base::message;
using check::Aspect;

// More differences than this are only counted in a report for people.
constexpr std::size_t kMostShown = 20;

// One of the two files, resolved for its own flute.
struct Side {
  base::SourceText source;
  fingering::Origin origin;
  model::Score score;
  check::Aspects held;  ///< what the file says at all
  bool names_flute;     ///< itself, or the option does for it
};

// What a file can say. A staff may go without fingering; a MIDI file has one line of text under
// its notes and neither marks nor form, and only one that this program wrote has all of a header.
check::Aspects held_by(fingering::Origin origin, const model::Score& as_read) {
  check::Aspects held = check::every_aspect();
  if (!has_fingers(as_read)) held.erase(Aspect::fingering);
  if (origin != fingering::Origin::sound) return held;
  for (const Aspect aspect : {Aspect::marks, Aspect::form}) held.erase(aspect);
  if (!as_read.header.flute) held.erase(Aspect::header);
  const bool has_song =
      std::any_of(as_read.notes.begin(), as_read.notes.end(),
                  [](const model::Note& note) { return !note.syllables.empty(); });
  if (!has_song) held.erase(Aspect::lyrics);
  return held;
}

enum class At { start, any_place };

// Whether nothing changes the tempo without saying how far, where a MIDI file has one of its own.
bool is_steady(const model::Score& score, At place) {
  const auto counts = [&](const auto& item) {
    return place == At::any_place || (item.measure == 0 && item.onset == model::Rational(0));
  };
  const auto is_free = [&](const model::Direction& direction) {
    const auto* cue = std::get_if<model::Cue>(&direction.value);
    const bool moves = cue != nullptr && (*cue == model::Cue::rit || *cue == model::Cue::accel);
    return moves && counts(direction);
  };
  const auto is_held = [&](const auto& item) {
    return std::count(item.marks.begin(), item.marks.end(), model::Mark::fermata) > 0 &&
           counts(item);
  };
  return std::none_of(score.directions.begin(), score.directions.end(), is_free) &&
         std::none_of(score.notes.begin(), score.notes.end(), is_held) &&
         std::none_of(score.rests.begin(), score.rests.end(), is_held);
}

// A note whose pitch is not that of its fingers sounds that pitch: somebody moved one of the two.
void keep_said_pitches(const model::Score& said, fingering::Origin origin, model::Score& score) {
  if (origin == fingering::Origin::fingers) return;
  const bool exact = origin == fingering::Origin::sound;
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const model::Note& from = said.notes[i];
    model::Note& to = score.notes[i];
    if (!from.tone.fingering && !exact) continue;
    // The score is resolved, so it has a flute at its start.
    const model::Pitch ichi = score.flutes[model::flute_index(score, to.measure)].ichi;
    std::vector<const model::Tone*> said_tones;
    for_each_tone(from, [&](const model::Tone& tone) { said_tones.push_back(&tone); });
    std::size_t next = 0;
    for_each_tone(to, [&](model::Tone& tone) {
      const model::Tone& other = *said_tones[next++];
      if (!other.pitch || !tone.pitch) return;
      if (!exact && fingering::agrees(*other.pitch, *tone.pitch, ichi)) return;
      tone.pitch = other.pitch;
      tone.spelling = other.spelling;
    });
  }
}

std::optional<Side> read_side(const std::string& path, const Options& options, Log& log) {
  std::optional<Loaded> loaded = load(path, options, log);
  if (!loaded) return std::nullopt;
  const fingering::Origin origin = loaded->format->origin;
  fingering::ResolveOptions resolve =
      resolving(options.resolve, path, loaded->source, origin,
                loaded->score.header.flute ? std::nullopt : options.flute(), log);
  resolve.octave = 0;  // the file is taken at its word
  auto resolved = log.taken(fingering::resolve(loaded->score, resolve), loaded->source);
  if (!resolved) return std::nullopt;
  const model::Score& said = loaded->score;
  keep_said_pitches(said, origin, resolved->score);
  move_flutes(resolved->score, folder_of(path), ".");
  return Side{std::move(loaded->source), origin, std::move(resolved->score), held_by(origin, said),
              said.header.flute || resolve.flute};
}

// Takes out what a file cannot say, and says so.
void leave_out(const Side& side, check::CompareOptions& wanted, std::vector<std::string>& remarks) {
  std::vector<std::string_view> names;
  for (const Aspect aspect : check::every_aspect()) {
    if (side.held.contains(aspect) || wanted.aspects.erase(aspect) == 0) continue;
    names.push_back(check::kAspects.word_of(aspect));
  }
  if (names.empty()) return;
  remarks.push_back(message("{} says nothing about {}, so that is not compared", side.source.name(),
                            fmt::join(names, ", ")));
}

JobResult told(const base::Diagnostics& differences, const Side& a, const Side& b,
               std::vector<std::string> remarks) {
  JobResult result;
  for (const std::string& remark : remarks) {
    result.messages += without_control_characters(remark) + '\n';
  }
  check::FileReport report{a.source.name(), {}, std::move(remarks)};
  // In the order of the music, which is not that of every file.
  for (const base::Diagnostic& found : differences) check::add_located(report, {found}, a.source);
  check::FileReport shown = report;
  shown.findings.resize(std::min(shown.findings.size(), kMostShown));
  result.messages += check::text_report(shown, message_colours());
  const std::size_t count = differences.size();
  if (count > kMostShown) {
    result.messages += message("{} more differences are not shown\n", count - kMostShown);
  }
  result.messages += without_control_characters(
      count == 0 ? message("{} and {} hold the same music\n", a.source.name(), b.source.name())
                 : message("{} and {}: {} {}\n", a.source.name(), b.source.name(), count,
                           count == 1 ? message("difference") : message("differences")));
  result.reports.push_back(std::move(report));
  result.status = count == 0 ? ExitStatus::done : ExitStatus::findings;
  return result;
}

JobResult compare(const Options& options) {
  JobResult failed{ExitStatus::unusable, {}, {}, {}};
  // What a reader doubts is for check; here only errors count.
  const auto read = [&](const std::string& path) {
    Log log(Strictness::lenient, options.report);
    log.open(input_name(path));
    auto side = read_side(path, options, log);
    if (side) return side;
    JobResult result = log.take();
    failed.messages += result.messages;
    std::move(result.reports.begin(), result.reports.end(), std::back_inserter(failed.reports));
    return side;
  };
  std::optional<Side> a = read(options.inputs[0]);
  std::optional<Side> b = read(options.inputs[1]);
  if (!a || !b) return failed;
  if (a->origin == fingering::Origin::sound || b->origin == fingering::Origin::sound) {
    if (!is_steady(a->score, At::start) || !is_steady(b->score, At::start)) {
      b->score.header.tempo = a->score.header.tempo;
    }
    const bool steady = is_steady(a->score, At::any_place) && is_steady(b->score, At::any_place);
    for (Side* side : {&*a, &*b}) {
      std::erase_if(side->score.directions, [&](const model::Direction& direction) {
        return !steady && std::holds_alternative<model::TempoChange>(direction.value);
      });
      auto sounding = check::as_sounding(side->score);
      if (!sounding) {
        failed.messages = without_control_characters(
            fmt::format("{}: {}: {}\n", side->source.name(), base::name(base::Severity::error),
                        message("the repeats of this score cannot be played out")));
        return failed;
      }
      side->score = *std::move(sounding);
    }
  }
  // A melody without numbers that names no flute is one for any flute.
  for (const Side* side : {&*a, &*b}) {
    if (side->names_flute || side->held.contains(Aspect::fingering)) continue;
    a->score.flutes.clear();
    b->score.flutes.clear();
  }
  check::CompareOptions wanted = options.compare;
  std::vector<std::string> remarks;
  for (const Side* side : {&*a, &*b}) leave_out(*side, wanted, remarks);
  const auto differences = check::compare(a->score, b->score, wanted, b->source);
  return told(differences, *a, *b, std::move(remarks));
}

}  // namespace

ExitStatus run_compare(const Options& options) {
  if (options.inputs.size() != 2) {
    return refuse(message("compare takes two files; 'yubifu help compare' shows how it is used"));
  }
  if (options.flutes.size() > 1) return refuse(message("compare takes one flute at a time"));
  const JobResult result = compare(options);
  if (options.report == check::ReportKind::text) print_message(result.messages);
  return finish_report(options, "compare", result.status, result.reports,
                       ReportTarget::standard_output);
}

}  // namespace yubifu::cli
