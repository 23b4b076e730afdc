// The generated scores are sound, and they hold everything that the grammar of the fingering text
// can say: each production turns up in at least one score of a hundred.
#include <algorithm>
#include <array>
#include <functional>
#include <map>
#include <set>
#include <string>

#include <gtest/gtest.h>

#include "support/invariants.h"
#include "support/same_music.h"
#include "support/score_generator.h"

namespace yubifu::model {
namespace {

using support::GeneratorOptions;
using support::random_score;
using support::RhythmKind;

constexpr std::uint64_t kScores = 4000;

using Productions = std::set<std::string>;

// Of a beat. Finer ones, up to 64 times 3, 5 and 7, turn up more rarely: see the test of them.
constexpr std::array kDivisors{2,  3,  5,  7,  9,  11, 15, 16, 32, 6,
                               10, 12, 14, 20, 21, 24, 28, 48, 64};

void add_sign(const Tone& tone, const std::string& where, Productions& found) {
  const Fingering& fingering = *tone.fingering;
  if (fingering.bend_cents != 0) found.insert(where + (fingering.bend_cents < 0 ? "down" : "up"));
  if (fingering.is_gap()) {
    found.insert(where + "gap");
    if (fingering.bend_cents != 0) found.insert(where + "bent gap");
    return;
  }
  if (where.empty()) found.insert("sign " + ascii(*fingering.sign));
  if (fingering.half == HalfHole::none) return;
  const std::string half = fingering.half == HalfHole::under ? "half under" : "half over";
  found.insert(where + half);
  if (fingering.bend_cents != 0) found.insert(where + half + " bent");
}

void add_notes(const Score& score, Productions& found) {
  for (const Note& note : score.notes) {
    add_sign(note.tone, "", found);
    for (const Tone& tone : note.grace_before) add_sign(tone, "pre ", found);
    for (const Tone& tone : note.grace_after) add_sign(tone, "post ", found);
    for (const Mark mark : note.marks) {
      found.insert("mark " + std::to_string(static_cast<int>(mark)));
    }
    if (note.marks.size() > 1) found.insert("several marks");
    if (!note.grace_before.empty()) found.insert("pre");
    if (note.grace_before.size() > 1) found.insert("pre of several");
    if (!note.grace_after.empty()) found.insert("post");
    if (note.asked_holes) found.insert("holes");
    if (note.slur_to_next) found.insert("slur");
    if (note.tone.fingering->is_gap() && !note.marks.empty()) found.insert("marked gap");
    const Measure& measure = score.measures[note.measure];
    if (note.onset + note.duration > measure.length) {
      found.insert("tie over bar");
      if (measure.repeat_end) found.insert("tie over repeat");
      if (ending_starts(score, note.measure + 1)) found.insert("tie into ending");
    }
    const auto divided_by = [&](int divisor) {
      return (note.onset / measure.beat).denominator() % divisor == 0;
    };
    for (const int divisor : kDivisors) {
      if (divided_by(divisor)) found.insert("onset divided by " + std::to_string(divisor));
    }
    if ((note.duration / measure.beat).numerator() > 1) found.insert("long note");
  }
}

void add_rests(const Score& score, Productions& found) {
  for (const Rest& rest : score.rests) {
    for (const Mark mark : rest.marks) {
      found.insert("rest with mark " + std::to_string(static_cast<int>(mark)));
    }
    if (rest.marks.size() > 1) found.insert("rest with several marks");
    if (!rest.onset.is_whole()) found.insert("marked rest off the beat");
  }
}

void add_directions(const Score& score, Productions& found) {
  for (const Direction& direction : score.directions) {
    const Measure& measure = score.measures[direction.measure];
    std::string name = "direction " + std::to_string(direction.value.index());
    if (const auto* cue = std::get_if<Cue>(&direction.value)) {
      name = "cue " + std::to_string(static_cast<int>(*cue));
    }
    found.insert(name);
    if (!(direction.onset / measure.beat).is_whole()) found.insert("direction off the beat");
    if (direction.onset == measure.length) found.insert("direction at the end of a bar");
    if (direction.onset == Rational(0)) found.insert("direction at the start of a bar");
    if (std::holds_alternative<BeatChange>(direction.value)) {
      const bool between = (direction.onset / measure.beat).is_whole();
      found.insert(between ? "beat change between words" : "beat change inside a word");
    }
    if (const auto* tempo = std::get_if<TempoChange>(&direction.value)) {
      const bool usual = tempo->tempo.unit == felt_beat(measure.meter, measure.beat);
      found.insert(usual ? "tempo" : "tempo of another unit");
    }
  }
}

void add_measures(const Score& score, Productions& found) {
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    const Measure& here = score.measures[i];
    const Rational full = here.meter.length();
    const auto add_if = [&](bool holds, const char* name) {
      if (holds) found.insert(name);
    };
    add_if(here.repeat_start, "repeat start");
    add_if(here.repeat_end, "repeat end");
    add_if(here.repeat_end && here.times > 2, "repeat with times");
    add_if(!here.ending.empty(), "ending");
    add_if(here.ending.size() > 1, "ending of several numbers");
    add_if(here.right == BarStyle::section, "section bar");
    add_if(here.right == BarStyle::final, "final bar");
    add_if(here.repeat_end && here.right == BarStyle::section, "repeat end at a section bar");
    add_if(here.repeat_end && here.right == BarStyle::final, "repeat end at the final bar");
    found.insert("meter " + to_text(here.meter));
    found.insert("beat " + beat_text(here.beat));
    add_if(here.meter.is_free(), "free meter");
    add_if(here.beat != default_beat(here.meter), "odd beat");
    add_if(here.irregular && here.length > full, "irregular, long");
    add_if(here.irregular && here.length < full, "irregular, short");
    const bool is_short = !here.meter.is_free() && !here.irregular && here.length < full;
    add_if(is_short && i == 0, "pickup");
    add_if(is_short && i > 0, "short bar");
    add_if(is_short && i > 0 && fraction_comes_first(score, i), "bar parted by a repeat sign");
    const bool whole = (here.length / here.beat).is_whole();
    add_if(!whole && fraction_comes_first(score, i), "incomplete word at the front");
    add_if(!whole && !fraction_comes_first(score, i), "incomplete word at the end");
    add_if(here.break_before == LineBreak::line, "line break");
    add_if(here.break_before == LineBreak::blank_line, "blank line");
    for (const Comment& comment : here.comments) {
      found.insert(comment.own_line ? "comment on its own line" : "comment beside the music");
    }
    if (i == 0) continue;
    const Measure& before = score.measures[i - 1];
    add_if(here.meter != before.meter, "meter change");
    add_if(here.meter == before.meter && here.beat != before.beat, "beat change at a bar");
    add_if(before.repeat_end && here.repeat_start, "repeat end and start");
    add_if(here.repeat_end && !here.repeat_start && !before.repeat_start && before.repeat_end,
           "repeat without a start");
    add_if(!before.ending.empty() && ending_stops(score, i - 1) && !before.repeat_end &&
               before.right == BarStyle::regular,
           "ending closed by a word");
  }
}

void add_song_text(const Score& score, Productions& found) {
  for (const std::string& verse : score.verses) found.insert("verse " + verse);
  if (score.verses.size() > 1) found.insert("several verses");
  for (const Note& note : score.notes) {
    if (!score.verses.empty() && note.syllables.empty()) found.insert("note without syllable");
    for (const Syllable& syllable : note.syllables) {
      if (syllable.extends) found.insert("melisma");
      found.insert("syllable " + std::to_string(static_cast<int>(syllable.kind)));
      if (syllable.text.find_first_of(" ~/|\\-#>") != std::string::npos) {
        found.insert("syllable with a special character");
      }
      if (syllable.text.find("‿") != std::string::npos) found.insert("two syllables joined");
    }
  }
}

void add_header(const Header& header, Productions& found) {
  const auto add_if = [&](bool holds, const char* name) {
    if (holds) found.insert(name);
  };
  add_if(!header.title.empty(), "header title");
  add_if(!header.subtitle.empty(), "header subtitle");
  add_if(!header.composer.empty(), "header composer");
  add_if(!header.lyricist.empty(), "header lyricist");
  add_if(!header.source.empty(), "header source");
  add_if(!header.rights.empty(), "header rights");
  add_if(header.flute.has_value(), "header flute");
  add_if(!header.flute, "no header flute");
  if (header.flute) {
    const auto& size = std::get<FluteSize>(*header.flute);
    add_if(!size.size.is_whole(), "half size");
    add_if(size.cents != 0, "flute with cents");
  }
  add_if(header.tuning_hz.has_value(), "header tuning");
  add_if(header.meter.is_free(), "header meter free");
  add_if(header.beat.has_value(), "header beat");
  add_if(header.tempo.has_value(), "header tempo");
  add_if(header.key.has_value(), "header key");
  add_if(header.key && header.key->mode == Mode::minor, "header minor key");
  add_if(header.key && header.key->fifths > 0, "header key with sharps");
  add_if(header.key && header.key->fifths < 0, "header key with flats");
  add_if(header.tempo && !header.tempo->per_minute.is_whole(), "header tempo with a fraction");
  add_if(header.staff == StaffMode::in_c, "header staff in-c");
  add_if(header.staff == StaffMode::sounding, "header staff sounding");
  add_if(header.zero == ZeroSign::tube, "header zero tube");
  add_if(!header.unknown.empty(), "header unknown");
  add_if(header.unknown.size() > 1, "header several unknown");
  add_if(!header.comments.empty(), "header comment");
}

Productions productions(const Score& score) {
  Productions found;
  add_header(score.header, found);
  add_measures(score, found);
  add_notes(score, found);
  add_rests(score, found);
  add_directions(score, found);
  add_song_text(score, found);
  return found;
}

// Everything that `productions` can name.
std::vector<std::string> all_productions() {
  std::vector<std::string> all{"down",
                               "up",
                               "gap",
                               "bent gap",
                               "half under",
                               "half over",
                               "half under bent",
                               "half over bent",
                               "pre",
                               "pre of several",
                               "pre half under",
                               "pre half over",
                               "pre down",
                               "pre up",
                               "pre gap",
                               "post",
                               "post half under",
                               "post half over",
                               "post down",
                               "post up",
                               "post gap",
                               "several marks",
                               "marked gap",
                               "holes",
                               "slur",
                               "tie over bar",
                               "tie over repeat",
                               "tie into ending",
                               "long note",
                               "rest with mark 0",
                               "rest with mark 1",
                               "rest with mark 2",
                               "rest with several marks",
                               "marked rest off the beat",
                               "direction off the beat",
                               "direction at the end of a bar",
                               "direction at the start of a bar",
                               "tempo",
                               "beat change between words",
                               "beat change inside a word",
                               "tempo of another unit",
                               "repeat start",
                               "repeat end",
                               "repeat with times",
                               "ending",
                               "ending of several numbers",
                               "section bar",
                               "final bar",
                               "repeat end at a section bar",
                               "repeat end at the final bar",
                               "free meter",
                               "odd beat",
                               "irregular, long",
                               "irregular, short",
                               "pickup",
                               "short bar",
                               "bar parted by a repeat sign",
                               "incomplete word at the front",
                               "incomplete word at the end",
                               "line break",
                               "blank line",
                               "comment on its own line",
                               "comment beside the music",
                               "meter change",
                               "beat change at a bar",
                               "repeat end and start",
                               "repeat without a start",
                               "ending closed by a word",
                               "verse 1",
                               "verse 2",
                               "verse 3",
                               "verse shoga",
                               "several verses",
                               "note without syllable",
                               "melisma",
                               "syllable 0",
                               "syllable 1",
                               "syllable 2",
                               "syllable 3",
                               "syllable with a special character",
                               "two syllables joined",
                               "header title",
                               "header subtitle",
                               "header composer",
                               "header lyricist",
                               "header source",
                               "header rights",
                               "header flute",
                               "no header flute",
                               "half size",
                               "flute with cents",
                               "header tuning",
                               "header meter free",
                               "header beat",
                               "header tempo",
                               "header key",
                               "header minor key",
                               "header key with sharps",
                               "header key with flats",
                               "header tempo with a fraction",
                               "header staff in-c",
                               "header staff sounding",
                               "header zero tube",
                               "header unknown",
                               "header several unknown",
                               "header comment"};
  for (const char* sign : {"rt", "r1", "r2", "r3", "r4", "r5", "r6", "r7", "0",  "1",  "2", "3",
                           "4",  "5",  "6",  "7",  "8",  "d2", "d3", "d4", "d5", "d6", "d7"}) {
    all.push_back(std::string("sign ") + sign);
  }
  for (int i = 0; i <= static_cast<int>(Mark::tenuto); ++i) {
    all.push_back("mark " + std::to_string(i));
  }
  for (int i = 0; i <= static_cast<int>(Cue::caesura); ++i) {
    all.push_back("cue " + std::to_string(i));
  }
  for (const int divisor : kDivisors) all.push_back("onset divided by " + std::to_string(divisor));
  for (const char* meter : {"4/4", "3/4", "2/4", "6/8", "9/8", "12/8", "3/8", "2/2", "5/4", "7/8",
                            "5/8", "1/4", "4/16", "free"}) {
    all.push_back(std::string("meter ") + meter);
  }
  for (const char* beat : {"1/16", "1/8", "3/16", "1/4", "3/8", "1/2", "3/4", "1/12", "1/10"}) {
    all.push_back(std::string("beat ") + beat);
  }
  // Tempo to dynamic; a cue has its own names.
  for (int i = 0; i <= 6; ++i) all.push_back("direction " + std::to_string(i));
  return all;
}

TEST(ScoreGenerator, HasEveryProductionInOneScoreOfAHundred) {
  std::map<std::string, std::uint64_t> counts;
  for (std::uint64_t seed = 0; seed < kScores; ++seed) {
    for (const std::string& name : productions(random_score(seed))) ++counts[name];
  }
  for (const std::string& name : all_productions()) {
    EXPECT_GE(counts[name] * 100, kScores) << name << ": " << counts[name];
  }
}

TEST(ScoreGenerator, DividesBeatsByUpToSixtyFourTimesSeven) {
  std::set<std::int64_t> divisions;
  for (std::uint64_t seed = 0; seed < kScores; ++seed) {
    const Score score = random_score(seed);
    for (const Note& note : score.notes) {
      divisions.insert((note.onset / score.measures[note.measure].beat).denominator());
    }
  }
  for (const std::int64_t division : {64, 64 * 3, 64 * 5, 64 * 7}) {
    EXPECT_TRUE(divisions.contains(division)) << division;
  }
}

TEST(ScoreGenerator, MakesSoundScores) {
  for (std::uint64_t seed = 0; seed < kScores; ++seed) {
    const Score score = random_score(seed);
    const auto broken = support::broken_invariants(score);
    ASSERT_TRUE(broken.empty()) << "seed " << seed << ": " << broken.front();
    Score gathered = score;
    gather_start_into_header(gathered);
    ASSERT_EQ(support::first_difference(score, gathered), std::nullopt) << "seed " << seed;
  }
}

TEST(ScoreGenerator, GivesTheSameScoreForTheSameSeed) {
  EXPECT_EQ(support::first_difference(random_score(7), random_score(7)), std::nullopt);
  EXPECT_NE(support::first_difference(random_score(7), random_score(8)), std::nullopt);
}

// Each switch, and what may not be found when it is off.
struct Switch {
  const char* name;
  std::function<void(GeneratorOptions&)> turn_off;
  std::vector<std::string> gone;
};

TEST(ScoreGenerator, LeavesOutWhatIsSwitchedOff) {
  const std::vector<Switch> switches{
      {"half holes", [](auto& o) { o.half_holes = false; }, {"half under", "half over"}},
      {"over", [](auto& o) { o.over_half_holes = false; }, {"half over"}},
      {"bends", [](auto& o) { o.bends = false; }, {"up", "down", "bent gap", "pre down"}},
      {"gaps", [](auto& o) { o.gaps = false; }, {"gap", "pre gap", "post gap"}},
      {"grace", [](auto& o) { o.grace_notes = false; }, {"pre", "post"}},
      {"holes", [](auto& o) { o.asked_holes = false; }, {"holes"}},
      {"slurs", [](auto& o) { o.slurs = false; }, {"slur"}},
      {"repeats", [](auto& o) { o.repeats = false; }, {"repeat start", "repeat end", "ending"}},
      {"jumps", [](auto& o) { o.jumps = false; }, {"cue 0", "cue 2", "cue 3", "cue 4", "cue 5"}},
      {"ties", [](auto& o) { o.ties_over_bars = false; }, {"tie over bar"}},
      {"seams", [](auto& o) { o.ties_over_repeats = false; }, {"tie over repeat"}},
      {"short", [](auto& o) { o.short_bars = false; }, {"pickup", "short bar"}},
      {"irregular", [](auto& o) { o.irregular_bars = false; }, {"irregular, long"}},
      {"free", [](auto& o) { o.free_meter = false; }, {"free meter"}},
      {"meters", [](auto& o) { o.meter_changes = false; }, {"meter change"}},
      {"beats", [](auto& o) { o.odd_beats = o.beat_changes = false; }, {"odd beat"}},
      {"flutes", [](auto& o) { o.flute_changes = false; }, {"direction 3"}},
      {"words", [](auto& o) { o.song_text = false; }, {"verse 1", "verse shoga"}},
      {"built-in", [](auto& o) { o.only_built_in_signs = true; }, {"sign d6", "sign d7"}},
      {"simple", [](auto& o) { o.rhythm = RhythmKind::simple; }, {"onset divided by 5"}},
  };
  for (const Switch& one : switches) {
    GeneratorOptions options;
    one.turn_off(options);
    Productions found;
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
      const Score score = random_score(seed, options);
      ASSERT_TRUE(support::broken_invariants(score).empty()) << one.name;
      found.merge(productions(score));
    }
    for (const std::string& gone : one.gone) {
      EXPECT_FALSE(found.contains(gone)) << one.name << ": " << gone;
    }
  }
}

TEST(ScoreGenerator, HasOwnSignsAndFluteFilesWhenAsked) {
  GeneratorOptions options;
  options.own_signs = options.flute_files = true;
  bool sign = false;
  bool file = false;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const Score score = random_score(seed, options);
    ASSERT_TRUE(support::broken_invariants(score).empty());
    file = file || (score.header.flute && std::holds_alternative<FlutePath>(*score.header.flute));
    for (const Note& note : score.notes) {
      const auto& one = note.tone.fingering->sign;
      sign = sign || (one && !standard_place(*one));
    }
  }
  EXPECT_TRUE(sign);
  EXPECT_TRUE(file);
}

TEST(ScoreGenerator, KeepsTheNumberOfMeasures) {
  GeneratorOptions options;
  options.fewest_measures = 20;
  options.most_measures = 25;
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const std::size_t count = random_score(seed, options).measures.size();
    EXPECT_GE(count, 20u);
    EXPECT_LE(count, 25u);
  }
}

}  // namespace
}  // namespace yubifu::model
