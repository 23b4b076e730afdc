// Reading MIDI: the structure scan and the whole way to a score, against libsmf's own load of the
// same file; and a performance that has to be quantised.
#include <chrono>
#include <string>

#include <benchmark/benchmark.h>

// libsmf includes glib inside its own extern "C", so glib comes first.
#include <glib.h>
// Its own header follows.
#include <smf.h>

#include "bench/bench_score.h"
#include "bench/performed_tune.h"
#include "midi/read/reader.h"
#include "midi/smf/scan.h"
#include "midi/write/writer.h"

namespace yubifu::bench {
namespace {

std::string bench_file(const benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  return midi::write_midi(score, {}).value.value();
}

// The same music from another program, which says nothing of its ticks: the reader has to find out
// that they sit on a grid.
std::string foreign_file(const benchmark::State& state) {
  std::string file = bench_file(state);
  for (std::size_t at = file.find("yubifu."); at != std::string::npos;
       at = file.find("yubifu.", at)) {
    file[at] = 'Y';
  }
  return file;
}

// smf_delete is quadratic: events are freed one by one before it.
void free_file(smf_t* file) {
  for (guint t = 0; t < file->tracks_array->len; ++t) {
    auto* track = static_cast<smf_track_t*>(g_ptr_array_index(file->tracks_array, t));
    for (guint e = 0; e < track->events_array->len; ++e) {
      auto* event = static_cast<smf_event_t*>(g_ptr_array_index(track->events_array, e));
      event->track = nullptr;
      smf_event_delete(event);
    }
    g_ptr_array_set_size(track->events_array, 0);
    track->number_of_events = 0;
  }
  smf_delete(file);
}

void midi_reading_libsmf_load(benchmark::State& state) {
  const std::string bytes = bench_file(state);
  for (auto _ : state) {
    const auto start = std::chrono::steady_clock::now();
    smf_t* file = smf_load_from_memory(bytes.data(), static_cast<int>(bytes.size()));
    const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
    state.SetIterationTime(time.count());
    free_file(file);
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(midi_reading_libsmf_load)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(kLarge)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

void midi_reading_scan(benchmark::State& state) {
  const std::string bytes = bench_file(state);
  for (auto _ : state) benchmark::DoNotOptimize(midi::scan(bytes));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(midi_reading_scan)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

void midi_reading_own_file(benchmark::State& state) {
  const std::string bytes = bench_file(state);
  for (auto _ : state) benchmark::DoNotOptimize(midi::read_midi(bytes, {}));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(midi_reading_own_file)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(kLarge)
    ->Unit(benchmark::kMillisecond);

void midi_reading_on_the_grid(benchmark::State& state) {
  const std::string bytes = foreign_file(state);
  for (auto _ : state) benchmark::DoNotOptimize(midi::read_midi(bytes, {}));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(midi_reading_on_the_grid)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(100'000)
    ->Arg(kLarge)
    ->Unit(benchmark::kMillisecond);

// About two notes a beat.
void midi_reading_performance(benchmark::State& state) {
  const auto tune = random_tune(Rhythm::mixed, static_cast<std::size_t>(state.range(0)), 1);
  const std::string bytes = performed_file(play(tune, {100, 15, 1, 1}), 100);
  for (auto _ : state) benchmark::DoNotOptimize(midi::read_midi(bytes, {}));
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(tune.size()));
}
BENCHMARK(midi_reading_performance)
    ->Arg(kSmall / 2)
    ->Arg(kMiddle / 2)
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
