// Every rule of reading is broken by a file of its own and by no more than that; mended, the file
// breaks none. The rules say in words what these files are.
#include <functional>
#include <map>
#include <set>

#include <gtest/gtest.h>

#include "bench/performed_tune.h"
#include "midi/midi_bytes.h"
#include "midi/rules.h"
#include "midi/smf/events.h"
#include "midi/smf/scan.h"

namespace yubifu::midi {
namespace {

constexpr int kTicks = 96;

struct Input {
  std::string bytes;
  MidiReadOptions options = {};
};

struct Example {
  Input wrong;
  Input right;
};

const std::string kNote = "00 90 3C 50 60 80 3C 40 ";
const std::string kEnd = "00 FF 2F 00 ";

std::string tune(std::string_view digits) {
  return one_track(std::string(digits) + kEnd);
}

std::string track_of(const TrackBytes& track) {
  return midi_file(0, kTicks, {track.bytes()});
}

TrackBytes quarters(int count) {
  TrackBytes track;
  track.event(0, meter_message({4, 4}));
  for (std::int64_t i = 0; i < count; ++i) {
    track.note(i * kTicks, (i + 1) * kTicks, 72 + static_cast<int>(i % 3));
  }
  return track;
}

std::string bend(int value) {
  return bend_message(0, value);
}

std::string tracks(std::size_t count) {
  return midi_file(1, kTicks, std::vector<std::string>(count, hex(kNote + kEnd)));
}

// Quarter notes and eighths in a file that states a tempo.
std::string free_playing(double tempo, double stated) {
  const auto tune = bench::random_tune(bench::Rhythm::binary, 40, 1);
  return bench::performed_file(bench::play(tune, {tempo, 10, 2, 1, 0, stated}), stated);
}

Input with_grid(int grid) {
  Input input{tune(kNote)};
  input.options.grid = grid;
  return input;
}

Input with_offset(model::Rational offset) {
  Input input{tune(kNote)};
  input.options.offset = offset;
  return input;
}

Input with_played_tempo(double tempo) {
  Input input{tune(kNote + kNote)};
  input.options.played_tempo = tempo;
  return input;
}

Input with_track(int track) {
  Input input{tracks(2)};
  input.options.track = track;
  return input;
}

std::map<std::string_view, Example> structure_examples() {
  const std::string sound = tune(kNote);
  const std::string changed = midi_file(2, kTicks, {hex(kNote + kEnd)});
  const std::string two = midi_file(1, kTicks, {hex(kNote + kEnd), hex(kEnd)});
  std::string three = two;
  three[11] = 3;
  return {
      {"not-midi", {{"Ferry Lanterns"}, {sound}}},
      {"midi-header", {{sound.substr(0, 12)}, {sound}}},
      {"midi-format", {{changed}, {midi_file(1, kTicks, {hex(kNote + kEnd)})}}},
      {"midi-division", {{one_track(kNote + kEnd, 0)}, {one_track(kNote + kEnd, 480)}}},
      {"midi-too-large", {{tracks(5000)}, {tracks(5)}}},
      {"damaged-track", {{sound.substr(0, sound.size() - 2)}, {sound}}},
      {"data-byte", {{tune(kNote + "00 90 C8 50 ")}, {tune(kNote + "00 90 48 50 60 80 48 40 ")}}},
      {"time-limit", {{tune(kNote + "FF FF FF 7F 80 3E 40 ")}, {tune(kNote + "60 80 3E 40 ")}}},
      {"no-end-of-track", {{one_track(kNote)}, {sound}}},
      {"after-end-of-track", {{one_track(kNote + kEnd + kNote)}, {tune(kNote + kNote)}}},
      {"track-count", {{three}, {two}}},
      {"stale-bytes", {{sound + sound.substr(sound.size() - 6)}, {sound}}},
      {"running-status",
       {{tune("00 90 3C 50 00 FF 51 03 07 A1 20 60 3C 00 ")},
        {tune("00 90 3C 50 00 FF 51 03 07 A1 20 60 90 3C 00 ")}}},
      {"stray-status", {{tune(kNote + "00 F8 " + kNote)}, {tune(kNote + kNote)}}},
      {"bad-meta",
       {{tune("00 FF 51 03 00 00 00 " + kNote)}, {tune("00 FF 51 03 07 A1 20 " + kNote)}}},
      {"long-header",
       {{hex("4D546864 00000008 0000 0001 0060 0000 4D54726B 0000000C " + kNote + kEnd)}, {sound}}},
      {"foreign-chunk", {{sound + hex("58464948 00000001 00")}, {sound}}},
      {"riff-wrapper", {{hex("52494646 2E000000 524D4944 64617461 22000000") + sound}, {sound}}},
      {"exclusive-left-out", {{tune("00 F0 04 43 12 00 F7 " + kNote)}, {sound}}}};
}

std::map<std::string_view, Example> music_examples() {
  const std::string low = track_of(quarters(24).note(0, 5, 0));
  TrackBytes dense;
  dense.event(0, meter_message({4, 4}));
  for (std::int64_t i = 0; i < 95; ++i) dense.note(i, i + 1, 72 + static_cast<int>(i % 2));
  TrackBytes chord = quarters(4);
  TrackBytes moved;
  moved.note(0, kTicks, 60).note(kTicks, 2 * kTicks, 67);
  TrackBytes still = moved;
  moved.event(20, bend(0x2400)).event(50, bend(0x2800)).event(80, bend(0x2000));
  still.event(kTicks, bend(0x2400));
  TrackBytes slid;
  slid.note(0, kTicks, 60).note(kTicks, 2 * kTicks, 62);
  TrackBytes unslid = slid;
  slid.event(72, bend(0x3000)).event(84, bend(0x3FFF)).event(kTicks, bend(0x2000));
  const std::string played = midi_file(0, 480,
                                       {TrackBytes()
                                            .event(0, meter_message({4, 4}))
                                            .note(3, 470, 72)
                                            .note(489, 955, 74)
                                            .note(951, 1433, 76)
                                            .bytes()});
  TrackBytes late;
  TrackBytes beside;
  late.event(0, meter_message({4, 4}));
  beside.event(0, meter_message({4, 4}));
  for (std::int64_t i = 0; i < 8; ++i) {
    const int key = 72 + static_cast<int>(i % 3);
    late.note(i * kTicks + 6, (i + 1) * kTicks + 6, key);
    const std::int64_t off = i % 2 * 12;
    beside.note(i * kTicks + off, (i + 1) * kTicks + off, key);
  }
  const std::string fingered = meta_message(kText, "yubifu.lyrics: fingering");
  return {
      {"grid-option", {with_grid(0), with_grid(4)}},
      {"offset-option", {with_offset(2), with_offset({1, 16})}},
      {"played-tempo-option", {with_played_tempo(0), with_played_tempo(66)}},
      {"no-notes", {{tune("00 FF 51 03 07 A1 20 ")}, {tune(kNote)}}},
      {"no-such-part", {with_track(7), with_track(2)}},
      {"too-many-bars",
       {{track_of(TrackBytes().event(0, meter_message({1, 128})).note(0, 300'000LL * kTicks, 72))},
        {track_of(TrackBytes().event(0, meter_message({4, 4})).note(0, 300'000LL * kTicks, 72))}}},
      {"open-note", {{tune("00 90 3C 50 60 80 3D 40 ")}, {tune(kNote)}}},
      {"no-length", {{tune("00 90 3C 50 00 80 3C 40 ")}, {tune(kNote)}}},
      {"far-note", {{low}, {track_of(quarters(24))}}},
      {"chord-note", {{track_of(chord.note(0, kTicks, 60))}, {track_of(quarters(4))}}},
      {"overlap-cut",
       {{track_of(TrackBytes().note(0, kTicks * 4 / 3, 72).note(kTicks, 2 * kTicks, 74))},
        {track_of(TrackBytes().note(0, kTicks, 72).note(kTicks, 2 * kTicks, 74))}}},
      {"moving-bend", {{track_of(moved)}, {track_of(still)}}},
      {"text-encoding",
       {{track_of(quarters(1).event(0, meta_message(kTrackName, "\xE9t\xE9")))},
        {track_of(quarters(1).event(0, meta_message(kTrackName, "été")))}}},
      {"lyric-alone",
       {{track_of(TrackBytes().note(48, 144, 72).event(0, meta_message(kLyric, "か")))},
        {track_of(TrackBytes().note(48, 144, 72).event(48, meta_message(kLyric, "か")))}}},
      {"lyric-no-sign",
       {{track_of(quarters(1).event(0, fingered).event(0, meta_message(kLyric, "la")))},
        {track_of(quarters(1).event(0, fingered).event(0, meta_message(kLyric, "五")))}}},
      {"text-after-music",
       {{track_of(quarters(4).event(16 * kTicks, meta_message(kMarker, "A")))},
        {track_of(quarters(4).event(0, meta_message(kMarker, "A")))}}},
      {"too-dense", {{track_of(dense)}, {track_of(quarters(4))}}},
      {"track-chosen", {{tracks(2)}, {tracks(1)}}},
      {"quantised", {{played}, {track_of(quarters(3))}}},
      {"constant-offset", {{track_of(late)}, {track_of(quarters(8))}}},
      {"played-tempo", {{free_playing(66, 120)}, {free_playing(120, 120)}}},
      {"deep-rhythm", {{track_of(beside)}, {track_of(quarters(8))}}},
      {"double-tempo",
       {{track_of(quarters(4).event(0, tempo_message(666'667)).event(0, tempo_message(600'000)))},
        {track_of(quarters(4).event(0, tempo_message(600'000)))}}},
      {"slide-read", {{track_of(slid)}, {track_of(unslid)}}},
      {"direction-moved",
       {{track_of(quarters(4).event(kTicks + 7, tempo_message(600'000)))},
        {track_of(quarters(4).event(kTicks, tempo_message(600'000)))}}}};
}

std::map<std::string_view, Example> examples() {
  auto all = structure_examples();
  all.merge(music_examples());
  return all;
}

// The rules broken by a file. Notes count only for the rule that is one.
std::set<std::string_view> broken_by(const Input& input, const base::Rule& rule) {
  std::set<std::string_view> names;
  for (const base::Diagnostic& finding : read_messages(input.bytes, input.options)) {
    const bool counts = finding.severity != base::Severity::note || finding.rule == &rule;
    if (counts) names.insert(finding.rule->name);
  }
  return names;
}

class EveryReadingRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(EveryReadingRule, IsBrokenByItsOwnFileOnly) {
  const base::Rule& rule = *GetParam();
  const auto all = examples();
  ASSERT_EQ(all.count(rule.name), 1U);
  const Example& example = all.at(rule.name);
  EXPECT_EQ(broken_by(example.wrong, rule), std::set<std::string_view>{rule.name});
  EXPECT_EQ(broken_by(example.right, rule), std::set<std::string_view>{});
}

// The rules of reading: those that the examples name and no rule of writing. `unreadable-midi` has
// no file: the scan lets nothing through that the library refuses (see mutation_test).
std::vector<const base::Rule*> reading_rules() {
  std::vector<const base::Rule*> list;
  bool reading = false;
  for (const base::Rule* rule : rules()) {
    reading = reading || rule == &rule::not_midi;
    if (reading && rule != &rule::unreadable_midi) list.push_back(rule);
  }
  return list;
}

INSTANTIATE_TEST_SUITE_P(Midi, EveryReadingRule, testing::ValuesIn(reading_rules()),
                         [](const auto& test) {
                           std::string name(test.param->name);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

TEST(ReadingRules, HaveNoExampleWithoutRule) {
  std::set<std::string_view> names;
  for (const base::Rule* rule : rules()) names.insert(rule->name);
  for (const auto& [name, example] : examples()) EXPECT_EQ(names.count(name), 1U) << name;
}

}  // namespace
}  // namespace yubifu::midi
