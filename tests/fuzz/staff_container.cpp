// Any bytes as a compressed staff file; the XML inside has a target of its own.
#include "fuzz/checks.h"
#include "musicxml/xml/container.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace yubifu;
  const std::string bytes = fuzz::bytes_of(data, size);
  const musicxml::ContainerLimits limits{50, std::size_t{4} << 20};
  const auto score = musicxml::score_in_container(bytes, limits);
  fuzz::require(score.value || base::has_errors(score.diagnostics), "a score or an error");
  fuzz::require(!score.value || score.value->size() <= limits.inflated_bytes, "limits hold");
  if (!score.ok()) return 0;
  const auto changed = musicxml::with_score(bytes, "<score-partwise/>");
  fuzz::require(changed.value || base::has_errors(changed.diagnostics), "an archive or an error");
  if (!changed.ok()) return 0;
  const auto again = musicxml::score_in_container(*changed.value, limits);
  fuzz::require(again.value == "<score-partwise/>", "the score put in is found");
  return 0;
}
