// Writing MusicXML, the whole way from a score to text, against pugixml's bare save of the same
// document, which only has to turn a finished tree into text.
#include <cstddef>
#include <cstdint>
#include <string>

#include <benchmark/benchmark.h>
#include <pugixml.hpp>

#include "bench/bench_score.h"
#include "musicxml/write/writer.h"

namespace yubifu::bench {
namespace {

void musicxml_writing(benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  std::size_t bytes = 0;
  for (auto _ : state) {
    const auto written = musicxml::write_musicxml(score, {});
    bytes = written.value->size();
    benchmark::DoNotOptimize(bytes);
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(bytes));
}
BENCHMARK(musicxml_writing)->Arg(kSmall)->Arg(kMiddle)->Arg(kLarge)->Unit(benchmark::kMillisecond);

// Appends to a string, as whoever wants the text in memory has to.
class StringWriter : public pugi::xml_writer {
 public:
  explicit StringWriter(std::string& out) : out_(out) {}
  void write(const void* data, std::size_t size) override {
    out_.append(static_cast<const char*>(data), size);
  }

 private:
  std::string& out_;
};

void musicxml_writing_pugixml_save(benchmark::State& state) {
  const model::Score score = bench_score(static_cast<std::size_t>(state.range(0)));
  const std::string text = musicxml::write_musicxml(score, {}).value.value();
  pugi::xml_document document;
  document.load_buffer(text.data(), text.size(),
                       pugi::parse_default | pugi::parse_doctype | pugi::parse_declaration);
  for (auto _ : state) {
    std::string out;
    out.reserve(text.size());
    StringWriter writer(out);
    document.save(writer, "  ");
    benchmark::DoNotOptimize(out);
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
}
BENCHMARK(musicxml_writing_pugixml_save)
    ->Arg(kSmall)
    ->Arg(kMiddle)
    ->Arg(kLarge)
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace yubifu::bench
