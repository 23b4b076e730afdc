// Which of many lines is the melody, in the kinds of files that people have; and a line that passes
// from voice to voice. That the tune lies in the highest voice of a choir, in the voice of a song
// and in the right hand of a pianist is common practice.
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::Not;
using testing::StartsWith;

// Bars in 4/4 of quarters: "C5 D5 r E5"; `r` is a rest, `.` nothing at all, `4:C5` lasts four.
struct Line {
  std::string voice = "1";
  int staff = 1;
  std::vector<std::string> bars;
  std::string text;  // under every note
};

std::string bar_of(const Line& line, const std::string& words) {
  const std::string where =
      fmt::format("<voice>{}</voice><staff>{}</staff>{}", line.voice, line.staff,
                  line.text.empty() ? "" : lyric("1", "single", line.text));
  std::istringstream stream(words);
  std::string bar;
  for (std::string word; stream >> word;) {
    const bool is_long = word.starts_with("4:");
    if (word == ".") {
      bar += "<forward><duration>1</duration></forward>\n";
    } else if (word == "r") {
      bar += rest(1, fmt::format("<voice>{}</voice><staff>{}</staff>", line.voice, line.staff));
    } else {
      bar += note(is_long ? word.substr(2) : word, is_long ? 4 : 1, where);
    }
  }
  return bar;
}

std::string measures_of(const std::vector<Line>& lines) {
  std::string measures;
  for (std::size_t bar = 0; bar < lines.front().bars.size(); ++bar) {
    std::string content = bar == 0 ? attributes(1, "4/4") : std::string();
    bool is_first = true;
    for (const Line& line : lines) {
      if (line.bars[bar].empty()) continue;
      if (!is_first) content += "<backup><duration>4</duration></backup>\n";
      content += bar_of(line, line.bars[bar]);
      is_first = false;
    }
    measures += measure(std::to_string(bar + 1), content);
  }
  return measures;
}

struct Part {
  std::string names;  // the elements of its <score-part>
  std::vector<Line> lines;
};

Part part(const std::string& name, std::vector<Line> lines) {
  return {"<part-name>" + name + "</part-name>", std::move(lines)};
}

Part part(const std::string& name, const std::string& bar, const std::string& text = {}) {
  return part(name, {Line{"1", 1, {bar}, text}});
}

std::string file(const std::vector<Part>& parts) {
  std::string list;
  std::string music;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    list += fmt::format("<score-part id=\"P{}\">{}</score-part>", i + 1, parts[i].names);
    music += fmt::format("<part id=\"P{}\">{}</part>\n", i + 1, measures_of(parts[i].lines));
  }
  return document("<part-list>" + list + "</part-list>\n" + music);
}

// The first pitch that is read: which line was taken.
std::string first_of(const std::vector<Part>& parts) {
  const Reading reading = read(file(parts));
  return reading.score.notes.empty() ? "" : to_text(*reading.score.notes[0].tone.spelling);
}

TEST(Melody, OfAChoirIsItsSoprano) {
  const std::vector<std::vector<std::string>> choirs{
      {"Soprano", "Alto", "Tenor", "Bass"},
      {"S.", "A.", "T.", "B."},
      {"Sopran", "Alt", "Tenor", "Bass"},
      {"Cantus", "Altus", "Tenor", "Bassus"},
      {"Canto", "Alto", "Tenore", "Basso"},
      {"Superius", "Contratenor", "Tenor", "Bassus"},
      {"Dessus", "Haute-contre", "Taille", "Basse"},
      {"Melody", "Alto", "Tenor", "Bass"},
      {"ソプラノ", "アルト", "テノール", "バス"},
      {"Women 1", "Alto", "Tenor", "Bass"},
      {"1. Stimme", "2. Stimme", "3. Stimme", "4. Stimme"}};
  for (const auto& names : choirs) {
    // Whatever their order and their height: here the alto lies over the soprano.
    EXPECT_EQ(first_of({part(names[0], "G4 A4 B4 G4"), part(names[1], "C5 D5 E5 C5"),
                        part(names[2], "E4 E4 E4 E4"), part(names[3], "C3 C3 C3 C3")}),
              "G4")
        << names[0];
    EXPECT_EQ(first_of({part(names[3], "C3 C3 C3 C3"), part(names[2], "E4 E4 E4 E4"),
                        part(names[1], "C5 D5 E5 C5"), part(names[0], "G4 A4 B4 G4")}),
              "G4")
        << names[0];
  }
}

