// Texts of a file: their encoding, the words that are sung, names, and what this program kept.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr int kTextTicks = 96;

// As many quarter notes as lyrics, each with its own; "" is a note without one.
TrackBytes sung(const std::vector<std::string>& lyrics) {
  TrackBytes track;
  for (std::size_t i = 0; i < lyrics.size(); ++i) {
    const auto begin = static_cast<std::int64_t>(i) * kTextTicks;
    if (!lyrics[i].empty()) track.event(begin, meta_message(kLyric, lyrics[i]));
    track.note(begin, begin + kTextTicks, 72 + static_cast<int>(i % 5));
  }
  return track;
}

std::string one_text_track(const TrackBytes& track) {
  return midi_file(0, kTextTicks, {track.bytes()});
}

std::string titled(const std::string& bytes) {
  return one_text_track(sung({""}).event(0, meta_message(kTrackName, bytes)));
}

// The syllables of the notes: "mi-" where the word goes on, "-ri" where it comes from before, "~"
// for a syllable that is carried on, "" for none.
std::vector<std::string> words_of(const model::Score& score) {
  std::vector<std::string> words;
  for (const model::Note& note : score.notes) {
    if (note.syllables.empty()) {
      words.emplace_back();
      continue;
    }
    const model::Syllable& syllable = note.syllables.front();
    using enum model::SyllableKind;
    const bool from_before = syllable.kind == middle || syllable.kind == end;
    const bool goes_on = syllable.kind == begin || syllable.kind == middle;
    words.push_back(
        syllable.extends ? "~" : (from_before ? "-" : "") + syllable.text + (goes_on ? "-" : ""));
  }
  return words;
}

// The title 表 is 95 5C in Shift_JIS (JIS X 0208; its second byte is a backslash), ソ 83 5C.

TEST(Charset, IsUtf8WhereThatIsValid) {
  EXPECT_EQ(read_sound(titled("渡し船の灯り")).header.title, "渡し船の灯り");
  EXPECT_THAT(told(read_messages(titled("渡し船の灯り"))), IsEmpty());
}

TEST(Charset, LeavesOutAByteOrderMark) {
  EXPECT_EQ(read_sound(titled("\xEF\xBB\xBF笛")).header.title, "笛");
}

TEST(Charset, IsShiftJisWhereEveryTextIs) {
  EXPECT_EQ(read_sound(titled(hex("95 5C 83 5C"))).header.title, "表ソ");
  EXPECT_THAT(told(read_messages(titled(hex("95 5C 83 5C")))), IsEmpty());
  // 丸一 in circles and half-width katakana, as Windows has them: 87 40 and B6.
  EXPECT_EQ(read_sound(titled(hex("87 40 B6"))).header.title, "①ｶ");
}

TEST(Charset, DecidesByAllTextsOfTheFile) {
  // E9 A3 9F is 食 in UTF-8 and, as E9 A3, a character in Shift_JIS too. The other text decides.
  const auto file =
      one_text_track(sung({hex("95 5C")}).event(0, meta_message(kTrackName, hex("E9 A3"))));
  EXPECT_EQ(words_of(read_sound(file)), std::vector<std::string>{"表"});
}

TEST(Charset, IsLatin1OtherwiseWithAWarning) {
  const std::string file = titled(hex("E9 74 E9"));
  EXPECT_EQ(read_sound(file).header.title, "été");
  const auto found = read_messages(file);
  EXPECT_THAT(told(found), ElementsAre("warning text-encoding"));
  EXPECT_THAT(found.front().message, HasSubstr("read as Latin-1: “été”"));
}

TEST(Charset, IsWhatTheOptionSays) {
  MidiReadOptions options;
  options.charset = Charset::latin1;
  EXPECT_EQ(read_sound(titled(hex("95 5C")), options).header.title, "\xC2\x95\\");
  EXPECT_THAT(told(read_messages(titled(hex("95 5C")), options)), IsEmpty());
  options.charset = Charset::shift_jis;
  // 笛 in UTF-8, E7 AC 9B, taken for Shift_JIS: a character and half of one.
  EXPECT_THAT(told(read_messages(titled("笛"), options)), ElementsAre("warning text-encoding"));
  options.charset = Charset::utf8;
  const auto found = read_messages(titled(hex("95 5C")), options);
  EXPECT_THAT(told(found), ElementsAre("warning text-encoding"));
  EXPECT_THAT(found.front().message, HasSubstr("not in the encoding asked for"));
  EXPECT_EQ(read_sound(titled(hex("95 5C")), options).header.title, "\xEF\xBF\xBD\\");
}

TEST(Lyrics, BelongToTheirNotes) {
  const auto file = one_text_track(sung({"み", "な", "", "と"}));
  EXPECT_THAT(words_of(read_sound(file)), ElementsAre("み", "な", "", "と"));
  EXPECT_THAT(read_sound(file).verses, ElementsAre("1"));
}

