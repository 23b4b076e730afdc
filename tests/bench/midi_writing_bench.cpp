// Writing MIDI, the whole way from a score to bytes, against libsmf's own save of the same events,
// which only has to turn finished events into bytes.
#include <filesystem>
#include <string>

#include <benchmark/benchmark.h>

// libsmf includes glib inside its own extern "C", so glib comes first.
#include <glib.h>
// Its own header follows.
#include <smf.h>

#include "bench/bench_score.h"
#include "midi/write/writer.h"

namespace yubifu::bench {
namespace {

void midi_writing(benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(midi::write_midi(score, {}));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(midi_writing)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

void midi_writing_libsmf_save(benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  const std::string bytes = midi::write_midi(score, {}).value.value();
  smf_t* file = smf_load_from_memory(bytes.data(), static_cast<int>(bytes.size()));
  const auto path = std::filesystem::temp_directory_path() / "yubifu-bench.mid";
  for (auto _ : state) benchmark::DoNotOptimize(smf_save(file, path.c_str()));
  // Its delete would take as long again; the process ends soon.
  std::filesystem::remove(path);
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
// Its time is quadratic: 200,000 notes would take a minute.
BENCHMARK(midi_writing_libsmf_save)->Arg(kSmall)->Arg(kMiddle)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
