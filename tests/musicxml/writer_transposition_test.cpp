// The transposition of each flute, as players' sheets write it.
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"
#include "musicxml/transposition.h"

namespace yubifu::musicxml {
namespace {

struct SizeCase {
  int size;
  int ichi_key;  // MIDI key of the note of 一, from the range table of Japanese Wikipedia, 篠笛
  Transposition usual;
};

// Section 4 of the design, typed: diatonic / chromatic / octave-change of sizes 1 to 13.
const std::vector<SizeCase>& sizes() {
  static const std::vector<SizeCase> table{
      {1, 65, {3, 5, 0}},  {2, 66, {3, 6, 0}},  {3, 67, {4, 7, 0}},  {4, 68, {5, 8, 0}},
      {5, 69, {5, 9, 0}},  {6, 70, {6, 10, 0}}, {7, 71, {6, 11, 0}}, {8, 72, {0, 0, 1}},
      {9, 73, {1, 1, 1}},  {10, 74, {1, 2, 1}}, {11, 75, {2, 3, 1}}, {12, 76, {2, 4, 1}},
      {13, 77, {3, 5, 1}},
  };
  return table;
}

TEST(Transposition, OfEverySizeIsTheListedOne) {
  for (const SizeCase& flute : sizes()) {
    EXPECT_EQ(transposition_to(flute.ichi_key, Leaning::usual), flute.usual) << flute.size;
  }
}

TEST(Transposition, FollowsTheKeyForTheBlackKeys) {
  EXPECT_EQ(transposition_to(66, Leaning::flats), (Transposition{4, 6, 0}));
  EXPECT_EQ(transposition_to(66, Leaning::sharps), (Transposition{3, 6, 0}));
  EXPECT_EQ(transposition_to(73, Leaning::sharps), (Transposition{0, 1, 1}));
  EXPECT_EQ(transposition_to(73, Leaning::flats), (Transposition{1, 1, 1}));
}

TEST(Transposition, BelowMiddleCGoesDown) {
  EXPECT_EQ(transposition_to(58, Leaning::usual), (Transposition{-1, -2, 0}));
  EXPECT_EQ(transposition_to(48, Leaning::usual), (Transposition{0, 0, -1}));
  EXPECT_EQ(transposition_to(46, Leaning::usual), (Transposition{-1, -2, -1}));
}

TEST(Transposition, TellsWhatWrittenCSounds) {
  const auto sound = [](int ichi, Leaning leaning) {
    return to_text(sound_of_written_c(transposition_to(ichi, leaning)));
  };
  EXPECT_EQ(sound(65, Leaning::usual), "F4");
  EXPECT_EQ(sound(66, Leaning::usual), "F#4");
  EXPECT_EQ(sound(66, Leaning::flats), "Gb4");
  EXPECT_EQ(sound(70, Leaning::usual), "Bb4");
  EXPECT_EQ(sound(72, Leaning::usual), "C5");
  EXPECT_EQ(sound(73, Leaning::usual), "Db5");
  EXPECT_EQ(sound(73, Leaning::sharps), "C#5");
  EXPECT_EQ(sound(77, Leaning::usual), "F5");
  EXPECT_EQ(sound(58, Leaning::usual), "Bb3");
}

TEST(Transposition, MovesTheKey) {
  const auto written = [](const char* sounding, int ichi, Leaning leaning) {
    const model::Key key = model::parse_key(sounding).value();
    return to_text(written_key(key, transposition_to(ichi, leaning)));
  };
  EXPECT_EQ(written("Bb", 70, Leaning::flats), "C");
  EXPECT_EQ(written("G minor", 70, Leaning::flats), "A minor");
  EXPECT_EQ(written("C", 72, Leaning::usual), "C");
  EXPECT_EQ(written("D", 74, Leaning::usual), "C");
  EXPECT_EQ(written("B", 71, Leaning::usual), "C");
  EXPECT_EQ(written("Db", 66, Leaning::flats), "G");
  EXPECT_EQ(written("B", 66, Leaning::sharps), "F");
  // Nine flats are no key signature; three sharps sound alike.
  EXPECT_EQ(written("Cb", 74, Leaning::flats), "A");
}

TEST(TransposeElement, HasNoOctavesBelowAnOctave) {
  model::Score score = support::staff_score({4, 4}, "4");
  score.flutes[0] = {0, model::FluteSize{6, 0}, "6", {70, 0}, 440};
  const std::string document = support::document_of(score);
  EXPECT_NE(document.find("<diatonic>6</diatonic>\n          <chromatic>10</chromatic>\n"
                          "        </transpose>"),
            std::string::npos);
  EXPECT_NE(document.find("Flute 6: written C sounds B♭4"), std::string::npos);
}

TEST(TransposeElement, OfEverySizeIsTheListedOne) {
  for (const SizeCase& flute : sizes()) {
    model::Score score = support::fingered_score("一 二 三 一");
    score.flutes[0] = {0, model::FluteSize{flute.size, 0}, "", {flute.ichi_key, 0}, 440};
    for (model::Note& note : score.notes) note.tone.pitch->key += flute.ichi_key - 72;
    const auto& [diatonic, chromatic, octave] = flute.usual;
    std::string element = fmt::format("<transpose><diatonic>{}</diatonic><chromatic>{}</chromatic>",
                                      diatonic, chromatic);
    if (octave != 0) element += fmt::format("<octave-change>{}</octave-change>", octave);
    EXPECT_NE(support::compact(score).find(element + "</transpose>"), std::string::npos)
        << flute.size;
    EXPECT_EQ(support::written_pitches(support::document_of(score)),
              (std::vector<std::string>{"C4", "D4", "E4", "C4"}));
  }
}

TEST(TransposeElement, TakesTheKeyOffATuneInTheKeyOfItsFlute) {
  model::Score score = support::fingered_score("一 二 三 四 五 六 七 1");
  score.flutes[0] = {0, model::FluteSize{6, 0}, "6", {70, 0}, 440};
  for (model::Note& note : score.notes) note.tone.pitch->key -= 2;
  score.header.key = model::parse_key("Bb");
  EXPECT_EQ(support::written_pitches(support::document_of(score)),
            (std::vector<std::string>{"C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5"}));
  EXPECT_NE(support::compact(score).find("<key><fifths>0</fifths><mode>major</mode></key>"),
            std::string::npos);
  // Where the key is not named it is found.
  score.header.key.reset();
  EXPECT_NE(support::compact(score).find("<key><fifths>0</fifths></key>"), std::string::npos);
}

TEST(TransposeElement, IsMissingOnASoundingStaff) {
  MusicXmlWriteOptions options;
  options.staff = model::StaffMode::sounding;
  const std::string text = support::compact(support::fingered_score("一 二 三 一"), options);
  EXPECT_EQ(text.find("<transpose>"), std::string::npos);
  EXPECT_EQ(text.find("written C"), std::string::npos);
}

TEST(TransposeElement, OfHalfSizesIsThatOfTheNearestSize) {
  model::Score score = support::staff_score({4, 4}, "4");
  score.flutes[0] = {0, model::FluteSize{{15, 2}, 0}, "7.5", {71, 50}, 440};
  EXPECT_NE(support::document_of(score).find("<chromatic>11</chromatic>"), std::string::npos);
}

TEST(TransposeElement, ComesAnewWithAnotherFlute) {
  model::Score score = support::staff_score({4, 4}, "4 4");
  score.flutes.push_back({1, model::FluteSize{10, 0}, "10", {74, 0}, 440});
  model::Direction change;
  change.measure = 1;
  change.value = model::FluteChange{model::FluteSize{10, 0}};
  score.directions.push_back(change);
  score.notes[1].tone.pitch = model::Pitch{78, 0};
  const std::string document = support::document_of(score);
  EXPECT_NE(document.find("<diatonic>1</diatonic>\n          <chromatic>2</chromatic>\n"
                          "          <octave-change>1</octave-change>"),
            std::string::npos);
  EXPECT_NE(document.find("yubifu:flute 10"), std::string::npos);
  EXPECT_EQ(support::written_pitches(document), (std::vector<std::string>{"E4", "E4"}));
}

}  // namespace
}  // namespace yubifu::musicxml
