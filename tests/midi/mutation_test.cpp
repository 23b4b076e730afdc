// Damaged files: whatever the bytes, the reader gives a sound score or says why not, without help
// from the library behind it.
#include <gtest/gtest.h>

#include "bench/performed_tune.h"
#include "midi/midi_bytes.h"
#include "midi/read/bars.h"
#include "midi/rules.h"
#include "midi/smf/events.h"
#include "support/dice.h"
#include "support/invariants.h"
#include "support/rounds.h"

namespace yubifu::midi {
namespace {

constexpr std::size_t kUsualCount = 2000;
// A note takes a time, a key and a velocity at least, each a byte.
constexpr std::size_t kBytesOfNote = 3;

// A song with everything that a file may hold: names, words, bends in a range of their own, tempos,
// meters, keys, markers, running status and an exclusive message.
std::string full_file() {
  TrackBytes conductor;
  conductor.event(0, meta_message(kTrackName, "渡し船の灯り")).event(0, meter_message({4, 4}));
  conductor.event(0, key_message({-3, model::Mode::minor})).event(0, tempo_message(600'000));
  conductor.event(0, meta_message(kText, "yubifu.flute: 6"));
  conductor.event(384, tempo_message(400'000)).event(576, meter_message({3, 4}));
  conductor.event(576, meta_message(kMarker, "B")).event(576, hex("F0 05 7E 7F 09 01 F7"));
  TrackBytes flute;
  flute.event(0, meta_message(kTrackName, "Flute")).event(0, message(kProgram, 0, 73));
  flute.event(0, message(kController, 0, kRpnCoarse, 0));
  flute.event(0, message(kController, 0, kRpnFine, 0));
  flute.event(0, message(kController, 0, kDataEntry, 12));
  for (int i = 0; i < 12; ++i) {
    const std::int64_t begin = i * 96;
    flute.event(begin, bend_message(0, kBendCentre + 40 * (i % 5)));
    flute.event(begin, meta_message(kLyric, i % 2 == 0 ? "fu-" : "e"));
    flute.note(begin, begin + 90 + i % 3, 70 + i);
  }
  TrackBytes chords;
  for (int i = 0; i < 3; ++i) {
    for (const int key : {48, 52, 55}) chords.note(i * 384, (i + 1) * 384, key, 1);
  }
  return midi_file(1, 96, {conductor.bytes(), flute.bytes(), chords.bytes()});
}

std::vector<std::string> valid_files() {
  const auto tune = bench::random_tune(bench::Rhythm::mixed, 12, 5);
  std::vector<std::string> files{full_file()};
  files.push_back(bench::performed_file(bench::play(tune, {100, 15, 6, 1}), 100));
  files.push_back(
      one_track("00 90 3C 50 60 3C 00 00 3E 50 60 3E 00 00 40 50 60 40 00 00 FF 2F 00"));
  // Frames of film, and a RIFF file.
  std::string film = full_file();
  film[12] = '\xE7';
  film[13] = '\x28';
  files.push_back(film);
  const std::string inner = full_file();
  std::string riff = "RIFF....RMIDdata";
  for (int shift = 0; shift < 32; shift += 8) {
    riff += static_cast<char>((inner.size() >> shift) & 0xFF);
  }
  files.push_back(riff + inner);
  return files;
}

// Bytes that mean something in a MIDI file.
char telling_byte(support::Dice& dice) {
  static const std::vector<int> bytes{0x00, 0x01, 0x2F, 0x40, 0x51, 0x58, 0x7F, 0x80, 0x81, 0x90,
                                      0xB0, 0xC0, 0xE0, 0xF0, 0xF1, 0xF2, 0xF7, 0xF8, 0xFF};
  return static_cast<char>(dice.pick(bytes));
}

void mutate_once(std::string& file, support::Dice& dice) {
  if (file.empty()) return;
  const std::size_t at = dice.below(file.size());
  const std::size_t length = 1 + dice.below(std::min<std::size_t>(24, file.size() - at));
  switch (dice.below(8)) {
    case 0:
      file[at] = static_cast<char>(dice.below(256));
      break;
    case 1:
      file[at] = telling_byte(dice);
      break;
    case 2:
      file[at] = static_cast<char>(file[at] ^ (1 << dice.below(8)));
      break;
    case 3:
      file.erase(at, length);
      break;
    case 4:
      file.insert(at, file.substr(dice.below(file.size()), length));
      break;
    case 5:
      file.insert(at, 1 + dice.below(4), telling_byte(dice));
      break;
    case 6:
      file.resize(at);
      break;
    default:
      for (std::size_t i = 0; i < std::min<std::size_t>(4, length); ++i) {
        file[at + i] = telling_byte(dice);
      }
      break;
  }
}

MidiReadOptions random_options(support::Dice& dice) {
  MidiReadOptions options;
  if (dice.percent(10)) options.track = dice.between(1, 3);
  if (dice.percent(10)) options.grid = dice.between(1, kFinestGrid);
  if (dice.percent(10)) options.meter = model::Meter{dice.between(1, 9), 8};
  if (dice.percent(10)) options.line = Line::bottom;
  if (dice.percent(10)) options.charset = Charset::shift_jis;
  return options;
}

// Fails the test where the file is read badly; says which it was.
void read_damaged(const std::string& file, const MidiReadOptions& options, std::size_t number) {
  const auto outcome = read_midi(file, options);
  EXPECT_TRUE(outcome.value || base::has_errors(outcome.diagnostics)) << "file " << number;
  for (const base::Diagnostic& diagnostic : outcome.diagnostics) {
    EXPECT_NE(diagnostic.rule, &rule::unreadable_midi)
        << "file " << number << ": " << diagnostic.message;
  }
  if (!outcome.value) return;
  // No damage makes more of a file than it holds.
  EXPECT_LE(outcome.value->notes.size() * kBytesOfNote, file.size()) << "file " << number;
  EXPECT_LE(outcome.value->measures.size(), kMostBars) << "file " << number;
  for (const std::string& broken : support::broken_invariants(*outcome.value)) {
    ADD_FAILURE() << "file " << number << ": " << broken;
  }
}

TEST(Mutations, AreReadOrRefused) {
  const std::vector<std::string> files = valid_files();
  for (std::size_t i = 0; i < files.size(); ++i) {
    EXPECT_FALSE(read_sound(files[i]).notes.empty()) << i;
  }
  const std::size_t count = support::rounds(kUsualCount);
  for (std::size_t i = 0; i < count && !testing::Test::HasFailure(); ++i) {
    std::mt19937_64 random(i);
    support::Dice dice(random);
    std::string file = dice.pick(files);
    for (int times = dice.between(1, 6); times > 0; --times) mutate_once(file, dice);
    read_damaged(file, random_options(dice), i);
  }
}

TEST(Mutations, OfTheFirstBytesAreReadOrRefused) {
  const std::string file = full_file();
  for (std::size_t i = 0; i < file.size(); ++i) {
    read_damaged(file.substr(0, i), {}, i);
  }
}

}  // namespace
}  // namespace yubifu::midi
