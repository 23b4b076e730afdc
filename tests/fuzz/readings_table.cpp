// Any bytes as a table of readings; what was read makes a flute file.
#include "flute/flute_file.h"
#include "fuzz/checks.h"
#include "hearing/measured_flute.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const flute::Flute like = flute::built_in_flute({6, 0}, 440);
  auto text = hearing::readings_text(fuzz::bytes_of(data, size));
  fuzz::require(text.value || base::has_errors(text.diagnostics), "a text or an error");
  if (!text.value) return 0;
  const base::SourceText source("readings.csv", *std::move(text.value));
  const auto noted = hearing::read_readings(source, like);
  fuzz::check_findings(noted.diagnostics, source);
  fuzz::require(noted.value || base::has_errors(noted.diagnostics), "readings or an error");
  if (!noted.value) return 0;
  const base::SourceText file(
      "own.json",
      hearing::flute_file_text({"own", "a table", 25, hearing::measured(*noted.value)}, like));
  const auto read = flute::read_flute_file(file, model::FlutePath{"own.json"}, 440);
  fuzz::require(read.ok(), "what was noted is a flute file");
  return 0;
}
