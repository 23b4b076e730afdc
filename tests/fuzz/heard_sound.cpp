// Any bytes as a recording; and any bytes as what is to be played in one, four for each sound: how
// high, how long, how loud, of which kind.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "flute/flute_file.h"
#include "fuzz/checks.h"
#include "hearing/measured_flute.h"
#include "support/played.h"

namespace {

using namespace yubifu;

constexpr int kRate = 8'000;
constexpr std::size_t kMostSounds = 24;

std::string recording_made_of(const std::string& bytes) {
  std::vector<support::PlayedTone> tones;
  double noise = 0;
  for (std::size_t i = 0; i + 4 <= bytes.size() && tones.size() < kMostSounds; i += 4) {
    const auto byte = [&](std::size_t k) {
      return static_cast<double>(static_cast<unsigned char>(bytes[i + k]));
    };
    support::PlayedTone tone;
    tone.hz = 100 * std::exp2(byte(0) / 42);
    tone.seconds = byte(1) / 300;
    tone.level = std::exp2(-byte(2) / 20);
    const auto kind = static_cast<unsigned>(byte(3));
    tone.silence = kind % 4 == 0 ? 0 : 0.25;
    tone.vibrato_cents = kind / 4 % 4 * 20;
    tone.drift_cents = kind / 16 % 4 * 15;
    if (kind / 64 % 2 == 1) tone.partials = {0.1, 1, 0, 0.3};
    if (kind / 128 % 2 == 1) noise += 0.01;
    tones.push_back(tone);
  }
  return support::wav_of(support::played(tones, {kRate, noise}), kRate);
}

void check_heard(const std::string& bytes) {
  auto recording = hearing::Recording::open(base::bytes_of(bytes));
  fuzz::require(recording.value || base::has_errors(recording.diagnostics), "a sound or an error");
  // What a header promises may take hours to hear.
  if (!recording.value || recording.value->frames() > 30 * hearing::kHighestRate) return;
  const auto tones = hearing::hear(*recording.value);
  fuzz::check_findings(tones.diagnostics, base::SourceText("sound", {}));
  fuzz::require(tones.value || base::has_errors(tones.diagnostics), "tones or an error");
  if (!tones.value) return;
  double before = 0;
  for (const hearing::Tone& tone : *tones.value) {
    fuzz::require(tone.end > tone.begin && tone.begin >= before, "tones stand in order");
    fuzz::require(tone.pitch.hz > 90 && tone.pitch.hz < 10'000, "a tone has a pitch of a flute");
    before = tone.begin;
  }
  const flute::Flute like = flute::built_in_flute({6, 0}, 440);
  const auto signs = hearing::signs_of(*tones.value, hearing::upward_signs(like), like);
  fuzz::require(signs.value.has_value(), "signs are told");
  if (signs.value->empty()) return;
  const base::SourceText file(
      "own.json", hearing::flute_file_text(
                      {"own", "a sound", 25, hearing::measured(*signs.value, like)}, like));
  fuzz::require(flute::read_flute_file(file, model::FlutePath{"own.json"}, 440).ok(),
                "what was measured is a flute file");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes = fuzz::bytes_of(data, size);
  check_heard(bytes);
  check_heard(recording_made_of(bytes));
  return 0;
}
