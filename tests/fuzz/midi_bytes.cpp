// Any bytes as a Standard MIDI File.
#include "fuzz/checks.h"
#include "midi/read/reader.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const std::string bytes = fuzz::bytes_of(data, size);
  const auto read = midi::read_midi(bytes, {});
  // Offsets of bytes are in the messages, not in their places.
  fuzz::check_reading(read, {"input.mid", {}});
  if (read.ok()) fuzz::check_conversion(*read.value, fingering::Origin::sound);
  return 0;
}
