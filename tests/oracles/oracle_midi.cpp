#include "oracles/oracle_midi.h"

#include <array>
#include <cstdio>
#include <fstream>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "midi/write/writer.h"
#include "model/play_out.h"
#include "scorejson/writer.h"

namespace yubifu::oracles {
namespace {

// In the order of midi::Lyrics.
constexpr std::array<std::string_view, 4> kLyrics{"fingering", "song", "shoga", "none"};

midi::MidiWriteOptions midi_options(std::uint64_t seed) {
  const auto pick = [seed](std::uint64_t step, std::uint64_t n) {
    return static_cast<int>(seed / step % n);
  };
  midi::MidiWriteOptions options;
  options.lyrics = static_cast<midi::Lyrics>(pick(1, kLyrics.size()));
  if (seed % 3 == 0) options.program = 1 + pick(3, 128);
  if (seed % 5 == 0) options.velocity = 1 + pick(5, 127);
  if (seed % 7 == 0) options.ppq = 24 * (1 + pick(7, 100));
  if (seed % 4 == 0) options.practice.tempo_percent = 50 + 5 * pick(4, 20);
  return options;
}

std::string options_json(const midi::MidiWriteOptions& options) {
  return fmt::format("{{\"lyrics\": \"{}\", \"program\": {}, \"velocity\": {}, \"tempo\": {}{}}}\n",
                     kLyrics.at(static_cast<std::size_t>(options.lyrics)), options.program,
                     options.velocity, options.practice.tempo_percent,
                     options.ppq ? fmt::format(", \"ppq\": {}", *options.ppq) : "");
}

void write(const std::filesystem::path& base, std::string_view ending, std::string_view bytes) {
  std::ofstream(base.string() + std::string(ending), std::ios::binary) << bytes;
}

}  // namespace

bool write_midi_case(const model::Score& music, std::uint64_t seed,
                     const std::filesystem::path& base) {
  const midi::MidiWriteOptions options = midi_options(seed);
  const auto file = midi::write_midi(music, options);
  if (!file.value) {
    for (const auto& diagnostic : file.diagnostics) {
      fmt::print(stderr, "{}: {}\n", seed, diagnostic.message);
    }
    return false;
  }
  const auto played = model::play_out(music);
  if (!played.value) return false;
  const auto json = scorejson::write_score_json(played.value->score, {played.value->source});
  if (!json.value) return true;
  write(base, ".mid", *file.value);
  write(base, ".json", *json.value);
  write(base, ".options.json", options_json(options));
  return true;
}

}  // namespace yubifu::oracles
