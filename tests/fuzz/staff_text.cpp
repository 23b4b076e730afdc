// Any bytes as MusicXML.
#include "fuzz/checks.h"
#include "musicxml/read/reader.h"
#include "musicxml/xml/document_text.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const std::string bytes = fuzz::bytes_of(data, size);
  const auto text = musicxml::xml_text(bytes);
  fuzz::check_findings(text.diagnostics, {"input.musicxml", bytes});
  if (!text.ok()) return 0;
  const base::SourceText source("input.musicxml", *text.value);
  const auto read = musicxml::read_musicxml(source, {});
  fuzz::check_reading(read, source);
  if (read.ok()) fuzz::check_conversion(*read.value, fingering::Origin::staff);
  return 0;
}
