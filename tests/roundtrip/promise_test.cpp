// What survives which path: each cell of the table in the README that says yes, over random
// scores.
#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "check/comparison.h"
#include "fingering/resolve.h"
#include "midi/read/reader.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/play_out.h"
#include "model/words.h"
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"
#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "scorejson/reader.h"
#include "scorejson/writer.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"

namespace yubifu {
namespace {

using check::Aspect;
using check::Aspects;
using model::Score;

// Fewer than fifty would leave some kinds of flute out.
const std::uint64_t kScores = std::max<std::uint64_t>(50, support::rounds(150));

support::GeneratorOptions options_for_flutes() {
  support::GeneratorOptions options;
  options.only_built_in_signs = true;
  return options;
}

// A score as it comes from fingering text, ready for a writer; nothing where the flute lacks a
// sign or the rhythm cannot be written.
std::optional<fingering::Resolved> resolved(Score score, fingering::Origin origin) {
  // Exports name the flute that was taken.
  if (!score.header.flute) score.header.flute = model::kDefaultFluteSize;
  fingering::ResolveOptions options;
  options.origin = origin;
  return std::move(fingering::resolve(std::move(score), options).value);
}

std::optional<Score> through_text(const Score& score, notation::Alphabet alphabet) {
  const auto text = notation::write_notation(score, {alphabet});
  if (!text.value) return std::nullopt;
  return notation::read_notation(base::SourceText("x.yubifu", *text.value)).value;
}

std::optional<Score> through_json(const Score& score) {
  const auto text = scorejson::write_score_json(score, {});
  if (!text.value) return std::nullopt;
  return scorejson::read_score_json(base::SourceText("x.json", *text.value)).value;
}

std::optional<Score> through_staff(const Score& score, musicxml::Annotation annotation) {
  musicxml::MusicXmlWriteOptions options;
  options.annotation = annotation;
  const auto text = musicxml::write_musicxml(score, options);
  if (!text.value) return std::nullopt;
  return musicxml::read_musicxml(base::SourceText("x.musicxml", *text.value), {}).value;
}

std::optional<Score> through_sound(const Score& score, const midi::MidiWriteOptions& options) {
  const auto bytes = midi::write_midi(score, options);
  if (!bytes.value) return std::nullopt;
  return midi::read_midi(*bytes.value, {}).value;
}

std::string differences(const Score& a, const Score& b, const check::CompareOptions& options) {
  std::string text;
  for (const auto& found : check::compare(a, b, options, base::SourceText("other", {}))) {
    text += found.message + " | " + found.hint + "\n";
  }
  return text;
}

// Column by column: fingering text, score JSON, and both one after the other keep everything.
TEST(Promise, TextAndJsonKeepEverything) {
  for (std::uint64_t seed = 1; seed <= kScores; ++seed) {
    const Score score = support::random_score(seed);
    for (const auto alphabet : {notation::Alphabet::printed, notation::Alphabet::ascii}) {
      const auto text = through_text(score, alphabet);
      ASSERT_TRUE(text) << seed;
      const auto json = through_json(*text);
      ASSERT_TRUE(json) << seed;
      const auto difference = support::first_difference(score, *json);
      EXPECT_FALSE(difference) << seed << ": " << *difference;
    }
  }
}

class AnnotatedStaff : public testing::TestWithParam<musicxml::Annotation> {};

// Fingering, half hole, bend, marks, rhythm, form, lyrics and header go to a staff and come back
// to text.
TEST_P(AnnotatedStaff, KeepsEverything) {
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= kScores; ++seed) {
    const auto from =
        resolved(support::random_score(seed, options_for_flutes()), fingering::Origin::fingers);
    if (!from) continue;
    const auto staff = through_staff(from->score, GetParam());
    if (!staff) continue;
    const auto back = resolved(*staff, fingering::Origin::staff);
    ASSERT_TRUE(back) << seed;
    EXPECT_EQ(differences(from->score, back->score, {}), "") << seed;
    const auto text = through_text(back->score, notation::Alphabet::printed);
    ASSERT_TRUE(text) << seed;
    const auto difference = support::first_difference(from->score, *text);
    EXPECT_FALSE(difference) << seed << ": " << *difference;
    ++compared;
  }
  EXPECT_GT(compared, kScores / 2);
}

INSTANTIATE_TEST_SUITE_P(EveryKind, AnnotatedStaff,
                         testing::Values(musicxml::Annotation::lyric,
                                         musicxml::Annotation::lyric_above,
                                         musicxml::Annotation::technical,
                                         musicxml::Annotation::words));

bool is_between_sizes(const model::FluteInUse& flute) {
  return flute.ichi.cents != 0;
}

TEST(Promise, ABareStaffKeepsRhythmFormMarksAndSongText) {
  std::size_t compared = 0;
  std::size_t between_sizes = 0;
  check::CompareOptions options;
  options.aspects.erase(Aspect::fingering);
  options.cents = 50.5;  // a staff without annotation has whole semitones
  for (std::uint64_t seed = 1; seed <= kScores; ++seed) {
    support::GeneratorOptions generator = options_for_flutes();
    generator.grace_notes = false;  // their signs are shown among the marks
    generator.asked_holes = false;
    generator.most_bend_cents = 45;
    const auto from = resolved(support::random_score(seed, generator), fingering::Origin::fingers);
    if (!from) continue;
    const auto staff = through_staff(from->score, musicxml::Annotation::none);
    if (!staff) continue;
    const auto back = resolved(*staff, fingering::Origin::staff);
    ASSERT_TRUE(back) << seed;
    EXPECT_EQ(differences(from->score, back->score, options), "") << seed;
    ++compared;
    const auto& flutes = from->score.flutes;
    if (std::any_of(flutes.begin(), flutes.end(), is_between_sizes)) ++between_sizes;
  }
  EXPECT_GT(compared, kScores / 2);
  EXPECT_GT(between_sizes, kScores / 10);
}

// What the header says, as lines, but for flute, key and tempo.
std::vector<std::string> header_of(const Score& score) {
  const model::Header& header = score.header;
  std::vector<std::string> lines{header.title,    header.subtitle, header.composer,
                                 header.lyricist, header.source,   header.rights};
  for (const model::HeaderField& field : header.unknown) {
    if (field.key == "beat") continue;  // one that does not fit the meter that was found
    lines.push_back(field.key + ": " + field.value);
  }
  lines.push_back(std::to_string(header.tuning_hz.value_or(440)));
  if (header.staff) lines.emplace_back(word_of(*header.staff));
  lines.emplace_back(word_of(header.zero));
  return lines;
}

double quarters_a_minute(const Score& score) {
  return score.header.tempo.value_or(model::kDefaultTempo).quarters_per_minute().as_double();
}

// Within its first bar: what begins so has another tempo at once.
bool changes_tempo(const Score& score) {
  const auto changes = [](const model::Direction& direction) {
    const auto* cue = std::get_if<model::Cue>(&direction.value);
    return direction.measure == 0 && cue != nullptr &&
           (*cue == model::Cue::rit || *cue == model::Cue::accel);
  };
  const auto stops = [](const auto& item) {
    return item.measure == 0 &&
           std::count(item.marks.begin(), item.marks.end(), model::Mark::fermata) > 0;
  };
  return std::any_of(score.directions.begin(), score.directions.end(), changes) ||
         std::any_of(score.notes.begin(), score.notes.end(), stops) ||
         std::any_of(score.rests.begin(), score.rests.end(), stops);
}

bool has_only_shoga(const Score& score) {
  return std::all_of(score.verses.begin(), score.verses.end(),
                     [](const std::string& verse) { return verse == "shoga"; });
}

// MIDI holds what is heard, the header, and one text under the notes: the fingering or the words.
class Sound : public testing::TestWithParam<midi::Lyrics> {};

TEST_P(Sound, KeepsWhatIsHeardTheHeaderAndOneText) {
  std::size_t compared = 0;
  check::CompareOptions options;
  options.aspects = {Aspect::pitch, Aspect::onset, Aspect::duration};
  const double slowest = 60e6 / 0xFFFFFF;  // microseconds a quarter, in three bytes
  midi::MidiWriteOptions writing;
  writing.lyrics = GetParam();
  options.aspects.insert(GetParam() == midi::Lyrics::song ? Aspect::lyrics : Aspect::fingering);
  for (std::uint64_t seed = 1; seed <= kScores; ++seed) {
    support::GeneratorOptions generator = options_for_flutes();
    generator.rhythm = support::RhythmKind::tuplets;
    generator.grace_notes = false;  // they may fall between the ticks
    generator.gaps = false;         // a gap is a pitch there, for which fingers are sought anew
    const auto from = resolved(support::random_score(seed, generator), fingering::Origin::fingers);
    if (!from || from->score.notes.empty()) continue;
    if (GetParam() == midi::Lyrics::song && has_only_shoga(from->score)) continue;
    const auto heard = check::as_sounding(from->score);
    const auto played = model::play_out(from->score);
    if (!heard || !played.value || !midi::choose_grid(played.value->score, {}).exact) continue;
    const auto read = through_sound(from->score, writing);
    ASSERT_TRUE(read) << seed;
    EXPECT_EQ(differences(*heard, *read, options), "") << seed;
    EXPECT_EQ(header_of(*read), header_of(from->score)) << seed;
    if (!changes_tempo(from->score)) {
      const double tempo = std::max(quarters_a_minute(from->score), slowest);
      EXPECT_NEAR(quarters_a_minute(*read), tempo, tempo * 1e-4) << seed;
    }
    ++compared;
  }
  EXPECT_GT(compared, kScores / 4);
}

INSTANTIATE_TEST_SUITE_P(EveryText, Sound,
                         testing::Values(midi::Lyrics::fingering, midi::Lyrics::song));

}  // namespace
}  // namespace yubifu
