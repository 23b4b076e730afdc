// Writing MIDI: the whole way from a score to bytes.
#include <string>

#include <benchmark/benchmark.h>

#include "bench/bench_score.h"
#include "midi/writer.h"

namespace yubifu::bench {
namespace {

void write_midi(benchmark::State& state) {
  const auto notes = static_cast<std::size_t>(state.range(0));
  const model::Score score = bench_score(notes);
  for (auto _ : state) benchmark::DoNotOptimize(midi::write_midi(score, {}));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(write_midi)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
