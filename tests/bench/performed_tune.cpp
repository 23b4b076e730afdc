#include "bench/performed_tune.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "midi/read/reader.h"
#include "midi/smf/events.h"
#include "midi/smf/smf_bridge.h"

namespace yubifu::bench {
namespace {

constexpr std::int64_t kBeat = 12;  // twelfths of a quarter note

// Values of one beat, in twelfths.
std::vector<std::int64_t> binary_beat(std::mt19937_64& random) {
  std::vector<std::int64_t> values;
  for (std::int64_t left = kBeat; left > 0;) {
    std::vector<std::int64_t> fitting;
    for (const std::int64_t value : {12, 6, 3}) {
      if (value <= left) fitting.push_back(value);
    }
    values.push_back(
        fitting[std::uniform_int_distribution<std::size_t>(0, fitting.size() - 1)(random)]);
    left -= values.back();
  }
  return values;
}

int parts_of(const std::vector<std::int64_t>& values) {
  return static_cast<int>(kBeat / *std::min_element(values.begin(), values.end()));
}

// A melody that never strikes the same key twice.
int key_of(std::size_t note) {
  constexpr std::array<int, 5> kKeys{72, 74, 76, 79, 81};
  return kKeys[note % kKeys.size()];
}

template <typename IsRight>
double share(const std::vector<MeantNote>& tune, const std::vector<MeantNote>& read,
             IsRight is_right) {
  std::size_t right = 0;
  for (std::size_t i = 0; i < std::min(tune.size(), read.size()); ++i) {
    if (is_right(tune[i], read[i])) ++right;
  }
  return static_cast<double>(right) / static_cast<double>(tune.size());
}

}  // namespace

std::vector<MeantNote> random_tune(Rhythm rhythm, std::size_t beats, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::uniform_int_distribution<int> one_in_three(0, 2);
  std::vector<MeantNote> tune;
  for (std::size_t beat = 0; beat < beats; ++beat) {
    const bool triplet = rhythm == Rhythm::mixed && one_in_three(random) == 0;
    const auto values = triplet ? std::vector<std::int64_t>(3, kBeat / 3) : binary_beat(random);
    std::int64_t at = static_cast<std::int64_t>(beat) * kBeat;
    for (const std::int64_t value : values) {
      tune.push_back({at, at + value, parts_of(values)});
      at += value;
    }
  }
  return tune;
}

std::vector<PlayedNote> play(const std::vector<MeantNote>& tune, const Playing& playing) {
  std::mt19937_64 random(playing.seed);
  const double ticks_per_ms =
      kPlayedTicks * playing.file_tempo.value_or(playing.beats_per_minute) / 60'000;
  std::normal_distribution<double> error(0, playing.error_ms * ticks_per_ms);
  // The tempo changes steadily from beat to beat.
  const double growth = playing.drift / (static_cast<double>(tune.back().end) / kBeat);
  const auto milliseconds = [&](double beats) {
    const double steady = 60'000 / playing.beats_per_minute;
    return growth == 0 ? steady * beats : steady * std::log1p(growth * beats) / growth;
  };
  std::vector<PlayedNote> played;
  std::int64_t last = -1;
  for (const MeantNote& note : tune) {
    const auto tick = [&](double twelfths) -> std::int64_t {
      const double lead = milliseconds(1) * kLeadBeats;
      return std::llround((lead + milliseconds(twelfths / kBeat)) * ticks_per_ms + error(random));
    };
    const auto meant_begin = static_cast<double>(note.begin);
    const auto length = static_cast<double>(note.end - note.begin);
    const std::int64_t begin = std::max(last + 1, tick(meant_begin));
    played.push_back({begin, std::max(begin + 1, tick(meant_begin + playing.held * length))});
    last = begin;
  }
  return played;
}

std::string performed_file(const std::vector<PlayedNote>& notes, double beats_per_minute) {
  midi::Track tempo;
  tempo.events.push_back({0, midi::meter_message({4, 4})});
  tempo.events.push_back(
      {0, midi::tempo_message(static_cast<std::uint32_t>(std::lround(60e6 / beats_per_minute)))});
  midi::Track track;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const int key = key_of(i);
    track.events.push_back({notes[i].begin, midi::message(midi::kNoteOn, 0, key, 80)});
    track.events.push_back({notes[i].end, midi::message(midi::kNoteOff, 0, key, 64)});
  }
  std::stable_sort(track.events.begin(), track.events.end(),
                   [](const auto& a, const auto& b) { return a.tick < b.tick; });
  tempo.end = track.end = track.events.back().tick;
  return midi::to_bytes({tempo, track}, kPlayedTicks);
}

double share_right(const std::vector<MeantNote>& tune, const std::vector<MeantNote>& read) {
  return share(tune, read, [](const MeantNote& meant, const MeantNote& note) {
    return meant.begin == note.begin && meant.end == note.end;
  });
}

double share_begun_right(const std::vector<MeantNote>& tune, const std::vector<MeantNote>& read) {
  return share(tune, read, [](const MeantNote& meant, const MeantNote& note) {
    return meant.begin == note.begin;
  });
}

std::vector<MeantNote> read_back(const std::string& file) {
  const auto outcome = midi::read_midi(file, {});
  std::vector<MeantNote> read;
  if (!outcome.value) return read;
  std::vector<model::Rational> starts{0};
  for (const auto& measure : outcome.value->measures) {
    starts.push_back(starts.back() + measure.length);
  }
  const auto twelfths = [](model::Rational time) {
    const model::Rational scaled = (time - model::Rational(kLeadBeats)) * model::Rational(kBeat);
    return scaled.is_whole() ? scaled.numerator() : -1;
  };
  for (const auto& note : outcome.value->notes) {
    const model::Rational begin = starts[note.measure] + note.onset;
    read.push_back({twelfths(begin), twelfths(begin + note.duration), 0});
  }
  return read;
}

std::vector<MeantNote> oracle(const std::vector<MeantNote>& tune,
                              const std::vector<PlayedNote>& played) {
  std::vector<MeantNote> read;
  for (std::size_t i = 0; i < tune.size(); ++i) {
    const std::int64_t part = kBeat / tune[i].parts;
    const double twelfths =
        static_cast<double>(played[i].begin * kBeat) / kPlayedTicks - kLeadBeats * kBeat;
    read.push_back({std::llround(twelfths / static_cast<double>(part)) * part, 0, 0});
  }
  for (std::size_t i = 0; i + 1 < read.size(); ++i) read[i].end = read[i + 1].begin;
  if (!read.empty()) read.back().end = tune.back().end;
  return read;
}

}  // namespace yubifu::bench
