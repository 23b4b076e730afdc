// Which notes of a file are the melody.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

constexpr int kMelodyTicks = 96;

// Eight quarter notes up and down from a key, one at a time.
TrackBytes line(int key, int channel = 0) {
  constexpr std::array<int, 8> kSteps{0, 2, 4, 5, 7, 5, 4, 2};
  TrackBytes track;
  for (std::size_t i = 0; i < kSteps.size(); ++i) {
    const auto begin = static_cast<std::int64_t>(i) * kMelodyTicks;
    track.note(begin, begin + kMelodyTicks, key + kSteps[i], channel);
  }
  return track;
}

// Two bars of triads, a whole note each.
TrackBytes chords(int key, int channel = 0) {
  TrackBytes track;
  for (const std::int64_t begin : {0, 4 * kMelodyTicks}) {
    for (const int step : {0, 4, 7})
      track.note(begin, begin + 4 * kMelodyTicks, key + step, channel);
  }
  return track;
}

std::string two_parts(const TrackBytes& first, const TrackBytes& second) {
  return midi_file(1, kMelodyTicks, {first.bytes(), second.bytes()});
}

// The key of the first note: which part was taken.
int first_key(const std::string& file, const MidiReadOptions& options = {}) {
  return read_sound(file, options).notes.at(0).tone.pitch.value().key;
}

std::string name_event(const std::string& name) {
  return meta_message(kTrackName, name);
}

TEST(Melody, IsThePartThatPlaysOneNoteAtATime) {
  // Both have their middle at 68.
  const std::string file = two_parts(chords(64), line(64, 1));
  EXPECT_EQ(first_key(file), 64);
  EXPECT_THAT(told(read_messages(file)), ElementsAre("note track-chosen"));
}

TEST(Melody, IsThePartThatIsNamedSo) {
  for (const char* name : {"Flute 1", "MELODY", "Shinobue", "主旋律", "笛"}) {
    const std::string file = two_parts(line(72), line(64, 1).event(0, name_event(name)));
    EXPECT_EQ(first_key(file), 64) << name;
  }
  const std::string file = two_parts(line(72).event(0, name_event("Strings")), line(64, 1));
  EXPECT_EQ(first_key(file), 64);
}

// 74 is Flute, counted from 1 (General MIDI 1); 61 French Horn, 34 Electric Bass.
TEST(Melody, IsThePartOfAFlute) {
  EXPECT_EQ(first_key(two_parts(line(72), line(64, 1).event(0, message(kProgram, 1, 73)))), 64);
  EXPECT_EQ(first_key(two_parts(line(72).event(0, message(kProgram, 0, 60)),
                                line(64, 1).event(0, message(kProgram, 1, 73)))),
            64);
  EXPECT_EQ(first_key(two_parts(line(72).event(0, message(kProgram, 0, 33)), line(64, 1))), 64);
}

TEST(Melody, IsNotTheBass) {
  EXPECT_EQ(first_key(two_parts(line(36), line(64, 1))), 64);
}

TEST(Melody, IsNeverTheDrumsBesideAnotherPart) {
  EXPECT_EQ(
      first_key(two_parts(line(72, kDrumChannel).event(0, name_event("Melody")), chords(30, 1))),
      37);
}

TEST(Melody, MayBeTheDrumChannelIfThereIsNothingElse) {
  const std::string drums = midi_file(0, kMelodyTicks, {line(72, kDrumChannel).bytes()});
  EXPECT_THAT(message_of(read_messages(drums), rule::track_chosen), HasSubstr("the drums"));
  MidiReadOptions asked;
  asked.channel = kDrumChannel + 1;
  EXPECT_THAT(told(read_messages(drums, asked)), IsEmpty());
  EXPECT_EQ(first_key(midi_file(0, kMelodyTicks, {line(72, kDrumChannel).bytes()})), 72);
}

