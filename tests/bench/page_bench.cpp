// The printed page: from a score to the text of the files.
#include <benchmark/benchmark.h>

#include "bench/bench_score.h"
#include "page/page.h"

namespace yubifu::bench {
namespace {

void write_page(benchmark::State& state, page::ReadingDirection direction) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  page::PageOptions options;
  options.direction = direction;
  for (auto _ : state)
    benchmark::DoNotOptimize(page::write_pages(score, {}, options, page::PrintedAs::html));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK_CAPTURE(write_page, columns, page::ReadingDirection::down)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(kLarge)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(write_page, rows, page::ReadingDirection::across)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