TEST(Melody, OfAChoirOnTwoStavesIsTheUpperVoiceOfTheUpperOne) {
  const std::vector<Line> women{{"1", 1, {"G4 A4 B4 G4"}, "la"}, {"2", 1, {"E4 F4 G4 E4"}, ""}};
  const std::vector<Line> men{{"1", 1, {"C4 C4 D4 C4"}, "la"}, {"2", 1, {"C3 F3 G3 C3"}, ""}};
  EXPECT_EQ(first_of({part("", women), part("", men)}), "G4");
  // Two staves of one part, with voices numbered as notation programs do.
  EXPECT_EQ(first_of({part("", {{"5", 2, {"C4 C4 D4 C4"}, ""},
                                {"6", 2, {"C3 F3 G3 C3"}, ""},
                                {"2", 1, {"E4 F4 G4 E4"}, ""},
                                {"1", 1, {"G4 A4 B4 G4"}, ""}})}),
            "G4");
}

TEST(Melody, OfASongIsItsVoice) {
  const std::vector<Line> piano{{"1", 1, {"C6 D6 E6 F6"}, ""}, {"5", 2, {"C3 D3 E3 F3"}, ""}};
  for (const char* name : {"Voice", "Tenor", "Alto", "Singstimme", "歌"}) {
    EXPECT_EQ(first_of({part(name, "G4 A4 B4 G4"), part("Piano", piano)}), "G4") << name;
  }
  EXPECT_EQ(first_of({part("Piano", piano), part("Bass", "G3 A3 B3 G3", "la")}), "G3");
}

TEST(Melody, OfAPianoIsTheUpperVoiceOfTheUpperStaff) {
  const std::string text = file({part("Piano", {{"1", 1, {"4:E4", "4:F4"}, ""},
                                                {"2", 1, {"C4 C4 C4 C4", "C4 C4 C4 C4"}, ""},
                                                {"5", 2, {"C4 E4 G4 E4", "C5 E5 G5 E5"}, ""}})});
  const Reading reading = read(text);
  EXPECT_EQ(melody(reading.score), "0 E4 4 | 0 F4 4");
  EXPECT_THAT(reading.remarks,
              ElementsAre("note voice-chosen: the melody is read from part 'Piano' (P1), voice 1, "
                          "because it stands on the upper staff and it lies highest; left out: "
                          "voice 2 (8 notes), voice 5 (8 notes)"));
}

TEST(Melody, OfAQuartetIsTheFirstViolin) {
  EXPECT_EQ(first_of({part("Violin I", "G4 A4 B4 G4"), part("Violin II", "C5 D5 E5 C5"),
                      part("Viola", "E4 E4 E4 E4"), part("Violoncello", "C3 C3 C3 C3")}),
            "G4");
  EXPECT_EQ(first_of({part("", "C5 D5 E5 C5"), part("", "G4 A4 B4 G4"), part("", "E4 E4 E4 E4"),
                      part("", "C3 C3 C3 C3")}),
            "C5");
}

TEST(Melody, IsSungWhereverItStands) {
  EXPECT_EQ(
      first_of({part("", "C6 D6 E6 C6"), part("", "G4 A4 B4 G4", "la"), part("", "C3 C3 C3 C3")}),
      "G4");
  EXPECT_EQ(first_of({part("Violin", "C6 D6 E6 C6"), part("Tenor", "G4 A4 B4 G4", "la"),
                      part("Violoncello", "C3 C3 C3 C3")}),
            "G4");
}

TEST(Melody, OfABandIsNoDrum) {
  const std::string drum = "<note><unpitched/><duration>4</duration></note>";
  const std::string text = document(
      "<part-list><score-part id=\"P1\"><part-name>Melody Drum</part-name></score-part>"
      "<score-part id=\"P2\"><part-name>Bass</part-name></score-part>"
      "<score-part id=\"P3\"><part-name>Guitar</part-name></score-part></part-list>"
      "<part id=\"P1\">" +
      measure("1", attributes(1, "4/4") + drum) + "</part><part id=\"P2\">" +
      measure("1", attributes(1, "4/4") + note("C5", 4)) + "</part><part id=\"P3\">" +
      measure("1", attributes(1, "4/4") + note("G4", 4)) + "</part>");
  EXPECT_EQ(melody(read(text).score), "0 G4 4");
}

