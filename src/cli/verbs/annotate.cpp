// The verb annotate: fingering into a staff file that is there already, and out of it again.
#include "base/file.h"
#include "base/message.h"
#include "cli/loading.h"
#include "cli/options/option_table.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "musicxml/annotate/annotator.h"
#include "musicxml/rules.h"

namespace yubifu::cli {
namespace {

using base::message;

std::optional<std::string> wrong_annotate_usage(const Options& options) {
  if (options.inputs.empty()) {
    return message("annotate needs an input; 'yubifu help annotate' shows how it is used");
  }
  if (options.inputs.size() > 1) return message("annotate takes one input at a time");
  if (auto refusal = wrong_ending(options.output, {"musicxml", "mxl"})) return refusal;
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

// The staff file as its bytes are.
std::optional<musicxml::BareFile> open(const std::string& path, Log& log) {
  const std::string name = input_name(path);
  auto bytes = log.taken(base::read_file(path), name);
  if (!bytes) return std::nullopt;
  const Format* format = format_of_input(path, *bytes);
  if (format != nullptr && format->origin != fingering::Origin::staff) {
    log.add(rule::unknown_format, name,
            message("annotate takes a staff file (MusicXML); this is {}", format->name));
    return std::nullopt;
  }
  const base::SourceText source(name, *bytes);
  return log.taken(musicxml::open_bare(*std::move(bytes)), source);
}

void remove(const musicxml::BareFile& file, const Options& options, Log& log) {
  const std::string name = input_name(options.inputs.front());
  if (!file.was_annotated) {
    log.add(musicxml::rule::no_annotation, name,
            message("there is no annotation in the file to take out"));
  }
  const auto bytes = log.taken(musicxml::bytes_of(file), name);
  if (bytes) log.write(options.output, *bytes);
}

std::optional<fingering::Resolved> resolved(const musicxml::BareFile& file,
                                            const base::SourceText& source, const Options& options,
                                            Log& log) {
  const std::string& path = options.inputs.front();
  musicxml::MusicXmlReadOptions reading = options.musicxml_read;
  reading.read_fingering = musicxml::Annotation::none;
  auto read = musicxml::read_musicxml(source, reading);
  std::erase_if(read.diagnostics, [](const base::Diagnostic& diagnostic) {
    return !musicxml::concerns_annotation(diagnostic);
  });
  auto score = log.taken(std::move(read), source);
  if (!score) return std::nullopt;
  // Grace notes are not annotated, so they need no fingers.
  for (model::Note& note : score->notes) {
    note.grace_before.clear();
    note.grace_after.clear();
  }
  fingering::ResolveOptions resolve =
      resolving(options.resolve, path, source, fingering::Origin::staff, options.flute(), log);
  resolve.octave = options.octave;
  if (!resolve.flute) resolve.flute = file.flute;
  // For the flute that it was annotated for, the melody stays in its octave.
  const bool same_flute = file.was_annotated && resolve.flute == file.flute;
  if (same_flute && !is_given(options, "octave") && !is_given(options, "move")) {
    if (const auto octaves = musicxml::earlier_octaves(file, *score)) resolve.octave = *octaves;
  }
  if (!take_settings(*score, source, options, resolve, log)) return std::nullopt;
  auto found = log.taken(fingering::resolve(*std::move(score), resolve), source);
  if (!found || log.failed()) {
    log.raise(ExitStatus::unusable);
    return std::nullopt;
  }
  move_flutes(found->score, folder_of(path), folder_of(options.output));
  return found;
}

void annotate(const musicxml::BareFile& file, const Options& options, Log& log) {
  constexpr int kSemitones = 12;  // of an octave
  const base::SourceText source(input_name(options.inputs.front()), file.document.text);
  const auto found = resolved(file, source, options, log);
  if (!found) return;
  // Semitones that make no octaves are another key, which the staff would have to say.
  const int moved = options.resolve.move_semitones;
  const int octaves = found->octave_shift + (moved % kSemitones == 0 ? moved / kSemitones : 0);
  const auto& wanted = options.musicxml_write;
  const auto bytes =
      log.taken(musicxml::annotate(file, found->score,
                                   {wanted.annotation, wanted.strokes, wanted.holes, octaves}),
                source);
  if (!bytes || !log.write(options.output, *bytes)) return;
  log.add_line(summary_line(source.name(), output_name(options.output), *found));
}

}  // namespace

ExitStatus run_annotate(const Options& options) {
  if (const auto complaint = wrong_annotate_usage(options)) return refuse(*complaint);
  Log log(options.strictness, options.report);
  log.open(input_name(options.inputs.front()));
  if (const auto file = open(options.inputs.front(), log)) {
    options.annotate_task == AnnotateTask::add ? annotate(*file, options, log)
                                               : remove(*file, options, log);
  }
  const JobResult result = log.take();
  print_message(result.messages);
  return finish_report(
      options, "annotate", result.status, result.reports,
      options.output == "-" ? ReportTarget::standard_error : ReportTarget::standard_output);
}

}  // namespace yubifu::cli
