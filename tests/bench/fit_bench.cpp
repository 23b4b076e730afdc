// Ranking flutes: thirteen sizes over the octaves that can hold a melody.
#include <cstddef>

#include <benchmark/benchmark.h>

#include "bench/bench_score.h"
#include "fingering/rank.h"
#include "fingering/resolve.h"

namespace yubifu::bench {
namespace {

fingering::Resolved melody_of(std::size_t notes) {
  return *fingering::resolve(bench_score(notes), {}).value;
}

void rank_flutes(benchmark::State& state) {
  const fingering::Resolved melody = melody_of(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(fingering::rank_flutes(melody, {}));
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(rank_flutes)
    ->Arg(1'000)
    ->Arg(10'000)
    ->Arg(100'000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity();

void rank_flutes_in_any_key(benchmark::State& state) {
  const fingering::Resolved melody = melody_of(static_cast<std::size_t>(state.range(0)));
  fingering::RankOptions options;
  options.keys = fingering::Keys::any;
  for (auto _ : state) benchmark::DoNotOptimize(fingering::rank_flutes(melody, options));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(rank_flutes_in_any_key)->Arg(10'000)->Unit(benchmark::kMillisecond);

void resolve_melody(benchmark::State& state) {
  const fingering::Resolved melody = melody_of(static_cast<std::size_t>(state.range(0)));
  fingering::ResolveOptions options;
  options.refinger = fingering::Refinger::all;
  for (auto _ : state) {
    benchmark::DoNotOptimize(fingering::resolve(melody.score, options));
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(resolve_melody)
    ->Arg(1'000)
    ->Arg(10'000)
    ->Arg(100'000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity();

}  // namespace
}  // namespace yubifu::bench