TEST(Melody, IsNamedInShortOrByItsInstrument) {
  const Part other = part("", "C6 D6 E6 C6");
  EXPECT_EQ(first_of({other, part("歌", "G4 A4 B4 G4")}), "G4");
  EXPECT_EQ(first_of({other, part("笛", "G4 A4 B4 G4")}), "G4");
  for (const char* names :
       {"<part-name/><part-abbreviation>S.</part-abbreviation>",
        "<part-name>Ob.</part-name><part-name-display><display-text>Soprano</display-text>"
        "</part-name-display>",
        "<part-name>P</part-name><score-instrument id=\"I\"><instrument-name>Voice"
        "</instrument-name></score-instrument>",
        "<part-name/><score-instrument id=\"I\"><instrument-name/>"
        "<instrument-sound>voice.soprano</instrument-sound></score-instrument>"}) {
    EXPECT_EQ(first_of({other, {names, {{"1", 1, {"G4 A4 B4 G4"}, ""}}}}), "G4") << names;
  }
}

// A voice that carries our fingering is the one that was fingered.
TEST(Melody, IsWhatWasFingered) {
  const std::string fingered = note("G4", 4, "<lyric name=\"fingering\"><text>五</text></lyric>");
  const std::string text = document(
      "<part-list><score-part id=\"P1\"><part-name>Soprano</part-name></score-part>"
      "<score-part id=\"P2\"><part-name>Bass</part-name></score-part></part-list>"
      "<part id=\"P1\">" +
      measure("1", attributes(1, "4/4") + note("C5", 4)) + "</part><part id=\"P2\">" +
      measure("1", attributes(1, "4/4") + fingered) + "</part>");
  EXPECT_EQ(melody(read(text).score), "0 G4 4");
}

TEST(Melody, IsWhatTheOptionsAskFor) {
  const std::string text =
      file({part("Soprano", {{"1", 1, {"C5 D5 E5 C5"}, ""}}),
            part("Bass", {{"1", 1, {"C3 D3 E3 C3"}, ""}, {"2", 1, {"G2 G2 G2 G2"}, ""}})});
  MusicXmlReadOptions options;
  options.part = "Bass";
  EXPECT_THAT(melody(read(text, options).score), StartsWith("0 C3 1"));
  options.voice = "2";
  const Reading reading = read(text, options);
  EXPECT_THAT(melody(reading.score), StartsWith("0 G2 1"));
  EXPECT_THAT(reading.remarks, Not(Contains(StartsWith("note voice-chosen"))));
}

// --- A line that passes from voice to voice

TEST(Passage, IsFollowedAndToldWithItsBars) {
  // From voice 1 to voice 2 and back; the second rests are not even written.
  const Reading reading =
      read(file({part("", {{"1", 1, {"C5 D5 E5 F5", "r r r r", "", "E5 D5 r r", "C5 r r r"}, ""},
                           {"2", 1, {"", "G4 A4 G4 F4", "E4 F4 G4 A4", "r r C5 B4", ""}, ""}})}));
  EXPECT_EQ(melody(reading.score),
            "0 C5 1, 1 D5 1, 2 E5 1, 3 F5 1 | 0 G4 1, 1 A4 1, 2 G4 1, 3 F4 1 | "
            "0 E4 1, 1 F4 1, 2 G4 1, 3 A4 1 | 0 E5 1, 1 D5 1, 2 C5 1, 3 B4 1 | 0 C5 1");
  EXPECT_EQ(lengths(reading.score), "4 4 4 4 4");
  EXPECT_THAT(
      reading.remarks,
      ElementsAre("note voice-followed: 3 bars read from another voice, where the line goes "
                  "on (voice 2): bars 2-4"));
}

TEST(Passage, IsNoneWhileBothVoicesSound) {
  // In the second bar the lower voice goes on under the first note of the upper one.
  const Reading reading = read(file({part("", {{"1", 1, {"C5 D5 E5 F5", "G5 r r r"}, ""},
                                               {"2", 1, {"C4 C4 C4 C4", "C4 D4 E4 F4"}, ""}})}));
  EXPECT_EQ(melody(reading.score), "0 C5 1, 1 D5 1, 2 E5 1, 3 F5 1 | 0 G5 1");
  EXPECT_THAT(reading.remarks, ElementsAre(StartsWith("note voice-chosen")));
}

