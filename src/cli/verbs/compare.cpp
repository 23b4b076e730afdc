// The verb compare: whether two files hold the same music.
#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "check/comparison.h"
#include "check/sounding.h"
#include "cli/loading.h"
#include "cli/report/log.h"
#include "cli/verbs.h"
#include "fingering/flute_line.h"
#include "fingering/resolve.h"

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

// Whether nothing slows the music down or hurries it without saying how far: what a MIDI file has
// there is no tempo of the score.
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

void forget_tempo_changes(model::Score& score) {
  std::erase_if(score.directions, [](const model::Direction& direction) {
    return std::holds_alternative<model::TempoChange>(direction.value);
  });
}

// A note that says another pitch than its fingers sounds what it says: somebody moved one without
// the other.
void keep_said_pitch(const model::Tone& said, bool exact, const model::Pitch& ichi,
                     model::Tone& tone) {
  if (!said.pitch || !tone.pitch) return;
  if (exact || !fingering::agrees(*said.pitch, *tone.pitch, ichi)) {
    tone.pitch = said.pitch;
    tone.spelling = said.spelling;
  }
}

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
    for_each_tone(
        to, [&](model::Tone& tone) { keep_said_pitch(*said_tones[next++], exact, ichi, tone); });
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

class Comparison {
 public:
  explicit Comparison(const Options& options) : options_(options) {}

  ExitStatus run() {
    std::optional<Side> a = read(options_.inputs[0]);
    std::optional<Side> b = read(options_.inputs[1]);
    if (!a || !b) return finish(ExitStatus::unusable);
    const bool sounding =
        a->origin == fingering::Origin::sound || b->origin == fingering::Origin::sound;
    if (sounding && !(is_steady(a->score, At::start) && is_steady(b->score, At::start))) {
      b->score.header.tempo = a->score.header.tempo;
    }
    if (sounding && !(is_steady(a->score, At::any_place) && is_steady(b->score, At::any_place))) {
      forget_tempo_changes(a->score);
      forget_tempo_changes(b->score);
    }
    if (sounding && !(make_sounding(*a) && make_sounding(*b))) return finish(ExitStatus::unusable);
    // A melody without numbers that names no flute is one for any flute.
    for (const Side* side : {&*a, &*b}) {
      if (side->names_flute || side->held.contains(Aspect::fingering)) continue;
      a->score.flutes.clear();
      b->score.flutes.clear();
    }
    check::CompareOptions wanted = options_.proof.compare;
    leave_out(*a, wanted);
    leave_out(*b, wanted);
    const auto differences = check::compare(a->score, b->score, wanted);
    tell(differences, *a, *b);
    return finish(differences.empty() ? ExitStatus::done : ExitStatus::findings);
  }

 private:
  // What a reader doubts is for check; here only errors count.
  std::optional<Side> read(const std::string& path) {
    Log log(Strictness::lenient, options_.proof.report);
    log.open(input_name(path));
    if (auto side = read_side(path, options_, log)) return side;
    JobResult result = log.take();
    messages_ += result.messages;
    std::move(result.reports.begin(), result.reports.end(), std::back_inserter(reports_));
    return std::nullopt;
  }

  bool make_sounding(Side& side) {
    auto sounding = check::as_sounding(side.score);
    if (!sounding) {
      messages_ += without_control_characters(
          fmt::format("{}: {}: {}\n", side.source.name(), base::name(base::Severity::error),
                      message("the repeats of this score cannot be played out")));
      return false;
    }
    side.score = *std::move(sounding);
    return true;
  }

  // Takes out what a file cannot say, and says so.
  void leave_out(const Side& side, check::CompareOptions& wanted) {
    std::vector<std::string_view> names;
    for (const Aspect aspect : check::every_aspect()) {
      if (side.held.contains(aspect) || wanted.aspects.erase(aspect) == 0) continue;
      names.push_back(check::kAspects.word_of(aspect));
    }
    if (names.empty()) return;
    remarks_.push_back(message("{} says nothing about {}, so that is not compared",
                               side.source.name(), fmt::join(names, ", ")));
  }

  void tell(const std::vector<check::Difference>& differences, const Side& a, const Side& b) {
    check::FileReport report{a.source.name(), {}, remarks_};
    for (const std::string& remark : remarks_) {
      messages_ += without_control_characters(remark) + '\n';
    }
    // In the order of the music, which is not that of every file.
    for (const base::Diagnostic& found : check::as_diagnostics(differences, b.source)) {
      check::add_located(report, {found}, a.source);
    }
    check::FileReport shown = report;
    shown.findings.resize(std::min(shown.findings.size(), kMostShown));
    messages_ += check::text_report(shown, message_colours());
    if (differences.size() > kMostShown) {
      messages_ += message("{} more differences are not shown\n", differences.size() - kMostShown);
    }
    messages_ += without_control_characters(
        differences.empty()
            ? message("{} and {} hold the same music\n", a.source.name(), b.source.name())
            : message("{} and {}: {} {}\n", a.source.name(), b.source.name(), differences.size(),
                      differences.size() == 1 ? message("difference") : message("differences")));
    reports_.push_back(std::move(report));
  }

  ExitStatus finish(ExitStatus status) const {
    if (options_.proof.report == check::ReportKind::text) print_message(messages_);
    return finish_report(options_, "compare", status, reports_, ReportTarget::standard_output);
  }

  const Options& options_;
  std::string messages_;
  std::vector<std::string> remarks_;
  std::vector<check::FileReport> reports_;
};

}  // namespace

ExitStatus run_compare(const Options& options) {
  if (options.inputs.size() != 2) {
    return refuse(message("compare takes two files; 'yubifu help compare' shows how it is used"));
  }
  if (options.flutes.size() > 1) return refuse(message("compare takes one flute at a time"));
  return Comparison(options).run();
}

}  // namespace yubifu::cli
