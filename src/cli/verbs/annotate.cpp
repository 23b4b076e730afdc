// The verb annotate: fingering into a staff file that is there already, and out of it again.
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/file.h"
#include "base/message.h"
#include "cli/loading.h"
#include "cli/options/option_table.h"
#include "cli/report/batch.h"
#include "cli/report/log.h"
#include "cli/report/messages.h"
#include "cli/report/summary_line.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "fingering/resolve.h"
#include "musicxml/annotate/annotator.h"
#include "musicxml/rules.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr int kSemitones = 12;  // of an octave

std::optional<std::string> wrong_annotate_usage(const Options& options) {
  if (options.inputs.empty()) {
    return message("annotate needs an input; 'yubifu help annotate' shows how it is used");
  }
  if (options.inputs.size() > 1) return message("annotate takes one input at a time");
  if (const auto refusal = wrong_ending(options.output, {"musicxml", "mxl"})) return refusal;
  if (options.flutes.size() > 1) return message("annotate takes one flute at a time");
  if (options.musicxml_write.annotation == musicxml::Annotation::none) {
    return message("annotate --fingering none would add nothing; --remove takes a fingering out");
  }
  if (options.annotate_task == AnnotateTask::remove) {
    for (const OptionRow* row : options.given) {
      const bool is_for_adding = row->group == OptionGroup::flute ||
                                 row->group == OptionGroup::choice ||
                                 (row->group == OptionGroup::staff && row->name != "remove");
      if (is_for_adding) {
        return message("annotate --remove takes out all that it has added; leave --{} out",
                       row->name);
      }
    }
  }
  return std::nullopt;
}

// One file on its way from its path to the output.
class Annotating {
 public:
  explicit Annotating(const Options& options)
      : options_(options),
        log_(options.strictness, options.proof.report),
        path_(options.inputs.front()),
        name_(input_name(path_)) {
    log_.open(name_);
  }

  ExitStatus run() {
    const std::optional<musicxml::BareFile> file = open();
    if (file) options_.annotate_task == AnnotateTask::add ? annotate(*file) : remove(*file);
    const JobResult result = log_.take();
    print_message(result.messages);
    const bool output_taken = options_.output == "-";
    return finish_report(
        options_, "annotate", result.status, result.reports,
        output_taken ? ReportTarget::standard_error : ReportTarget::standard_output);
  }

 private:
  template <typename Value>
  std::optional<Value> taken(base::Outcome<Value> outcome, const base::SourceText& source) {
    log_.add(outcome.diagnostics, source);
    if (!outcome.ok()) return std::nullopt;
    return std::move(outcome.value);
  }

  std::optional<musicxml::BareFile> open() {
    const base::SourceText nowhere(name_, {});
    auto bytes = taken(base::read_file(path_), nowhere);
    if (!bytes) return std::nullopt;
    const Format* format = format_of_input(path_, *bytes);
    if (format != nullptr && format->origin != fingering::Origin::staff) {
      log_.add({base::report(
                   rule::unknown_format, std::nullopt,
                   message("annotate takes a staff file (MusicXML); this is {}", format->name))},
               nowhere);
      return std::nullopt;
    }
    const base::SourceText source(name_, *bytes);
    return taken(musicxml::open_bare(*std::move(bytes)), source);
  }

  void remove(const musicxml::BareFile& file) {
    const base::SourceText nowhere(name_, {});
    if (!file.was_annotated) {
      log_.add({base::report(musicxml::rule::no_annotation, std::nullopt,
                             message("there is no annotation in the file to take out"))},
               nowhere);
    }
    const auto bytes = taken(musicxml::bytes_of(file), nowhere);
    if (bytes) write(*bytes);
  }

  void annotate(const musicxml::BareFile& file) {
    const base::SourceText source(name_, file.document.text);
    const auto resolved = resolve(file, source);
    if (!resolved) return;
    const auto& write_options = options_.musicxml_write;
    const auto bytes = taken(musicxml::annotate(file, resolved->score,
                                                {write_options.annotation, write_options.strokes,
                                                 write_options.holes, octaves_moved(*resolved)}),
                             source);
    if (!bytes || !write(*bytes)) return;
    log_.add_line(summary_line(name_, output_name(options_.output), *resolved));
  }

  // Semitones that make no octaves are another key, which the staff would have to say.
  int octaves_moved(const fingering::Resolved& resolved) const {
    const int semitones = options_.resolve.move_semitones;
    return resolved.octave_shift + (semitones % kSemitones == 0 ? semitones / kSemitones : 0);
  }

  std::optional<fingering::Resolved> resolve(const musicxml::BareFile& file,
                                             const base::SourceText& source) {
    musicxml::MusicXmlReadOptions reading = options_.musicxml_read;
    reading.read_fingering = musicxml::Annotation::none;
    auto read = musicxml::read_musicxml(source, reading);
    std::erase_if(read.diagnostics, [](const base::Diagnostic& diagnostic) {
      return !musicxml::concerns_annotation(diagnostic);
    });
    auto score = taken(std::move(read), source);
    if (!score) return std::nullopt;
    // Grace notes are not annotated, so they need no fingers.
    for (model::Note& note : score->notes) {
      note.grace_before.clear();
      note.grace_after.clear();
    }
    fingering::ResolveOptions resolve = resolving(options_.resolve, path_, source,
                                                  fingering::Origin::staff, options_.flute(), log_);
    resolve.octave = options_.octave;
    if (!resolve.flute) resolve.flute = file.flute;
    // For the flute that it was annotated for, the melody stays in its octave.
    const bool same_flute = file.was_annotated && resolve.flute == file.flute;
    if (same_flute && !is_given(options_, "octave") && !is_given(options_, "move")) {
      if (const auto octaves = musicxml::earlier_octaves(file, *score)) resolve.octave = *octaves;
    }
    if (!take_settings(*score, source, options_, resolve, log_)) return std::nullopt;
    auto resolved = taken(fingering::resolve(*std::move(score), resolve), source);
    if (!resolved || log_.failed()) {
      log_.raise(ExitStatus::unusable);
      return std::nullopt;
    }
    move_flutes(resolved->score, folder_of(path_), folder_of(options_.output));
    return resolved;
  }

  bool write(const std::string& bytes) {
    const std::string output = output_name(options_.output);
    log_.add(base::write_file(options_.output, bytes), base::SourceText(output, {}));
    return !log_.failed();
  }

  const Options& options_;
  Log log_;
  std::string path_;
  std::string name_;
};

}  // namespace

ExitStatus run_annotate(const Options& options) {
  if (const auto complaint = wrong_annotate_usage(options)) return refuse(*complaint);
  return Annotating(options).run();
}

}  // namespace yubifu::cli