TEST(Melody, IsNotAPartOfAFewNotes) {
  TrackBytes melody = line(64, 1);
  for (std::int64_t i = 8; i < 24; ++i)
    melody.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, 64, 1);
  EXPECT_EQ(first_key(two_parts(TrackBytes().note(0, kMelodyTicks, 72), melody)), 64);
}

TEST(Melody, IsTheFirstOfEquals) {
  EXPECT_EQ(first_key(two_parts(line(64), line(66, 1))), 64);
}

TEST(Melody, TellsTheChoiceInOneNote) {
  const auto found = read_messages(
      two_parts(chords(60).event(0, name_event("Koto")), line(64, 1).event(0, name_event("Fue"))));
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found.front().rule, &rule::track_chosen);
  EXPECT_EQ(found.front().message,
            "the melody is read from track 2 (“Fue”), channel 2, because its name says so; left "
            "out: track 1 (“Koto”), channel 1");
}

TEST(Melody, IsOneChannelOfAFormatZeroFile) {
  TrackBytes track = line(64, 3);
  for (const int step : {0, 4, 7}) track.note(0, 8 * kMelodyTicks, 48 + step, 5);
  const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
  EXPECT_EQ(first_key(file), 64);
  EXPECT_THAT(message_of(read_messages(file), rule::track_chosen),
              StartsWith("the melody is read from track 1, channel 4, because it lies highest"));
}

TEST(Melody, IsWhatTheOptionsAskFor) {
  const std::string file = two_parts(chords(60), line(64, 1));
  MidiReadOptions options;
  options.track = 1;
  EXPECT_EQ(first_key(file, options), 67);
  EXPECT_THAT(told(read_messages(file, options)), ElementsAre("warning chord-note in bar 1"));
  options = {};
  options.channel = 2;
  EXPECT_EQ(first_key(file, options), 64);
  EXPECT_THAT(told(read_messages(file, options)), IsEmpty());
}

TEST(Melody, ChoosesAmongTheChannelsOfTheTrackThatIsAskedFor) {
  TrackBytes track = line(64, 3);
  for (const int step : {0, 4, 7}) track.note(0, 8 * kMelodyTicks, 48 + step, 5);
  MidiReadOptions options;
  options.track = 2;
  const std::string file = two_parts(line(80), track);
  EXPECT_EQ(first_key(file, options), 64);
  EXPECT_THAT(told(read_messages(file, options)), ElementsAre("note track-chosen"));
}

TEST(Melody, IsAnErrorWhereNothingIsAskedFor) {
  MidiReadOptions options;
  options.track = 7;
  auto outcome = read_midi(two_parts(chords(60), line(64, 1)), options);
  EXPECT_FALSE(outcome.value);
  EXPECT_THAT(told(outcome.diagnostics), ElementsAre("error no-such-part"));
  EXPECT_EQ(outcome.diagnostics.front().message, "there are no notes in track 7");
  EXPECT_EQ(outcome.diagnostics.front().hint, "the file has 2 tracks");
  options.track = 1;
  options.channel = 2;
  outcome = read_midi(two_parts(chords(60), line(64, 1)), options);
  EXPECT_EQ(outcome.diagnostics.front().message, "there are no notes in track 1 channel 2");
}

// --- Files as people have them

// A track of one line with a name; `steps` quarter notes from a key up and down.
TrackBytes named(const std::string& name, int key, int channel) {
  return line(key, channel).event(0, name_event(name));
}

std::string file_of(const std::vector<TrackBytes>& tracks) {
  std::vector<std::string> bytes;
  for (const TrackBytes& track : tracks) bytes.push_back(track.bytes());
  return midi_file(1, kMelodyTicks, bytes);
}

TrackBytes sung(TrackBytes track) {
  for (std::int64_t i = 0; i < 8; ++i) track.event(i * kMelodyTicks, meta_message(kLyric, "la"));
  return track;
}

TEST(Files, OfAChoirHaveItInTheSoprano) {
  EXPECT_EQ(first_key(file_of({named("Bass", 48, 0), named("Tenor", 55, 1), named("Alto", 69, 2),
                               named("Soprano", 67, 3)})),
            67);
  EXPECT_EQ(first_key(file_of({line(67, 0), line(60, 1), line(55, 2), line(43, 3)})), 67);
}

