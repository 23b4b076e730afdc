// Writes the measured tune in every format, for measurements of the whole program.
//
//   bench_files FOLDER NOTES...      FOLDER/tune-NOTES.yubifu, .musicxml, .mid, .json
#include <charconv>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "bench/bench_score.h"
#include "midi/write/writer.h"
#include "musicxml/write/writer.h"
#include "notation/write/writer.h"
#include "scorejson/writer.h"

namespace {

using namespace yubifu;

void write(const std::filesystem::path& path, const base::Outcome<std::string>& written) {
  std::ofstream(path, std::ios::binary) << written.value.value();
}

void write_tune(const std::filesystem::path& folder, std::size_t notes) {
  const model::Score score = bench::bench_score(notes);
  const std::string name = fmt::format("tune-{}", notes);
  write(folder / (name + ".yubifu"), notation::write_notation(score, {}));
  write(folder / (name + ".musicxml"), musicxml::write_musicxml(score, {}));
  write(folder / (name + ".mid"), midi::write_midi(score, {}));
  write(folder / (name + ".json"), scorejson::write_score_json(score, {}));
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string_view> arguments(argv + 1, argv + argc);
  for (std::size_t i = 1; i < arguments.size(); ++i) {
    std::size_t notes = 0;
    const char* const end = arguments[i].data() + arguments[i].size();
    if (std::from_chars(arguments[i].data(), end, notes).ptr != end || notes == 0) {
      fmt::print(stderr, "use: bench_files FOLDER NOTES...\n");
      return 2;
    }
    write_tune(arguments[0], notes);
  }
  return 0;
}
