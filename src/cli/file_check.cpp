#include "cli/file_check.h"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/file.h"
#include "base/message.h"
#include "base/rules.h"
#include "base/utf8.h"
#include "check/findings.h"
#include "check/score_check.h"
#include "cli/all_rules.h"
#include "cli/flute_files.h"
#include "cli/formats.h"
#include "cli/loading.h"
#include "cli/log.h"
#include "cli/messages.h"
#include "cli/rules.h"
#include "fingering/resolve.h"
#include "fingering/rules.h"
#include "flute/flute_file.h"
#include "midi/messages.h"
#include "midi/scan.h"
#include "midi/smf_bridge.h"
#include "notation/writer.h"

namespace yubifu::cli {
namespace {

using base::message;

// What a file is must be said this early in it.
constexpr std::size_t kHeadBytes = 4096;

bool is_flute_file(std::string_view bytes) {
  if (bytes.starts_with(base::kByteOrderMark)) bytes.remove_prefix(base::kByteOrderMark.size());
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && bytes[first] == '{' &&
         bytes.substr(0, kHeadBytes).find("\"yubifu-flute\"") != std::string_view::npos;
}

// A file of a folder that shares an ending with our formats and nothing else.
bool is_foreign(const std::string& path, std::string_view bytes) {
  const std::string extension = extension_of(path);
  if (extension == "json") {
    return !is_flute_file(bytes) &&
           bytes.substr(0, kHeadBytes).find("\"yubifu-score\"") == std::string_view::npos;
  }
  const bool is_utf16 = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
  if (extension != "xml" || is_utf16) return false;
  const std::string_view head = bytes.substr(0, kHeadBytes);
  return head.find("score-partwise") == std::string_view::npos &&
         head.find("score-timewise") == std::string_view::npos;
}

// The channels whose pitch wheel is not in its middle when the file ends.
base::Diagnostics unreset_bends(std::string_view bytes) {
  const auto scanned = midi::scan(bytes);
  if (!scanned.value) return {};
  auto events = midi::load(scanned.value->clean);
  if (!events.value) return {};
  std::stable_sort(
      events.value->begin(), events.value->end(),
      [](const midi::ChannelEvent& a, const midi::ChannelEvent& b) { return a.tick < b.tick; });
  std::map<int, int> wheels;  // by channel
  for (const midi::ChannelEvent& event : *events.value) {
    const bool resets = event.kind() == midi::kController && event.first == midi::kResetControllers;
    if (event.kind() == midi::kPitchBend) wheels[event.channel()] = event.second << 7 | event.first;
    if (resets) wheels[event.channel()] = midi::kBendCentre;
  }
  base::Diagnostics found;
  for (const auto& [channel, wheel] : wheels) {
    if (wheel == midi::kBendCentre) continue;
    found.push_back(
        base::report(rule::bend_not_reset, std::nullopt,
                     message("channel {} is still bent when the file ends", channel + 1),
                     message("set the pitch wheel to its middle after the last note")));
  }
  return found;
}

ExitStatus status_of(const check::FileReport& report) {
  ExitStatus status = ExitStatus::done;
  for (const check::Finding& finding : report.findings) {
    if (finding.severity == base::Severity::note) continue;
    const bool unusable = finding.rule == &base::rule::unreadable_file ||
                          finding.rule == &base::rule::input_too_large ||
                          finding.rule == &rule::unknown_format;
    status = worse(status, unusable ? ExitStatus::unusable : ExitStatus::findings);
  }
  return status;
}

class FileCheck {
 public:
  FileCheck(const FoundFile& file, const Options& options, FluteReports& flutes)
      : file_(file), options_(options), flutes_(flutes), report_{input_name(file.path), {}, {}} {}

  JobResult run() {
    if (file_.problem) return finish({*file_.problem}, base::SourceText(report_.name, {}));
    base::Outcome<std::string> bytes = base::read_file(file_.path);
    if (!bytes.value) return finish(bytes.diagnostics, base::SourceText(report_.name, {}));
    if (file_.by == FoundBy::folder && is_foreign(file_.path, *bytes.value)) return {};
    if (options_.from.empty() && is_flute_file(*bytes.value)) return flute(*std::move(bytes.value));
    return score(*std::move(bytes.value));
  }

 private:
  JobResult flute(std::string bytes) {
    const base::SourceText source(report_.name, std::move(bytes));
    const auto read =
        flute::read_flute_file(source, model::FlutePath{file_.path},
                               options_.resolve.tuning_hz.value_or(model::kConcertPitchHz));
    return finish(read.diagnostics, source);
  }

