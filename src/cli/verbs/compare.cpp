// The verb compare: whether two files hold the same music.
#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/message.h"
#include "check/comparison.h"
#include "check/sounding.h"
#include "cli/loading.h"
#include "cli/report/log.h"
#include "cli/report/messages.h"
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
  std::string path;
  const Format* format = nullptr;
  base::SourceText source;
  model::Score score;
  check::Aspects held;  ///< what the file says at all
  bool names_flute;     ///< itself, or the option does for it
};

bool any_note(const model::Score& score, bool (*has)(const model::Note&)) {
  return std::any_of(score.notes.begin(), score.notes.end(), has);
}

// What a file can say. A staff may go without fingering; a MIDI file has one line of text under
// its notes and neither marks nor form, and only one that this program wrote has all of a header.
check::Aspects held_by(const Format& format, const model::Score& as_read) {
  check::Aspects held = check::every_aspect();
  const bool fingers =
      any_note(as_read, [](const model::Note& note) { return note.tone.fingering.has_value(); });
  if (!fingers) held.erase(Aspect::fingering);
  if (format.origin != fingering::Origin::sound) return held;
  for (const Aspect aspect : {Aspect::marks, Aspect::form}) held.erase(aspect);
  if (!as_read.header.flute) held.erase(Aspect::header);
  if (!any_note(as_read, [](const model::Note& note) { return !note.syllables.empty(); })) {
    held.erase(Aspect::lyrics);
  }
  return held;
}

// What slows the music down or hurries it without saying how far: what a MIDI file has there is no
// tempo of the score.
bool moves_freely(const model::Direction& direction) {
  const auto* cue = std::get_if<model::Cue>(&direction.value);
  return cue != nullptr && (*cue == model::Cue::rit || *cue == model::Cue::accel);
}
template <typename Item>
bool moves_freely(const Item& item) {
  return std::count(item.marks.begin(), item.marks.end(), model::Mark::fermata) > 0;
}

// Whether none of what `counts` does so.
template <typename Counts>
bool is_steady(const model::Score& score, const Counts& counts) {
  const auto free = [&](const auto& item) { return counts(item) && moves_freely(item); };
  return std::none_of(score.directions.begin(), score.directions.end(), free) &&
         std::none_of(score.notes.begin(), score.notes.end(), free) &&
         std::none_of(score.rests.begin(), score.rests.end(), free);
}

bool starts_steadily(const model::Score& score) {
  return is_steady(score, [](const auto& item) {
    return item.measure == 0 && item.onset == model::Rational(0);
  });
}

bool stays_steady(const model::Score& score) {
  return is_steady(score, [](const auto&) { return true; });
}

void forget_tempo_changes(model::Score& score) {
  std::erase_if(score.directions, [](const model::Direction& direction) {
    return std::holds_alternative<model::TempoChange>(direction.value);
  });
}

// The score is resolved, so it has a flute at its start.
const model::Pitch& ichi_at(const model::Score& score, std::size_t measure) {
  return score.flutes[model::flute_index(score, measure)].ichi;
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
    const model::Pitch ichi = ichi_at(score, to.measure);
    keep_said_pitch(from.tone, exact, ichi, to.tone);
    for (std::size_t k = 0; k < to.grace_before.size(); ++k) {
      keep_said_pitch(from.grace_before[k], exact, ichi, to.grace_before[k]);
    }
    for (std::size_t k = 0; k < to.grace_after.size(); ++k) {
      keep_said_pitch(from.grace_after[k], exact, ichi, to.grace_after[k]);
    }
  }
}

class Comparison {
 public:
  explicit Comparison(const Options& options) : options_(options) {}

  ExitStatus run() {
    std::optional<Side> a = read(options_.inputs[0]);
    std::optional<Side> b = read(options_.inputs[1]);
    if (!a || !b) return finish(ExitStatus::unusable);
    const bool sounding = is_sound(*a) || is_sound(*b);
    if (sounding && !(starts_steadily(a->score) && starts_steadily(b->score))) {
      b->score.header.tempo = a->score.header.tempo;
    }
    if (sounding && !(stays_steady(a->score) && stays_steady(b->score))) {
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
  static bool is_sound(const Side& side) { return side.format->origin == fingering::Origin::sound; }

  // What a reader doubts is for check; here only errors count.
  std::optional<Side> read(const std::string& path) {
    Log reading(Strictness::lenient, options_.proof.report);
    reading.open(input_name(path));
    std::optional<Side> side = read_quietly(path, reading);
    JobResult result = reading.take();
    if (side) return side;
    messages_ += result.messages;
    std::move(result.reports.begin(), result.reports.end(), std::back_inserter(reports_));
    return std::nullopt;
  }

  std::optional<Side> read_quietly(const std::string& path, Log& log) const {
    std::optional<Loaded> loaded = load(path, options_, log);
    if (!loaded) return std::nullopt;
    fingering::ResolveOptions resolve =
        resolving(options_.resolve, path, loaded->source, loaded->format->origin,
                  loaded->score.header.flute ? std::nullopt : options_.flute(), log);
    resolve.octave = 0;  // the file is taken at its word
    const model::Score said = loaded->score;
    auto resolved = fingering::resolve(std::move(loaded->score), resolve);
    log.add(resolved.diagnostics, loaded->source);
    if (!resolved.ok()) return std::nullopt;
    Side side{path,
              loaded->format,
              std::move(loaded->source),
              std::move(resolved.value->score),
              held_by(*loaded->format, said),
              said.header.flute || resolve.flute};
    keep_said_pitches(said, loaded->format->origin, side.score);
    move_flutes(side.score, folder_of(path), ".");
    return side;
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
    std::string names;
    for (const Aspect aspect : check::every_aspect()) {
      if (side.held.contains(aspect) || wanted.aspects.erase(aspect) == 0) continue;
      names += (names.empty() ? "" : ", ") + std::string(check::kAspects.word_of(aspect));
    }
    if (names.empty()) return;
    remarks_.push_back(
        message("{} says nothing about {}, so that is not compared", side.source.name(), names));
  }

  void tell(const std::vector<check::Difference>& differences, const Side& a, const Side& b) {
    check::FileReport report{a.source.name(), {}, {}};
    for (const std::string& remark : remarks_) {
      messages_ += without_control_characters(remark) + '\n';
      report.remarks.push_back(remark);
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