TEST(Lyrics, JoinTheSyllablesOfAWordByHyphens) {
  EXPECT_THAT(words_of(read_sound(one_text_track(sung({"lan-", "terns", "on", "wa-", "ter"})))),
              ElementsAre("lan-", "-terns", "on", "wa-", "-ter"));
}

TEST(Lyrics, JoinTheSyllablesOfAWordBySpaces) {
  EXPECT_THAT(words_of(read_sound(one_text_track(sung({"lan", "terns ", "on ", "wa", "ter "})))),
              ElementsAre("lan-", "-terns", "on", "wa-", "-ter"));
  EXPECT_THAT(words_of(read_sound(one_text_track(sung({"lan", "terns", " on", " wa", "ter"})))),
              ElementsAre("lan-", "-terns", "on", "wa-", "-ter"));
}

TEST(Lyrics, CarryASyllableOn) {
  EXPECT_THAT(words_of(read_sound(one_text_track(sung({"あ", "-", "か", "_"})))),
              ElementsAre("あ", "~", "か", "~"));
}

TEST(Lyrics, OfOneNoteAreJoined) {
  EXPECT_THAT(
      words_of(read_sound(one_text_track(sung({"あ", ""}).event(0, meta_message(kLyric, "い"))))),
      ElementsAre("あ‿い", ""));
}

// Recommended practice 17 (lyric events): carriage return and line feed end a line or a paragraph.
TEST(Lyrics, DropTheirLineEnds) {
  EXPECT_THAT(words_of(read_sound(one_text_track(sung({"み\r", "な\n", "\r", "と"})))),
              ElementsAre("み", "な", "", "と"));
}

TEST(Lyrics, BelongToTheNearestNoteWithinASixteenth) {
  TrackBytes track = sung({"", ""});
  track.event(kTextTicks - 20, meta_message(kLyric, "か"));
  EXPECT_THAT(words_of(read_sound(one_text_track(track))), ElementsAre("", "か"));
  TrackBytes far = sung({"", ""});
  far.event(kTextTicks / 2, meta_message(kLyric, "か"));
  EXPECT_THAT(words_of(read_sound(one_text_track(far))), ElementsAre("", ""));
  EXPECT_THAT(told(read_messages(one_text_track(far))),
              ElementsAre("warning lyric-alone in bar 1"));
}

TEST(Lyrics, MayStandInAnotherTrack) {
  TrackBytes words;
  words.event(0, meta_message(kLyric, "ふ")).event(kTextTicks, meta_message(kLyric, "え"));
  const auto file = midi_file(1, kTextTicks, {sung({"", ""}).bytes(), words.bytes()});
  EXPECT_THAT(words_of(read_sound(file)), ElementsAre("ふ", "え"));
}

// Karaoke files have the words as texts, with a stroke where a line begins.
TEST(Lyrics, OfAKaraokeFileAreItsTexts) {
  TrackBytes words;
  words.event(0, meta_message(kText, "@KMIDI KARAOKE FILE"))
      .event(0, meta_message(kText, "@Tsong"));
  words.event(0, meta_message(kText, "\\Lan")).event(kTextTicks, meta_message(kText, "terns"));
  words.event(2 * kTextTicks, meta_message(kText, "/on"));
  const auto file = midi_file(1, kTextTicks, {sung({"", "", ""}).bytes(), words.bytes()});
  EXPECT_THAT(words_of(read_sound(file)), ElementsAre("Lan-", "-terns", "on"));
}

TEST(Names, OfTheFirstTrackIsTheTitle) {
  const auto file = midi_file(1, kTextTicks,
                              {TrackBytes().event(0, meta_message(kTrackName, "渡し船")).bytes(),
                               sung({""}).event(0, meta_message(kTrackName, "笛")).bytes()});
  EXPECT_EQ(read_sound(file).header.title, "渡し船");
}

TEST(Names, OfInstrumentsNameTheTrackToo) {
  TrackBytes flute = sung({"", ""});
  flute.event(0, meta_message(kInstrumentName, "Flute"));
  TrackBytes other = sung({""});
  const auto found = read_messages(midi_file(1, kTextTicks, {other.bytes(), flute.bytes()}));
  EXPECT_THAT(message_of(found, rule::track_chosen), HasSubstr("track 2 (“Flute”)"));
}

TEST(Names, OfOwnersAreTheRights) {
  const auto file = one_text_track(sung({""})
                                       .event(0, meta_message(kCopyright, "public domain"))
                                       .event(0, meta_message(kCopyright, "public domain"))
                                       .event(0, meta_message(kCopyright, "of this file: nobody")));
  EXPECT_EQ(read_sound(file).header.rights, "public domain; of this file: nobody");
}

