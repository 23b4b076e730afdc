// Pitch as it sounds and as it is spelled, its limits, keys, and the tuning. C4 is middle C, MIDI
// key 60.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::model {

/// MIDI keys, carried on below 0 and above 127: all that a staff with its transposition or a MIDI
/// file with its bends can say; and the octaves of their spellings.
inline constexpr int kLowestKey = -150;
inline constexpr int kHighestKey = 300;
inline constexpr int kLowestOctave = -14;
inline constexpr int kHighestOctave = 25;

/// True for the keys that a score may hold.
constexpr bool is_key(int key) {
  return key >= kLowestKey && key <= kHighestKey;
}

/// The letters of the scale, counted from C as the octave number does.
enum class Step { c, d, e, f, g, a, b };

/// A note name: letter, alteration in whole semitones (-2 to 2), octave (C4 is middle C).
struct Spelling {
  Step step = Step::c;
  int alter = 0;
  int octave = 4;

  friend bool operator==(const Spelling&, const Spelling&) = default;
};

/// The MIDI key of a spelled note; may lie outside 0 to 127.
int midi_key(const Spelling& spelling);

/// 0 for every C to 11 for every B, also below MIDI key 0.
constexpr int pitch_class(int midi_key) {
  return (midi_key % 12 + 12) % 12;
}

/// "C", "D" … "B", and the step of such a letter.
char letter(Step step);
std::optional<Step> step_from_letter(char letter);

/// "F#4", "Bb3", "C5"; ## and bb for double alterations.
std::string to_text(const Spelling& spelling);
/// Reads that, also with ♯ and ♭, up to two of them, and an octave within the limits.
std::optional<Spelling> parse_spelling(std::string_view text);

/// An equal-tempered semitone, and an octave.
inline constexpr int kSemitoneCents = 100;
inline constexpr int kOctaveCents = 1200;

/// A sounding pitch: the nearest MIDI key and the deviation from it in cents, in (-50, 50].
struct Pitch {
  int key = 60;
  double cents = 0;

  /// Distance from MIDI key 0 in cents.
  double total_cents() const { return 100.0 * key + cents; }
  friend bool operator==(const Pitch&, const Pitch&) = default;
};

/// How messages call a distance of so many octaves, whichever way: "one octave", "2 octaves".
std::string octaves_text(int octaves);

/// The pitch at a distance in cents from MIDI key 0.
Pitch pitch_at(double total_cents);

/// f = A4 * 2^((cents - 6900) / 1200): MIDI Tuning Standard; ISO 16 for A4 = 440 Hz.
double frequency_hz(const Pitch& pitch, double a4_hz);

/// How far one frequency lies over another, in cents.
double cents_between(double from_hz, double to_hz);

/// The distance from MIDI key 0 in cents at which a frequency sounds: frequency_hz backwards.
double total_cents_of(double hz, double a4_hz);

/// The scale on the tonic of a key.
enum class Mode { major, minor };

/// A key signature: sharps are positive, flats negative, -7 to 7 for ordinary keys.
struct Key {
  int fifths = 0;
  Mode mode = Mode::major;

  friend bool operator==(const Key&, const Key&) = default;
};

/// "Bb", "F# minor".
std::string to_text(const Key& key);
/// Reads that, the mode in any case and "major" too, up to seven sharps or flats.
std::optional<Key> parse_key(std::string_view text);

/// How a MIDI key is spelled in a key signature: a note of the scale by its own name, another one
/// sharp in sharp keys and flat in flat keys and in C.
Spelling spell_in_key(int midi_key, const Key& key);

/// The key in whose scale the most of these MIDI keys lie; of equals, one whose do or la is the
/// last note (la gives the minor key), then the one with fewer sharps or flats, then sharps.
Key find_key(const std::vector<int>& midi_keys);

/// The key so many semitones higher, with at most six sharps or flats; six of the kind that the
/// key had.
Key moved_key(const Key& key, int semitones);

/// A4 in Hz: what ensembles and historical instruments have used, and a margin (our choice); and
/// where nobody says another one (ISO 16).
inline constexpr double kLowestTuning = 300;
inline constexpr double kHighestTuning = 600;
inline constexpr double kConcertPitchHz = 440;

/// True for a pitch of A4 within these limits, in Hz.
constexpr bool is_tuning(double hertz) {
  return hertz >= kLowestTuning && hertz <= kHighestTuning;
}

/// Hertz in decimals, such as "442" or "440.5"; nothing for another text or a pitch out of range.
std::optional<double> parse_tuning(std::string_view text);

}  // namespace yubifu::model
