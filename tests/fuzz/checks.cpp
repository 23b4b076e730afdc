#include "fuzz/checks.h"

#include <cstdio>
#include <cstdlib>

#include "midi/write/writer.h"
#include "model/play_out.h"
#include "musicxml/write/writer.h"
#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "scorejson/reader.h"
#include "scorejson/writer.h"
#include "support/invariants.h"

namespace yubifu::fuzz {
namespace {

// A few bytes of repeats can be played for hours; that this ends is tested elsewhere.
constexpr std::size_t kMostPlayedMeasures = 500;
// And of a long rest, for as many bars as there may be: to write them in every format takes seconds
// under sanitizers, and says no more than to write a few of them.
constexpr std::size_t kMostWrittenMeasures = 5'000;

template <typename T>
void check_written(const base::Outcome<T>& written, std::string_view what) {
  require(written.value.has_value() || base::has_errors(written.diagnostics), what);
}

}  // namespace

std::string bytes_of(const std::uint8_t* data, std::size_t size) {
  return {data, data + size};
}

void require(bool holds, std::string_view promise) {
  if (holds) return;
  std::fprintf(stderr, "broken: %.*s\n", static_cast<int>(promise.size()), promise.data());
  std::abort();
}

void check_findings(const base::Diagnostics& findings, const base::SourceText& source) {
  for (const base::Diagnostic& finding : findings) {
    require(finding.rule != nullptr, "a finding has a rule");
    require(!finding.message.empty(), "a finding has a message");
    if (!finding.where) continue;
    require(finding.where->begin <= finding.where->end, "a place is not turned round");
    require(finding.where->end <= source.text().size(), "a place lies inside the text");
    require(!base::one_line(finding, source).empty(), "a finding can be printed");
  }
}

void check_reading(const base::Outcome<model::Score>& read, const base::SourceText& source) {
  check_findings(read.diagnostics, source);
  check_written(read, "a reader gives a score or an error");
  if (!read.ok()) return;
  const auto broken = support::broken_invariants(*read.value);
  require(broken.empty(), broken.empty() ? "" : broken.front());
}

void check_conversion(const model::Score& score, fingering::Origin origin) {
  if (score.measures.size() > kMostWrittenMeasures) return;
  fingering::ResolveOptions options;
  options.origin = origin;
  const auto resolved = fingering::resolve(score, options);
  check_written(resolved, "resolving gives a score or an error");
  if (!resolved.value) return;
  const model::Score& out = resolved.value->score;
  const auto broken = support::broken_invariants(out);
  require(broken.empty(), broken.empty() ? "" : broken.front());
  const auto text = notation::write_notation(out, {});
  check_written(text, "a text or an error");
  if (text.ok()) require(notation::read_notation({"", *text.value}).ok(), "our text is read");
  const auto json = scorejson::write_score_json(out);
  check_written(json, "JSON or an error");
  if (json.ok()) require(scorejson::read_score_json({"", *json.value}).ok(), "our JSON is read");
  check_written(musicxml::write_musicxml(out, {}), "a staff file or an error");
  const auto played = model::played_order(out);
  if (played.ok() && played.value->size() <= kMostPlayedMeasures) {
    check_written(midi::write_midi(out, {}), "a MIDI file or an error");
  }
}

}  // namespace yubifu::fuzz