  JobResult score(std::string bytes) {
    const Format* format = format_of(bytes);
    if (format == nullptr || format->read == nullptr) {
      return finish({no_reader(format)}, base::SourceText(report_.name, {}));
    }
    base::Diagnostics found = doubt_name(*format);
    base::Diagnostics bends;
    if (format->origin == fingering::Origin::sound) bends = unreset_bends(bytes);
    Reading reading = format->read(report_.name, std::move(bytes), options_);
    const bool is_clean = reading.outcome.diagnostics.empty();
    base::append(found, std::move(reading.outcome.diagnostics));
    base::append(found, std::move(bends));
    if (reading.outcome.value) {
      if (is_text(*format) && is_clean) check_layout(reading, found);
      found =
          check_score(std::move(*reading.outcome.value), reading.source, *format, std::move(found));
    }
    return finish(found, reading.source);
  }

  const Format* format_of(std::string_view bytes) const {
    return options_.from.empty() ? format_of_input(file_.path, bytes) : find_format(options_.from);
  }

  static bool is_text(const Format& format) { return format.name == "text"; }

  base::Diagnostics doubt_name(const Format& format) const {
    const Format* named = format_of_path(file_.path);
    if (!options_.from.empty() || named == nullptr || named == &format) return {};
    return {base::report(rule::other_format, std::nullopt,
                         message("the name says {}, the content is {}", named->name, format.name),
                         message("rename the file, or write it anew"))};
  }

  void check_layout(const Reading& reading, base::Diagnostics& found) const {
    if (!check::is_on(rule::layout, options_.proof.rules)) return;
    const auto tidy = notation::write_notation(*reading.outcome.value, options_.notation_write);
    if (!tidy.value || *tidy.value == reading.source.text()) return;
    const auto [here, there] =
        std::mismatch(reading.source.text().begin(), reading.source.text().end(),
                      tidy.value->begin(), tidy.value->end());
    const auto at = static_cast<std::size_t>(here - reading.source.text().begin());
    found.push_back(base::report(rule::layout, base::SourceRange{at, at},
                                 message("here the layout leaves the canonical one"),
                                 message("`yubifu tidy --in-place` puts it right")));
  }

  base::Diagnostics check_score(model::Score score, const base::SourceText& source,
                                const Format& format, base::Diagnostics found) {
    fingering::ResolveOptions resolve = options_.resolve;
    resolve.origin = format.origin;
    resolve.octave = 0;  // the file is taken at its word
    // Files of flutes have reports of their own.
    Log flutes(Strictness::lenient, check::ReportKind::json);
    const std::filesystem::path folder = folder_of(file_.path);
    resolve.flutes = flute_supply(folder, source, flutes);
    if (!options_.flutes.empty()) resolve.flute = moved(options_.flutes.front(), ".", folder);
    const bool knows_flute = score.header.flute || resolve.flute;
    const bool had_fingers = has_fingers(score);
    base::Diagnostics allowed_in = std::move(found);
    const model::Score unresolved = score;
    auto resolved = fingering::resolve(std::move(score), resolve);
    // A melody that names no flute cannot be out of the reach of one.
    if (!knows_flute && !had_fingers) {
      std::erase_if(resolved.diagnostics, [](const base::Diagnostic& diagnostic) {
        return diagnostic.rule == &fingering::rule::out_of_reach;
      });
    }
    base::append(allowed_in, std::move(resolved.diagnostics));
    if (resolved.value && (knows_flute || had_fingers)) {
      base::append(allowed_in, check::check_score(*resolved.value, format.origin));
    }
    for (const check::FileReport& report : flutes.take().reports) flutes_.add(report);
    return check::without_allowed(std::move(allowed_in), unresolved, all_rules());
  }

  JobResult finish(const base::Diagnostics& found, const base::SourceText& source) {
    check::add_located(report_, found, source);
    check::choose(report_, options_.proof.rules);
    JobResult result;
    result.status = status_of(report_);
    if (options_.proof.report == check::ReportKind::text) {
      result.messages = check::text_report(report_, message_colours());
    }
    result.reports.push_back(std::move(report_));
    return result;
  }

  const FoundFile& file_;
  const Options& options_;
  FluteReports& flutes_;
  check::FileReport report_;
};

}  // namespace

void FluteReports::add(const check::FileReport& report) {
  const std::lock_guard lock(mutex_);
  by_path_.try_emplace(std::filesystem::path(report.name).lexically_normal().string(), report);
}

JobResult FluteReports::take(const std::vector<FoundFile>& checked, const Options& options) {
  const std::lock_guard lock(mutex_);
  for (const FoundFile& file : checked) {
    by_path_.erase(std::filesystem::path(file.path).lexically_normal().string());
  }
  JobResult result;
  for (auto& [path, report] : by_path_) {
    check::choose(report, options.proof.rules);
    result.status = worse(result.status, status_of(report));
    if (options.proof.report == check::ReportKind::text) {
      result.messages += check::text_report(report, message_colours());
    }
    result.reports.push_back(std::move(report));
  }
  by_path_.clear();
  return result;
}

JobResult check_file(const FoundFile& file, const Options& options, FluteReports& flutes) {
  return FileCheck(file, options, flutes).run();
}

}  // namespace yubifu::cli
