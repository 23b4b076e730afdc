#include <gtest/gtest.h>

#include "model/pitch.h"

namespace yubifu::model {
namespace {

std::string key_of(const std::vector<int>& midi_keys) {
  return to_text(find_key(midi_keys));
}

TEST(FindKey, takes_the_scale_that_holds_the_notes) {
  EXPECT_EQ(key_of({60, 62, 64, 65, 67, 69, 71, 72}), "C");
  EXPECT_EQ(key_of({62, 64, 66, 67, 69, 71, 73, 74}), "D");
  EXPECT_EQ(key_of({70, 72, 74, 75, 77, 79, 81, 82}), "Bb");
  EXPECT_EQ(key_of({69, 71, 72, 74, 76, 77, 79, 81}), "A minor");
  EXPECT_EQ(key_of({}), "C");
}

TEST(FindKey, decides_between_equals_by_the_last_note_then_by_fewer_accidentals) {
  EXPECT_EQ(key_of({67, 69, 71, 74, 76, 67}), "G");        // also C and D
  EXPECT_EQ(key_of({60, 62, 64, 67, 69, 62}), "D minor");  // la of F
  EXPECT_EQ(key_of({60, 62, 64, 67, 69, 62, 65}), "F");    // F fits C, F, B♭: do of F
  EXPECT_EQ(key_of({66, 68, 70, 71, 73, 75, 77}), "F#");   // six sharps rather than six flats
}

TEST(MovedKey, keeps_the_mode_and_at_most_six_accidentals) {
  const auto moved = [](const char* key, int by) {
    return to_text(moved_key(*parse_key(key), by));
  };
  EXPECT_EQ(moved("C", 2), "D");
  EXPECT_EQ(moved("A minor", -2), "G minor");
  EXPECT_EQ(moved("Bb", 12), "Bb");
  EXPECT_EQ(moved("F", 1), "Gb");
  EXPECT_EQ(moved("G", -1), "F#");
  EXPECT_EQ(moved("G", 11), "F#");
  EXPECT_EQ(moved("C", 1), "Db");
  EXPECT_EQ(moved("C#", 0), "C#");
}

}  // namespace
}  // namespace yubifu::model