TEST(Files, OfASongWithPianoHaveItInTheVoice) {
  EXPECT_EQ(
      first_key(file_of({named("Piano", 79, 0), named("Piano", 48, 1), named("Voice", 64, 2)})),
      64);
  EXPECT_EQ(first_key(file_of({named("Klavier", 79, 0), named("Alt", 60, 1)})), 60);
}

TEST(Files, OfAPianoHaveItInTheRightHand) {
  TrackBytes left;  // twice as many notes
  for (std::int64_t i = 0; i < 16; ++i)
    left.note(i * kMelodyTicks / 2, (i + 1) * kMelodyTicks / 2, 48);
  EXPECT_EQ(first_key(file_of({left, line(72, 0)})), 72);
  EXPECT_EQ(first_key(file_of({line(60, 0).event(0, name_event("Left")), line(60, 0)})), 60);
}

TEST(Files, OfAQuartetHaveItInTheFirstViolin) {
  EXPECT_EQ(first_key(file_of({named("Violin II", 74, 0), named("Violin I", 72, 1),
                               named("Viola", 60, 2), named("Cello", 48, 3)})),
            72);
}

TEST(Files, WithLyricsHaveItWhereTheyAreSung) {
  EXPECT_EQ(first_key(file_of({line(79, 0), sung(line(64, 1)), line(48, 2)})), 64);
  // The words of a karaoke file stand in a track of their own: the line that they fit is sung. The
  // other one has four notes a beat.
  TrackBytes words;
  words.event(0, meta_message(kText, "@KMIDI KARAOKE FILE"));
  for (std::int64_t i = 0; i < 8; ++i) words.event(i * kMelodyTicks, meta_message(kText, "la"));
  TrackBytes busy;
  for (std::int64_t i = 0; i < 32; ++i)
    busy.note(i * kMelodyTicks / 4, (i + 1) * kMelodyTicks / 4, 84);
  EXPECT_EQ(first_key(file_of({words, busy, line(64, 1)})), 64);
}

TEST(Files, OfABandHaveItInTheVocals) {
  EXPECT_EQ(
      first_key(file_of({named("Drums", 72, kDrumChannel), named("Bass", 36, 1),
                         named("Guitar", 76, 2), named("Strings", 79, 3), named("Vocal", 60, 4)})),
      60);
}

// 歌 and 笛 in Shift_JIS (JIS X 0208).
TEST(Files, AreNamedInJapaneseToo) {
  for (const char* name : {"\x89\xCC", "\x93\x4A", "歌", "篠笛"}) {
    const std::string file = file_of({line(79, 0), named(name, 64, 1)});
    EXPECT_EQ(first_key(file), 64) << name;
  }
  EXPECT_THAT(message_of(read_messages(file_of({line(79, 0), named("\x89\xCC", 64, 1)})),
                         rule::track_chosen),
              StartsWith("the melody is read from track 2 (“歌”), channel 2, because its name"));
}

// The line of a part of chords.

TEST(Line, IsTheTopOfChordsOrTheBottom) {
  const std::string file = midi_file(0, kMelodyTicks, {chords(60).bytes()});
  EXPECT_THAT(note_words(read_sound(file)), ElementsAre("67 at 0 for 4", "67 at 4 for 4"));
  const auto found = read_messages(file);
  EXPECT_THAT(told(found), ElementsAre("warning chord-note in bar 1"));
  EXPECT_EQ(found.front().message, "bar 1: a note under the melody is left out (4 times)");
  MidiReadOptions options;
  options.line = Line::bottom;
  EXPECT_THAT(note_words(read_sound(file, options)), ElementsAre("60 at 0 for 4", "60 at 4 for 4"));
  EXPECT_EQ(read_messages(file, options).front().message,
            "bar 1: a note over the lowest line is left out (4 times)");
}