TEST(Passage, TakesTheHighestOfSeveralVoices) {
  const Reading reading = read(file({part("", {{"1", 1, {"C5 D5 E5 F5", "r r r r"}, ""},
                                               {"2", 1, {"A4 A4 A4 A4", "C4 C4 C4 C4"}, ""},
                                               {"3", 1, {"r r r r", "E4 F4 G4 E4"}, ""}})}));
  EXPECT_EQ(melody(reading.score),
            "0 C5 1, 1 D5 1, 2 E5 1, 3 F5 1 | 0 E4 1, 1 F4 1, 2 G4 1, 3 E4 1");
}

// Where the right hand rests, the left one goes on as what it was.
TEST(Passage, LeadsToAnotherStaffOnlyWhereTheVoicesTakeTurns) {
  const std::vector<std::string> right{"C5 D5 E5 F5", "r r r r"};
  const Reading left_hand =
      read(file({part("", {{"1", 1, right, ""}, {"5", 2, {"C3 C3 C3 C3", "C3 C3 C3 C3"}, ""}})}));
  EXPECT_EQ(melody(left_hand.score), "0 C5 1, 1 D5 1, 2 E5 1, 3 F5 1 | ");
  EXPECT_THAT(left_hand.remarks,
              Contains("warning silent-voice: 1 bar has notes in other voices only: bar 2"));
  const Reading turns =
      read(file({part("", {{"1", 1, right, ""}, {"5", 2, {"r r r r", "C4 B3 A3 B3"}, ""}})}));
  EXPECT_EQ(melody(turns.score), "0 C5 1, 1 D5 1, 2 E5 1, 3 F5 1 | 0 C4 1, 1 B3 1, 2 A3 1, 3 B3 1");
  EXPECT_THAT(turns.remarks, Not(Contains(StartsWith("warning"))));
}

// One note for all of them, and what is followed is not left out, chords included.
TEST(Passage, IsToldOnce) {
  const std::string chord =
      "<note><chord/><pitch><step>B</step><octave>3</octave></pitch>"
      "<duration>4</duration><voice>2</voice></note>";
  const Reading reading = read(one_part(
      measure("1", attributes(1, "4/4") + note("C5", 4, "<voice>1</voice>")) +
      measure("2", note("E4", 4, "<voice>2</voice>") + chord) +
      measure("3", note("C5", 4, "<voice>1</voice>") + "<backup><duration>4</duration></backup>" +
                       note("G4", 4, "<voice>2</voice>")) +
      measure("4", note("D4", 4, "<voice>3</voice>"))));
  EXPECT_EQ(melody(reading.score), "0 C5 4 | 0 E4 4 | 0 C5 4 | 0 D4 4");
  EXPECT_THAT(reading.remarks,
              ElementsAre("note voice-chosen: the melody is read from part 'Flute' (P1), voice 1, "
                          "because it lies highest; left out: voice 2 (1 note)",
                          "note voice-followed: 2 bars read from another voice, where the line "
                          "goes on (voice 2, voice 3): bars 2, 4",
                          "warning left-out: 1 chord note left out: bar 2"));
}

TEST(Passage, IsNotFollowedFromAVoiceThatWasAskedFor) {
  MusicXmlReadOptions options;
  options.voice = "1";
  const Reading reading = read(
      file({part("", {{"1", 1, {"C5 D5 E5 F5", ""}, ""}, {"2", 1, {"", "4:G5"}, ""}})}), options);
  EXPECT_EQ(melody(reading.score), "0 C5 1, 1 D5 1, 2 E5 1, 3 F5 1 | ");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning silent-voice: 1 bar has notes in other voices only: bar 2"));
}

TEST(Passage, KeepsItsTextAndItsTies) {
  const std::string tie = "<tie type=\"start\"/><voice>1</voice>";
  const std::string text =
      one_part(measure("1", attributes(1, "4/4") + note("D5", 4, tie)) +
               measure("2", note("D5", 2, "<tie type=\"stop\"/><voice>2</voice>") +
                                note("E5", 2, "<voice>2</voice>" + lyric("1", "single", "lo"))) +
               measure("3", note("F5", 4, "<voice>1</voice>" + lyric("1", "single", "la"))));
  const Reading reading = read(text);
  EXPECT_EQ(melody(reading.score), "0 D5 6 | 2 E5 2 | 0 F5 4");
  EXPECT_EQ(verse(reading.score, "1"), "/ lo la");
}

}  // namespace
}  // namespace yubifu::musicxml
