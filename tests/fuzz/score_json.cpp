// Any bytes as score JSON.
#include "fuzz/checks.h"
#include "scorejson/reader.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const base::SourceText source("input.json", fuzz::bytes_of(data, size));
  const auto read = scorejson::read_score_json(source);
  fuzz::check_reading(read, source);
  if (read.ok()) fuzz::check_conversion(*read.value, fingering::Origin::fingers);
  return 0;
}
