// Writes generated scores as MusicXML, each beside a list of the notes that a reader must find:
// NNN.musicxml and NNN.notes.json, an array of [key, onset, length, kind] with times in quarters
// as fractions and kind "note" or "grace".
//
//   oracle_scores FOLDER COUNT written    all that a score can hold, notes as written
//   oracle_scores FOLDER COUNT played     what general players understand, played out
//
// or as MIDI, each beside its score and what was asked for (oracle_midi.h):
//
//   oracle_scores FOLDER COUNT midi       all that a score can hold

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "fingering/resolve.h"
#include "model/play_out.h"
#include "musicxml/rules.h"
#include "musicxml/write/writer.h"
#include "oracles/oracle_midi.h"
#include "support/score_generator.h"

namespace {

using namespace yubifu;
using model::Rational;

enum class Kind { written, played, midi };
constexpr std::array<std::string_view, 3> kKinds{"written", "played", "midi"};

struct Options {
  std::filesystem::path folder;
  std::uint64_t count = 0;
  Kind kind = Kind::written;
};

// Nested tuplets, grace notes and bends are left to the reader of durations: players differ.
support::GeneratorOptions generator_options(Kind kind) {
  support::GeneratorOptions options;
  options.only_built_in_signs = true;
  if (kind != Kind::played) return options;
  options.rhythm = support::RhythmKind::tuplets;
  options.bends = false;
  options.grace_notes = false;
  options.jumps = false;
  options.until_cue = false;
  options.free_meter = false;
  options.flute_changes = false;  // Verovio keeps the first transposition
  options.ties_over_repeats = false;
  return options;
}

// Every kind of annotation and both staves take their turns.
musicxml::MusicXmlWriteOptions write_options(std::uint64_t seed) {
  constexpr std::uint64_t kAnnotations = 5;
  musicxml::MusicXmlWriteOptions options;
  options.annotation = static_cast<musicxml::Annotation>(seed % kAnnotations);
  options.strokes = seed % 2 == 0;
  options.holes = seed % 3 == 0;
  if (seed % 4 == 1) options.staff = model::StaffMode::sounding;
  return options;
}

class NoteList {
 public:
  void add(int key, Rational onset, Rational length, std::string_view kind) {
    lines_.push_back(
        fmt::format("[{}, \"{}\", \"{}\", \"{}\"]", key, to_text(onset), to_text(length), kind));
  }

  std::string json() const { return fmt::format("[{}]\n", fmt::join(lines_, ",\n ")); }

