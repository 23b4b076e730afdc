// Reading fingering text against a bare pass over its bytes, and writing it.
#include <cstdint>
#include <string>

#include <benchmark/benchmark.h>

#include "base/source_text.h"
#include "bench/bench_score.h"
#include "notation/read/reader.h"
#include "notation/write/writer.h"

namespace yubifu::bench {
namespace {

std::string text_of(std::int64_t notes) {
  return notation::write_notation(bench_score(static_cast<std::size_t>(notes)), {}).value.value();
}

void text_reading(benchmark::State& state) {
  const base::SourceText source("tune", text_of(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(notation::read_notation(source));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(text_reading)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

// One look at every byte, as any reader must at least take.
void text_reading_bare_pass(benchmark::State& state) {
  const std::string text = text_of(state.range(0));
  for (auto _ : state) {
    std::uint64_t lines = 0;
    for (const char c : text) {
      if (c == '\n') ++lines;
      benchmark::DoNotOptimize(lines);
    }
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(text_reading_bare_pass)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(kLarge)
    ->Unit(benchmark::kMillisecond);

void text_writing(benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(notation::write_notation(score, {}));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(text_writing)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
