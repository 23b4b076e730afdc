#include "model/pitch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"

namespace yubifu::model {
namespace {

constexpr double kConcertCents = 6900;  // of A4, MIDI key 69
constexpr int kMostFifths = 6;          // of the keys that are found and moved

constexpr std::array<int, 7> kSemitones{0, 2, 4, 5, 7, 9, 11};
constexpr std::array<char, 7> kLetters{'C', 'D', 'E', 'F', 'G', 'A', 'B'};
// The place of each letter on the circle of fifths, C being 0.
constexpr std::array<int, 7> kFifths{0, 2, 4, -1, 1, 3, 5};

std::string alteration(int alter) {
  return std::string(static_cast<std::size_t>(std::abs(alter)), alter < 0 ? 'b' : '#');
}

// Takes accidentals from the front of `text`.
int take_alteration(std::string_view& text) {
  constexpr std::array<std::pair<std::string_view, int>, 4> kSigns{
      {{"#", 1}, {"b", -1}, {"♯", 1}, {"♭", -1}}};
  int alter = 0;
  while (true) {
    const auto* sign = std::find_if(kSigns.begin(), kSigns.end(), [&](const auto& known) {
      return text.starts_with(known.first);
    });
    if (sign == kSigns.end()) return alter;
    alter += sign->second;
    text.remove_prefix(sign->first.size());
  }
}

// Takes a letter with its accidentals from the front of `text`.
std::optional<Spelling> take_name(std::string_view& text) {
  const auto step = text.empty() ? std::nullopt : step_from_letter(text.front());
  if (!step) return std::nullopt;
  text.remove_prefix(1);
  return Spelling{*step, take_alteration(text)};
}

// The name at a place on the circle of fifths.
Spelling name_on_circle(int fifth) {
  const int alter = static_cast<int>(std::floor((fifth + 1) / 7.0));
  const auto* step = std::find(kFifths.begin(), kFifths.end(), fifth - 7 * alter);
  return {static_cast<Step>(step - kFifths.begin()), alter, 0};
}

// The first place on the circle of fifths, from `from` on, that sounds as a MIDI key.
int fifth_from(int from, int midi_key) {
  while (pitch_class(7 * from) != pitch_class(midi_key)) ++from;
  return from;
}

// The scale of a key signature is seven neighbours on the circle, from fa on: F to B in C major.
bool in_scale(int midi_key, int fifths) {
  return fifth_from(fifths - 1, midi_key) <= fifths + 5;
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
  const auto* found = std::find(kLetters.begin(), kLetters.end(), letter);
  if (found == kLetters.end()) return std::nullopt;
  return static_cast<Step>(found - kLetters.begin());
}

std::string to_text(const Spelling& spelling) {
  return fmt::format("{}{}{}", letter(spelling.step), alteration(spelling.alter), spelling.octave);
}

std::optional<Spelling> parse_spelling(std::string_view text) {
  auto spelling = take_name(text);
  const auto octave = base::whole_number(text);
  if (!spelling || !octave || std::abs(spelling->alter) > 2 || *octave < kLowestOctave ||
      *octave > kHighestOctave) {
    return std::nullopt;
  }
  spelling->octave = *octave;
  return spelling;
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
  const bool is_minor = key.mode == Mode::minor;
  const Spelling tonic = name_on_circle(key.fifths + (is_minor ? 3 : 0));
  return letter(tonic.step) + alteration(tonic.alter) + (is_minor ? " minor" : "");
}

std::optional<Key> parse_key(std::string_view text) {
  const auto tonic = take_name(text);
  if (!tonic) return std::nullopt;
  while (text.starts_with(' ')) text.remove_prefix(1);
  const std::string mode = base::lower_case(text);
  if (!mode.empty() && mode != "major" && mode != "minor") return std::nullopt;
  Key key{kFifths[static_cast<std::size_t>(tonic->step)] + 7 * tonic->alter, Mode::major};
  if (mode == "minor") key = {key.fifths - 3, Mode::minor};
  if (std::abs(key.fifths) > 7) return std::nullopt;
  return key;
}

Spelling spell_in_key(int midi_key, const Key& key) {
  int from = key.fifths - 1;
  if (!in_scale(midi_key, key.fifths)) from = in_scale(midi_key, 0) ? -1 : key.fifths > 0 ? 6 : -6;
  Spelling spelling = name_on_circle(fifth_from(from, midi_key));
  spelling.octave = (midi_key - model::midi_key(spelling)) / 12;
  return spelling;
}

std::optional<double> parse_tuning(std::string_view text) {
  const auto hertz = base::decimal_number(text);
  return hertz && is_tuning(*hertz) ? hertz : std::nullopt;
}

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