 private:
  std::vector<std::string> lines_;
};

// What a staff shows of a flute between the sizes is its nearest size: the key
// nearest to the pitch without the flute's offset, and of two equally near the one that sounds.
int shown_key(const model::Tone& tone, const model::Score& score, std::size_t measure) {
  double offset = 0;
  for (const model::FluteInUse& flute : score.flutes) {
    if (flute.measure <= measure) offset = flute.ichi.cents;
  }
  const double keys = (tone.pitch->total_cents() - offset) / 100;
  const bool sounding_is_near = std::abs(keys - tone.pitch->key) <= 0.50001;
  return sounding_is_near ? tone.pitch->key : static_cast<int>(std::lround(keys));
}

std::string expected_notes(const model::Score& score) {
  std::vector<Rational> starts;
  Rational now;
  for (const model::Measure& measure : score.measures) {
    starts.push_back(now);
    now += measure.length;
  }
  NoteList list;
  for (const model::Note& note : score.notes) {
    const Rational onset = starts[note.measure] + note.onset;
    const auto add = [&](const model::Tone& tone, Rational at, Rational length,
                         std::string_view kind) {
      list.add(shown_key(tone, score, note.measure), at, length, kind);
    };
    for (const model::Tone& tone : note.grace_before) add(tone, onset, 0, "grace");
    add(note.tone, onset, note.duration, "note");
    for (const model::Tone& tone : note.grace_after) add(tone, onset + note.duration, 0, "grace");
  }
  return list.json();
}

// True when every repeat begins at a repeat sign or at the start of the score.
bool repeats_have_signs(const model::Score& score) {
  bool begun = true;
  bool last_was_ending = false;
  for (const model::Measure& measure : score.measures) {
    const bool ending = !measure.ending.empty();
    if (last_was_ending && !ending) begun = false;
    if (measure.repeat_start) begun = true;
    if (measure.repeat_end && !begun) return false;
    if (measure.repeat_end && !ending) begun = false;
    last_was_ending = ending;
  }
  return true;
}

bool has_repeats_and_meter_changes(const model::Score& score) {
  bool repeats = false;
  bool changes = false;
  for (const model::Measure& measure : score.measures) {
    repeats = repeats || measure.repeat_end;
    changes = changes || measure.meter != score.header.meter;
  }
  return repeats && changes;
}

// Verovio shifts what follows a nested tuplet, plays repeats twice whatever `times` says, finds
// other starts than most for repeats without a sign, and gives bars of a repeated passage the
// length of another meter.
bool suits_players(const model::Score& score, std::string_view document) {
  return document.find("<tuplet type=\"start\" number=\"2\"") == document.npos &&
         document.find(" times=\"") == document.npos && repeats_have_signs(score) &&
         !has_repeats_and_meter_changes(score);
}

enum class Written { yes, refused, failed };

// Bars of unlike divisions can need more divisions of the quarter than one number holds.
bool is_too_fine(const base::Diagnostics& found) {
  return std::any_of(found.begin(), found.end(), [](const base::Diagnostic& one) {
    return one.rule == &musicxml::rule::too_many_divisions;
  });
}

Written write_score(const Options& options, std::uint64_t seed) {
  model::Score score = support::random_score(seed, generator_options(options.kind));
  auto resolved = fingering::resolve(std::move(score), {});
  if (!resolved.value) return Written::failed;
  const model::Score& music = resolved.value->score;
  const std::filesystem::path base = options.folder / fmt::format("{:04}", seed);
  if (options.kind == Kind::midi) {
    return oracles::write_midi_case(music, seed, base) ? Written::yes : Written::failed;
  }
  const auto document = musicxml::write_musicxml(music, write_options(seed));
  if (!document.value) {
    if (is_too_fine(document.diagnostics)) return Written::refused;
    for (const auto& diagnostic : document.diagnostics) {
      fmt::print(stderr, "{}: {}\n", seed, diagnostic.message);
    }
    return Written::failed;
  }
  if (options.kind == Kind::played && !suits_players(music, *document.value)) return Written::yes;
  std::ofstream(base.string() + ".musicxml", std::ios::binary) << *document.value;
  if (options.kind == Kind::written) {
    std::ofstream(base.string() + ".notes.json") << expected_notes(music);
    return Written::yes;
  }
  const auto played = model::play_out(music);
  if (!played.value) return Written::failed;
  std::ofstream(base.string() + ".notes.json") << expected_notes(played.value->score);
  return Written::yes;
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string_view> arguments(argv + 1, argv + argc);
  Options options;
  const bool three = arguments.size() == 3;
  const std::string_view count = three ? arguments[1] : std::string_view();
  const auto read = std::from_chars(count.data(), count.data() + count.size(), options.count);
  const auto kind = three ? std::find(kKinds.begin(), kKinds.end(), arguments[2]) : kKinds.end();
  if (kind == kKinds.end() || read.ec != std::errc{}) {
    fmt::print(stderr, "use: oracle_scores FOLDER COUNT written|played|midi\n");
    return 2;
  }
  options.folder = arguments[0];
  options.kind = static_cast<Kind>(kind - kKinds.begin());
  std::filesystem::create_directories(options.folder);
  std::uint64_t refused = 0;
  for (std::uint64_t seed = 1; seed <= options.count; ++seed) {
    const Written written = write_score(options, seed);
    if (written == Written::refused) ++refused;
    if (written != Written::failed) continue;
    fmt::print(stderr, "oracle_scores: score {} could not be written\n", seed);
    return 1;
  }
  if (refused > 0) fmt::print("{} scores need too many divisions, as is told\n", refused);
  // One in five hundred is what the generator makes; more would be a fault of the writer.
  return refused * 500 <= options.count ? 0 : 1;
}