TEST(Markers, AreSectionsAtTheStartOfABarAndTextsElsewhere) {
  TrackBytes track = sung({"", "", "", "", "", ""});
  track.event(0, meter_message({4, 4}));
  track.event(4 * kTextTicks, meta_message(kMarker, "B"))
      .event(kTextTicks, meta_message(kMarker, "slow"));
  track.event(2 * kTextTicks, meta_message(kText, "softly"));
  const model::Score score = read_sound(one_text_track(track));
  ASSERT_EQ(score.directions.size(), 3U);
  EXPECT_EQ(std::get<model::TextDirection>(score.directions[0].value).text, "slow");
  EXPECT_EQ(score.directions[0].onset, model::Rational(1));
  EXPECT_EQ(std::get<model::TextDirection>(score.directions[1].value).text, "softly");
  EXPECT_EQ(std::get<model::SectionStart>(score.directions[2].value).name, "B");
  EXPECT_EQ(score.directions[2].measure, 1U);
}

TEST(Markers, AfterTheMusicAreReported) {
  TrackBytes track = sung({""});
  track.event(0, meter_message({4, 4})).event(12 * kTextTicks, meta_message(kMarker, "end"));
  EXPECT_THAT(told(read_messages(one_text_track(track))),
              ElementsAre("warning text-after-music in bar 1"));
}

TEST(Texts, AtTheStartAreComments) {
  const auto file = one_text_track(sung({""}).event(0, meta_message(kText, "played by hand")));
  EXPECT_THAT(read_sound(file).header.comments, ElementsAre("played by hand"));
}

std::string own(const std::string& field) {
  return meta_message(kText, "yubifu." + field);
}

TEST(OwnTexts, BringTheHeaderBack) {
  TrackBytes track = sung({"", "", "", ""});
  track.event(0, meter_message({4, 4}));
  for (const char* field : {"subtitle: evening", "composer: nobody", "lyricist: somebody",
                            "source: a notebook", "flute: 6+15c", "tuning: 442", "beat: 1/8",
                            "staff: sounding", "zero: tube", "dance: lion: slow"}) {
    track.event(0, own(field));
  }
  const model::Header header = read_sound(one_text_track(track)).header;
  EXPECT_EQ(header.subtitle, "evening");
  EXPECT_EQ(header.composer, "nobody");
  EXPECT_EQ(header.lyricist, "somebody");
  EXPECT_EQ(header.source, "a notebook");
  ASSERT_TRUE(header.flute);
  EXPECT_EQ(model::to_text(*header.flute), "6+15c");
  EXPECT_EQ(header.tuning_hz, 442);
  EXPECT_EQ(header.beat, model::Rational(1, 2));
  EXPECT_EQ(header.staff, model::StaffMode::sounding);
  EXPECT_EQ(header.zero, model::ZeroSign::tube);
  EXPECT_THAT(header.unknown, ElementsAre(model::HeaderField{"dance", "lion: slow"}));
  EXPECT_THAT(header.comments, IsEmpty());
}

TEST(OwnTexts, ThatCannotBeReadAreKeptAsUnknown) {
  TrackBytes track = sung({""}).event(0, meter_message({4, 4}));
  track.event(0, own("tuning: loud")).event(0, own("beat: 3/4"));
  EXPECT_THAT(read_sound(one_text_track(track)).header.unknown,
              ElementsAre(model::HeaderField{"tuning", "loud"}, model::HeaderField{"beat", "3/4"}));
}

TEST(OwnTexts, ChangeTheFluteAtABar) {
  TrackBytes track = sung({"", "", "", "", ""});
  track.event(0, meter_message({4, 4}))
      .event(0, own("flute: 6"))
      .event(4 * kTextTicks, own("flute: 7"));
  const model::Score score = read_sound(one_text_track(track));
  EXPECT_EQ(model::to_text(*score.header.flute), "6");
  ASSERT_EQ(score.directions.size(), 1U);
  EXPECT_EQ(model::to_text(std::get<model::FluteChange>(score.directions[0].value).flute), "7");
}

TEST(OwnTexts, SayWhereFreeTimeBegins) {
  TrackBytes track = sung({"", "", "", "", ""});
  track.event(0, meter_message({4, 4})).event(4 * kTextTicks, own("meter: free"));
  const model::Score score = read_sound(one_text_track(track));
  ASSERT_EQ(score.measures.size(), 2U);
  EXPECT_FALSE(score.measures[0].meter.is_free());
  EXPECT_TRUE(score.measures[1].meter.is_free());
}

TEST(OwnTexts, SayThatTheLyricsAreFingering) {
  const auto file =
      one_text_track(sung({"五", "三メ", "0", "la", ""}).event(0, own("lyrics: fingering")));
  const model::Score score = read_sound(file);
  EXPECT_EQ(model::printed(score.notes[0].tone.fingering.value()), "五");
  EXPECT_EQ(model::printed(score.notes[1].tone.fingering.value()), "三メ");
  EXPECT_EQ(model::printed(score.notes[2].tone.fingering.value()), "0");
  EXPECT_FALSE(score.notes[3].tone.fingering);
  EXPECT_FALSE(score.notes[4].tone.fingering);
  EXPECT_THAT(score.verses, IsEmpty());
  EXPECT_THAT(told(read_messages(file)), ElementsAre("warning lyric-no-sign in bar 1"));
}

}  // namespace
}  // namespace yubifu::midi