// Both hands of a keyboard in one part: the upper line goes on over a held note.
TEST(Line, GoesOnOverAHeldNote) {
  TrackBytes track = line(72);
  track.note(0, 8 * kMelodyTicks, 48);
  const model::Score score = read_sound(midi_file(0, kMelodyTicks, {track.bytes()}));
  EXPECT_THAT(note_words(score),
              ElementsAre("72 at 0 for 1", "74 at 1 for 1", "76 at 2 for 1", "77 at 3 for 1",
                          "79 at 4 for 1", "77 at 5 for 1", "76 at 6 for 1", "74 at 7 for 1"));
}

TEST(Line, CutsANoteThatSoundsOnUnderTheNext) {
  TrackBytes track;
  track.note(0, kMelodyTicks * 4 / 3, 72)
      .note(kMelodyTicks, 2 * kMelodyTicks, 74)
      .note(2 * kMelodyTicks, 3 * kMelodyTicks, 76);
  const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
  EXPECT_THAT(note_words(read_sound(file)),
              ElementsAre("72 at 0 for 1", "74 at 1 for 1", "76 at 2 for 1"));
  EXPECT_THAT(told(read_messages(file)), ElementsAre("note overlap-cut in bar 1"));
}

TEST(Line, SaysNothingOfTheSmallOverlapsOfALegato) {
  TrackBytes track;
  track.note(0, kMelodyTicks + 5, 72)
      .note(kMelodyTicks, 2 * kMelodyTicks + 5, 74)
      .note(2 * kMelodyTicks, 3 * kMelodyTicks, 76);
  const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
  EXPECT_THAT(note_words(read_sound(file)),
              ElementsAre("72 at 0 for 1", "74 at 1 for 1", "76 at 2 for 1"));
  for (const auto& diagnostic : read_messages(file)) EXPECT_NE(diagnostic.rule, &rule::overlap_cut);
}

TEST(Line, TakesOneKeyStruckTwiceAtOnceForOneNote) {
  TrackBytes track;
  track.note(0, kMelodyTicks, 72)
      .note(0, 2 * kMelodyTicks, 72)
      .note(2 * kMelodyTicks, 3 * kMelodyTicks, 74);
  EXPECT_THAT(note_words(read_sound(midi_file(0, kMelodyTicks, {track.bytes()}))),
              ElementsAre("72 at 0 for 2", "74 at 2 for 1"));
}

// The notes of a strummed chord begin within a sixteenth of a quarter note: the line begins with
// the first of them.
TEST(Line, TakesAStrummedChordForOneStroke) {
  TrackBytes track;
  for (const std::int64_t begin : {0, 2 * kMelodyTicks}) {
    track.note(begin, begin + 2 * kMelodyTicks, 60)
        .note(begin + 2, begin + 2 * kMelodyTicks, 64)
        .note(begin + 4, begin + 2 * kMelodyTicks, 67);
  }
  EXPECT_THAT(note_words(read_sound(midi_file(0, kMelodyTicks, {track.bytes()}))),
              ElementsAre("67 at 0 for 2", "67 at 2 for 2"));
}

// Chords on every beat, a melody that rests on every fourth: there the chord is all that sounds.
TEST(Line, LeavesItsRestsToTheAccompaniment) {
  for (const Line line : {Line::top, Line::bottom}) {
    TrackBytes track;
    for (std::int64_t i = 0; i < 8; ++i) {
      const int other = line == Line::top ? 48 : 96;
      track.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, other)
          .note(i * kMelodyTicks, (i + 1) * kMelodyTicks, other + 4);
      if (i % 4 != 3)
        track.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, 72 + static_cast<int>(i));
    }
    MidiReadOptions options;
    options.line = line;
    const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
    EXPECT_THAT(note_words(read_sound(file, options)),
                ElementsAre("72 at 0 for 1", "73 at 1 for 1", "74 at 2 for 1", "76 at 4 for 1",
                            "77 at 5 for 1", "78 at 6 for 1"));
    EXPECT_THAT(told(read_messages(file, options)), ElementsAre("warning chord-note in bar 1, 2"));
  }
}

