// Any bytes as a flute file; a flute that was read can finger a scale.
#include "flute/flute_file.h"
#include "fuzz/checks.h"
#include "notation/read/reader.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const base::SourceText source("input.json", fuzz::bytes_of(data, size));
  const model::FluteName name = model::FlutePath{"input.json"};
  const auto read = flute::read_flute_file(source, name, 440);
  fuzz::check_findings(read.diagnostics, source);
  fuzz::require(read.value || base::has_errors(read.diagnostics), "a flute or an error");
  if (!read.ok()) return 0;
  fingering::ResolveOptions options;
  options.flutes = [&](const model::FluteName&, double) { return read; };
  const auto scale =
      notation::read_notation({"", "筒 一 二 三メ | 0 1 7 8 | ?C6 ?F#6 3↓20 9 |=\n"});
  for (const auto refinger : {fingering::Refinger::where_needed, fingering::Refinger::all}) {
    options.refinger = refinger;
    const auto resolved = fingering::resolve(*scale.value, options);
    fuzz::require(resolved.value.has_value(), "a scale is resolved for any flute");
  }
  return 0;
}
