#include "model/pitch.h"

#include <array>
#include <cmath>
#include <cstdlib>
#include <tuple>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"

namespace yubifu::model {
namespace {

constexpr double kConcertCents = 6900;  // of A4, MIDI key 69

constexpr std::array<int, 7> kSemitones{0, 2, 4, 5, 7, 9, 11};
constexpr std::array<char, 7> kLetters{'C', 'D', 'E', 'F', 'G', 'A', 'B'};
// The place of each letter on the circle of fifths, C being 0.
constexpr std::array<int, 7> kFifths{0, 2, 4, -1, 1, 3, 5};

std::string alteration(int alter) {
  return std::string(static_cast<std::size_t>(std::abs(alter)), alter < 0 ? 'b' : '#');
}

// Takes accidentals from the front of `text`.
int take_alteration(std::string_view& text) {
  int alter = 0;
  while (!text.empty()) {
    if (text.front() == '#') {
      ++alter;
      text.remove_prefix(1);
    } else if (text.front() == 'b') {
      --alter;
      text.remove_prefix(1);
    } else if (text.starts_with("♯")) {
      ++alter;
      text.remove_prefix(std::string_view("♯").size());
    } else if (text.starts_with("♭")) {
      --alter;
      text.remove_prefix(std::string_view("♭").size());
    } else {
      break;
    }
  }
  return alter;
}

int floor_div(int a, int b) {
  return a / b - (a % b < 0 ? 1 : 0);
}

}  // namespace

int midi_key(const Spelling& spelling) {
  return 12 * (spelling.octave + 1) + kSemitones[static_cast<std::size_t>(spelling.step)] +
         spelling.alter;
}

char letter(Step step) {
  return kLetters[static_cast<std::size_t>(step)];
}

std::optional<Step> step_from_letter(char letter) {
  for (std::size_t i = 0; i < kLetters.size(); ++i) {
    if (kLetters[i] == letter) return static_cast<Step>(i);
  }
  return std::nullopt;
}

std::string to_text(const Spelling& spelling) {
  return fmt::format("{}{}{}", letter(spelling.step), alteration(spelling.alter), spelling.octave);
}

std::optional<Spelling> parse_spelling(std::string_view text) {
  if (text.empty()) return std::nullopt;
  const auto step = step_from_letter(text.front());
  if (!step) return std::nullopt;
  text.remove_prefix(1);
  const int alter = take_alteration(text);
  const auto octave = base::whole_number(text);
  if (!octave || std::abs(alter) > 2 || *octave < kLowestOctave || *octave > kHighestOctave) {
    return std::nullopt;
  }
  return Spelling{*step, alter, *octave};
}

std::string octaves_text(int octaves) {
  const int count = std::abs(octaves);
  return count == 1 ? base::message("one octave") : base::message("{} octaves", count);
}

Pitch pitch_at(double total_cents) {
  // ceil(x - 1/2) puts a tie at +50 rather than -50.
  const double key = std::ceil(total_cents / 100 - 0.5);
  return {static_cast<int>(key), total_cents - 100 * key};
}

double frequency_hz(const Pitch& pitch, double a4_hz) {
  return a4_hz * std::exp2((pitch.total_cents() - kConcertCents) / kOctaveCents);
}

double cents_between(double from_hz, double to_hz) {
  return kOctaveCents * std::log2(to_hz / from_hz);
}

double total_cents_of(double hz, double a4_hz) {
  return kConcertCents + cents_between(a4_hz, hz);
}

std::string to_text(const Key& key) {
  const int tonic = key.fifths + (key.mode == Mode::minor ? 3 : 0);
  for (int alter : {0, 1, -1, 2, -2}) {
    for (std::size_t i = 0; i < kFifths.size(); ++i) {
      if (kFifths[i] + 7 * alter == tonic) {
        return kLetters[i] + alteration(alter) + (key.mode == Mode::minor ? " minor" : "");
      }
    }
  }
  return "C";
}

std::optional<Key> parse_key(std::string_view text) {
  if (text.empty()) return std::nullopt;
  const auto step = step_from_letter(text.front());
  if (!step) return std::nullopt;
  text.remove_prefix(1);
  const int alter = take_alteration(text);
  while (text.starts_with(' ')) text.remove_prefix(1);
  std::string mode(text);
  for (char& c : mode) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (!mode.empty() && mode != "major" && mode != "minor") return std::nullopt;
  Key key{kFifths[static_cast<std::size_t>(*step)] + 7 * alter, Mode::major};
  if (mode == "minor") key = {key.fifths - 3, Mode::minor};
  if (std::abs(key.fifths) > 7) return std::nullopt;
  return key;
}

namespace {

// The spelling with a given place on the circle of fifths, in the octave where the key lies.
Spelling spelled_on_circle(int midi_key, int fifth) {
  const int alter = floor_div(fifth + 1, 7);
  std::size_t step = 0;
  while (kFifths[step] != fifth - 7 * alter) ++step;
  const int octave = floor_div(midi_key - alter - kSemitones[step], 12) - 1;
  return {static_cast<Step>(step), alter, octave};
}

bool sounds_as(int fifth, int midi_key) {
  return (midi_key - 7 * fifth) % 12 == 0;
}

}  // namespace

Spelling spell_in_key(int midi_key, const Key& key) {
  // Seven neighbours on the circle of fifths are a scale: F to B in C major.
  for (int fifth = key.fifths - 1; fifth <= key.fifths + 5; ++fifth) {
    if (sounds_as(fifth, midi_key)) return spelled_on_circle(midi_key, fifth);
  }
  for (int fifth = -1; fifth <= 5; ++fifth) {
    if (sounds_as(fifth, midi_key)) return spelled_on_circle(midi_key, fifth);
  }
  int fifth = key.fifths > 0 ? 6 : -6;
  while (!sounds_as(fifth, midi_key)) ++fifth;
  return spelled_on_circle(midi_key, fifth);
}

std::optional<double> parse_tuning(std::string_view text) {
  const auto hertz = base::decimal_number(text);
  return hertz && is_tuning(*hertz) ? hertz : std::nullopt;
}

namespace {

constexpr int kMostFifths = 6;

// The scale of a key signature is seven neighbours on the circle of fifths, from fa to ti.
bool in_scale(int midi_key, int fifths) {
  for (int fifth = fifths - 1; fifth <= fifths + 5; ++fifth) {
    if (pitch_class(7 * fifth) == pitch_class(midi_key)) return true;
  }
  return false;
}

}  // namespace

Key find_key(const std::vector<int>& midi_keys) {
  if (midi_keys.empty()) return {};
  std::array<std::size_t, 12> counts{};
  for (const int key : midi_keys) ++counts[static_cast<std::size_t>(pitch_class(key))];
  const int last = pitch_class(midi_keys.back());
  // Fewest outside the scale, last note do or la, fewest sharps or flats, sharps before flats.
  using Rank = std::tuple<std::size_t, bool, int, int>;
  std::optional<Rank> best;
  Key found;
  for (int fifths = -kMostFifths; fifths <= kMostFifths; ++fifths) {
    std::size_t outside = 0;
    for (int key = 0; key < 12; ++key) {
      if (!in_scale(key, fifths)) outside += counts[static_cast<std::size_t>(key)];
    }
    const bool ends_on_do = pitch_class(7 * fifths) == last;
    const bool ends_on_la = pitch_class(7 * fifths + 9) == last;
    const Rank rank{outside, !ends_on_do && !ends_on_la, std::abs(fifths), -fifths};
    if (best && *best <= rank) continue;
    best = rank;
    found = {fifths, ends_on_la ? Mode::minor : Mode::major};
  }
  return found;
}

Key moved_key(const Key& key, int semitones) {
  if (semitones == 0) return key;
  int fifths = pitch_class(key.fifths + 7 * semitones);
  if (fifths > kMostFifths || (fifths == kMostFifths && key.fifths < 0)) fifths -= 12;
  return {fifths, key.mode};
}

}  // namespace yubifu::model
