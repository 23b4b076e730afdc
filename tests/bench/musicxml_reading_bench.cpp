// Reading MusicXML, the whole way from bytes to a score, against pugixml's bare load of the same
// bytes. Both free their tree.
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>

#include <benchmark/benchmark.h>
#include <pugixml.hpp>

#include "base/source_text.h"
#include "bench/bench_score.h"
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"
#include "musicxml/xml/document_text.h"

namespace yubifu::bench {
namespace {

std::string bench_file(const benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  return musicxml::write_musicxml(score, {}).value.value();
}

void count(benchmark::State& state, const std::string& bytes) {
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(bytes.size()));
}

void musicxml_reading(benchmark::State& state) {
  const std::string bytes = bench_file(state);
  for (auto _ : state) {
    state.PauseTiming();
    std::string own = bytes;  // as a file is read; the text is not copied again
    state.ResumeTiming();
    if (!musicxml::is_xml_text(own)) state.SkipWithError("not the text itself");
    const base::SourceText source("tune", std::move(own));
    benchmark::DoNotOptimize(musicxml::read_musicxml(source, {}));
  }
  count(state, bytes);
}
BENCHMARK(musicxml_reading)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

void musicxml_reading_pugixml_parse(benchmark::State& state) {
  const std::string bytes = bench_file(state);
  for (auto _ : state) {
    pugi::xml_document document;
    benchmark::DoNotOptimize(document.load_buffer(bytes.data(), bytes.size()));
  }
  count(state, bytes);
}
BENCHMARK(musicxml_reading_pugixml_parse)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(kLarge)
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