// Keys 0 and 12 under a melody around 72: key switches of a sampled instrument.
TEST(FarNotes, AreReportedAndLeftOut) {
  TrackBytes track;
  for (std::int64_t i = 0; i < 24; ++i) {
    track.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, 70 + static_cast<int>(i % 5));
  }
  track.note(0, 10, 0).note(8 * kMelodyTicks, 8 * kMelodyTicks + 10, 12);
  const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
  const model::Score score = read_sound(file);
  EXPECT_EQ(score.notes.size(), 24U);
  for (const model::Note& note : score.notes) EXPECT_GE(note.tone.pitch.value().key, 70);
  const auto found = read_messages(file);
  EXPECT_THAT(told(found), ElementsAre("warning far-note in bar 1"));
  EXPECT_THAT(found.front().message, HasSubstr("breath marker or a key switch"));
}

TEST(FarNotes, OverTheMelodyToo) {
  TrackBytes track;
  for (std::int64_t i = 0; i < 20; ++i) track.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, 60);
  track.note(0, 5, 127);
  EXPECT_THAT(told(read_messages(midi_file(0, kMelodyTicks, {track.bytes()}))),
              ElementsAre("warning far-note in bar 1"));
}

// A tenth of the notes or more is music, whatever its register: the flute's table says later what
// it cannot play.
TEST(FarNotes, AreMusicWhereThereAreMany) {
  TrackBytes track;
  for (std::int64_t i = 0; i < 8; ++i) {
    track.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, i % 4 == 3 ? 30 : 72);
  }
  const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
  EXPECT_EQ(read_sound(file).notes.size(), 8U);
  EXPECT_THAT(told(read_messages(file)), IsEmpty());
}

// Keys that a piano has not are no music beside some that it has, however many there are: a key
// switch before every note.
TEST(FarNotes, AreNoMusicOutsideThePiano) {
  for (const int key : {0, 20, 109, 127}) {
    TrackBytes track;
    for (std::int64_t i = 0; i < 8; ++i) {
      track.note(i * kMelodyTicks, i * kMelodyTicks + 5, key)
          .note(i * kMelodyTicks, (i + 1) * kMelodyTicks, 70 + static_cast<int>(i % 4));
    }
    const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
    const model::Score score = read_sound(file);
    EXPECT_EQ(score.notes.size(), 8U) << key;
    for (const model::Note& note : score.notes) {
      EXPECT_GE(note.tone.pitch.value().key, 70);
      EXPECT_LE(note.tone.pitch.value().key, 73);
    }
    EXPECT_THAT(told(read_messages(file)), ElementsAre("warning far-note in bar 1"));
  }
}

TEST(FarNotes, AreMusicWhereThereIsNoOther) {
  TrackBytes track;
  for (std::int64_t i = 0; i < 8; ++i)
    track.note(i * kMelodyTicks, (i + 1) * kMelodyTicks, i % 2 == 0 ? 10 : 12);
  EXPECT_EQ(read_sound(midi_file(0, kMelodyTicks, {track.bytes()})).notes.size(), 8U);
}

// Steps of at most an octave lead from the melody to its lowest note.
TEST(FarNotes, AreNotThoseThatStepsLeadTo) {
  TrackBytes track;
  std::int64_t now = 0;
  const auto add = [&](int key) {
    track.note(now, now + kMelodyTicks, key);
    now += kMelodyTicks;
  };
  for (int i = 0; i < 40; ++i) add(90 + i % 7);
  for (const int key : {79, 68, 57, 46}) add(key);
  const std::string file = midi_file(0, kMelodyTicks, {track.bytes()});
  EXPECT_EQ(read_sound(file).notes.size(), 44U);
  EXPECT_THAT(told(read_messages(file)), IsEmpty());
}

}  // namespace
}  // namespace yubifu::midi
