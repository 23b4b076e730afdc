// Any bytes as fingering text.
#include "fuzz/checks.h"
#include "notation/read/reader.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const base::SourceText source("input.yubifu", fuzz::bytes_of(data, size));
  const auto read = notation::read_notation(source);
  fuzz::check_reading(read, source);
  if (read.ok()) fuzz::check_conversion(*read.value, fingering::Origin::fingers);
  return 0;
}
