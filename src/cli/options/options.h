// Everything a command line can say, parsed once into plain values.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "check/comparison.h"
#include "check/findings.h"
#include "check/report.h"
#include "cli/settings.h"
#include "fingering/rank.h"
#include "fingering/resolve.h"
#include "midi/read/reader.h"
#include "midi/write/writer.h"
#include "model/flute_name.h"
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"
#include "notation/write/writer.h"
#include "page/book/book.h"
#include "page/chart/chart.h"
#include "page/page.h"
#include "scorejson/writer.h"

namespace yubifu::cli {

/// Whether repeats stay signs or are played out.
enum class Repeats { as_written, played_out };

/// What a loss does to the exit status.
enum class Strictness { lenient, strict };

/// What annotate does with the fingering.
enum class AnnotateTask { add, remove };

/// What a starter text says in its header beside title and flute.
struct StarterOptions {
  model::Meter meter;
  std::string tempo = "80";  ///< as the header takes it
};

/// What the chart is written as.
enum class ChartFormat { text, svg, pdf, json };

/// The options of chart alone.
struct ChartOptions {
  std::optional<ChartFormat> to;  ///< by the name of the output when absent
  page::ChartSize size = page::ChartSize::a4;
  std::string score;  ///< the file to whose fingerings the chart is limited; empty for none
};

/// The options of fit alone.
struct FitOptions {
  fingering::Keys keys = fingering::Keys::as_given;
  std::optional<int> pitch_number;  ///< a singer's, 1 to 12
};

/// The options of gauge alone.
struct GaugeOptions {
  std::optional<model::FluteName> like;  ///< where signs and holes come from
  std::string signs;                     ///< as typed; empty: all plain ones upwards
  std::optional<double> celsius;
};

/// What check does.
enum class CheckTask { check_files, list_rules };

/// What tidy does: one file to the output, each in its place, or only say which would change.
enum class TidyTask { write, in_place, tell };

/// The options of bind alone.
struct BookOptions {
  std::string title;  ///< empty: that of the folder or list
  page::TuneStart start = page::TuneStart::new_sheet;
};

struct OptionRow;

/// The command line; each member is as its option leaves it.
struct Options {
  std::vector<const OptionRow*> given;  ///< each option that was given, in the order of the table
  std::vector<std::string> inputs;
  std::string output = "-";
  std::string out_dir;
  std::string from;  ///< name of a format; empty: by extension and first bytes
  std::string to;    ///< name of a format; empty: by the extension of the output
  int jobs = 0;      ///< 0: as many as there are cores

  std::vector<model::FluteName> flutes;  ///< paths count from the current folder
  /// The first of them.
  std::optional<model::FluteName> flute() const {
    return flutes.empty() ? std::nullopt : std::optional(flutes.front());
  }
  fingering::ResolveOptions resolve;
  /// A4 where no score has a say.
  double tuning_hz() const { return resolve.tuning_hz.value_or(model::kConcertPitchHz); }
  /// Where a score gets its fingers to be written; to check, to compare and to rank it stays.
  fingering::OctaveChoice octave = fingering::UsualOctave{};

  musicxml::MusicXmlReadOptions musicxml_read;
  musicxml::MusicXmlWriteOptions musicxml_write;
  midi::MidiReadOptions midi_read;
  midi::MidiWriteOptions midi_write;
  model::Alphabet alphabet =
      model::Alphabet::printed;  ///< of fingering text, and of charts as text
  scorejson::ScoreJsonWriteOptions json_write;
  page::PageOptions page;
  Repeats repeats = Repeats::as_written;
  Strictness strictness = Strictness::lenient;
  AnnotateTask annotate_task = AnnotateTask::add;
  check::ReportKind report = check::ReportKind::text;  ///< how findings are told
  check::RuleChoices rules;
  CheckTask check_task = CheckTask::check_files;
  check::CompareOptions compare;
  TidyTask tidy_task = TidyTask::write;
  FitOptions fit;
  ChartOptions chart;
  GaugeOptions gauge;
  BookOptions book;
  StarterOptions starter;
  Settings settings;  ///< of the player; empty when they are to be ignored
};

}  // namespace yubifu::cli
