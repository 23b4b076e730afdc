// Scores resolved for a flute: what stays, what moves, what is found, what is told.
#include "fingering/resolve.h"

#include <string>

#include <gmock/gmock.h>

#include "fingering/rules.h"
#include "flute/flute.h"
#include "support/invariants.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using Texts = std::vector<std::string>;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

ResolveOptions options_for(Origin origin, std::optional<model::FluteName> flute = {}) {
  ResolveOptions options;
  options.origin = origin;
  options.flute = std::move(flute);
  return options;
}

model::FluteName size(int number, int cents = 0) {
  return model::FluteSize{number, cents};
}

Resolved resolved(model::Score score, const ResolveOptions& options) {
  auto outcome = resolve(std::move(score), options);
  EXPECT_TRUE(outcome.value);
  EXPECT_THAT(support::broken_invariants(outcome.value->score), IsEmpty());
  return *std::move(outcome.value);
}

Texts rules_of(model::Score score, const ResolveOptions& options) {
  return rule_names(resolve(std::move(score), options).diagnostics);
}

// The traditional melody and its sounds on size 8: table of facts in the reference, from memory;
// common practice.
const Texts kSakuraOnEight{"D6", "D6", "E6",  "D6", "D6", "E6", "D6",  "E6", "F6", "E6", "D6",
                           "E6", "D6", "Bb5", "A5", "F5", "A5", "Bb5", "A5", "A5", "F5", "E5"};

TEST(Resolve, sakura_sounds_as_published) {
  const Resolved eight = resolved(sakura(), options_for(Origin::fingers, size(8)));
  EXPECT_EQ(notes_of(eight.score), kSakuraOnEight);
  EXPECT_GT(eight.effort, 0);
}

TEST(Resolve, one_pair_of_sizes_apart_everything_is_two_semitones_lower) {
  const auto eight = keys_of(resolved(sakura(), options_for(Origin::fingers, size(8))).score);
  const auto six = keys_of(resolved(sakura(), options_for(Origin::fingers, size(6))).score);
  ASSERT_EQ(eight.size(), six.size());
  for (std::size_t i = 0; i < eight.size(); ++i) EXPECT_EQ(eight[i] - six[i], 2) << i;
}

TEST(Resolve, sakura_from_its_staff_comes_back_to_its_fingers) {
  const model::Score original = sakura();
  const Resolved eight = resolved(original, options_for(Origin::fingers, size(8)));
  const Resolved back = resolved(as_staff(eight.score), options_for(Origin::staff, size(8)));
  EXPECT_EQ(signs_of(back.score), signs_of(original));
  EXPECT_EQ(notes_of(back.score), kSakuraOnEight);
}

TEST(Resolve, sakura_too_low_leaves_gaps_and_moves_up_an_octave_when_asked) {
  model::Score low = as_staff(resolved(sakura(), options_for(Origin::fingers, size(8))).score);
  for (model::Note& note : low.notes) {
    note.tone.pitch->key -= 12;
    note.tone.spelling->octave -= 1;
  }
  ResolveOptions options = options_for(Origin::staff, size(8));
  auto as_written = resolve(low, options);
  EXPECT_THAT(signs_of(as_written.value->score),
              ElementsAre("二", "二", "三", "二", "二", "三", "二", "三", "四", "三", "二", "三",
                          "二", "?Bb4", "筒", "?F4", "筒", "?Bb4", "筒", "筒", "?F4", "?E4"));
  // All of them at once, with what would help.
  ASSERT_THAT(rule_names(as_written.diagnostics), ElementsAre("out-of-reach 4,5,6"));
  EXPECT_EQ(as_written.diagnostics[0].message,
            "5 notes (E4 to Bb4) are out of reach of the size 8 flute: bars 4-6");
  EXPECT_EQ(as_written.diagnostics[0].hint,
            "they stay in the score as gaps; --octave 1 would reach them all");
  options.octave = AutoOctave{};
  auto moved = resolve(low, options);
  EXPECT_EQ(moved.value->octave_shift, 1);
  EXPECT_EQ(signs_of(moved.value->score), signs_of(sakura()));
  EXPECT_EQ(notes_of(moved.value->score), kSakuraOnEight);
  EXPECT_THAT(rule_names(moved.diagnostics), ElementsAre("octave-shifted"));
  EXPECT_EQ(moved.diagnostics[0].message,
            "one octave up to lie on the size 8 flute: no gaps; 2 octaves up: no gaps, "
            "13 third-register notes; as written: 5 gaps");
  EXPECT_THAT(moved.diagnostics[0].hint, HasSubstr("--octave 0 keeps the written pitch"));
  options.octave = 1;
  auto fixed = resolve(low, options);
  EXPECT_EQ(signs_of(fixed.value->score), signs_of(sakura()));
  EXPECT_THAT(fixed.diagnostics, IsEmpty());
}

TEST(Resolve, fills_flute_pitch_spelling_and_holes) {
  model::Score score = tune_of_signs({{"三"}, {"三メ"}, {"0"}, {"?F#4"}});
  score.header.flute = size(6, 15);
  score.header.tuning_hz = 442;
  score.header.key = model::parse_key("Bb");
  const Resolved done = resolved(score, options_for(Origin::fingers));
  ASSERT_EQ(done.score.flutes.size(), 1u);
  const model::FluteInUse& flute = done.score.flutes[0];
  EXPECT_EQ(flute.title, "6+15c");
  EXPECT_EQ(flute.name, size(6, 15));
  EXPECT_EQ(flute.ichi, (model::Pitch{70, 15}));
  EXPECT_EQ(flute.tuning_hz, 442);
  EXPECT_EQ(done.flutes.size(), 1u);
  const auto& notes = done.score.notes;
  EXPECT_EQ(notes[0].tone.pitch, (model::Pitch{74, 15}));
  EXPECT_EQ(printed(*notes[0].tone.holes), "●●●●○○○");
  EXPECT_EQ(printed(*notes[1].tone.holes), "●●●●◐○○");
  EXPECT_EQ(printed(*notes[2].tone.holes), "●○●●●●●");
  // A gap is named by the pitch that it sounds, whatever the flute.
  EXPECT_EQ(notes[3].tone.pitch, (model::Pitch{66, 0}));
  EXPECT_FALSE(notes[3].tone.holes);
  EXPECT_THAT(notes_of(done.score), ElementsAre("D5", "Db5", "Ab5", "F#4"));
  EXPECT_THAT(signs_of(done.score), ElementsAre("三", "三メ", "0", "?F#4"));
}

TEST(Resolve, takes_size_eight_where_no_flute_is_named) {
  const auto outcome = resolve(tune_of_signs({{"一", 4}}), options_for(Origin::fingers));
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("no-flute-given"));
  EXPECT_EQ(outcome.diagnostics[0].severity, base::Severity::note);
  EXPECT_EQ(keys_of(outcome.value->score), std::vector<int>{72});
  // The text that named none still names none.
  EXPECT_FALSE(outcome.value->score.header.flute);
  // What was fingered for a flute names it.
  const auto staff = resolve(tune_of_notes({{"C5", 4}}), options_for(Origin::staff));
  EXPECT_EQ(staff.value->score.header.flute, size(8));
}

TEST(Resolve, another_flute_keeps_the_fingers_of_a_text_and_moves_its_sound) {
  model::Score score = tune_of_signs({{"三"}, {"五↓10"}, {"?C6"}, {"1"}});
  score.header.flute = size(6);
  score.header.key = model::parse_key("Bb");
  const Resolved done = resolved(score, options_for(Origin::fingers, size(8)));
  EXPECT_THAT(signs_of(done.score), ElementsAre("三", "五↓10", "?D6", "1"));
  EXPECT_THAT(notes_of(done.score), ElementsAre("E5", "G5", "D6", "C6"));
  EXPECT_EQ(done.score.header.key, model::parse_key("C"));
  EXPECT_EQ(done.score.header.flute, size(8));
}

TEST(Resolve, another_flute_keeps_the_pitch_of_a_staff_and_finds_new_fingers) {
  model::Score score = tune_of_notes({{"D5"}, {"F5"}, {"Bb5"}, {"C6"}});
  score.header.flute = size(6);
  score.header.key = model::parse_key("Bb");
  EXPECT_THAT(signs_of(resolved(score, options_for(Origin::staff)).score),
              ElementsAre("三", "五", "1", "2"));
  const Resolved done = resolved(score, options_for(Origin::staff, size(8)));
  EXPECT_THAT(signs_of(done.score), ElementsAre("二", "四", "0", "1"));
  EXPECT_THAT(notes_of(done.score), ElementsAre("D5", "F5", "Bb5", "C6"));
  EXPECT_EQ(done.score.header.key, model::parse_key("Bb"));
  EXPECT_EQ(done.score.header.flute, size(8));
}

TEST(Resolve, refingering_keeps_the_sound_of_the_scores_own_flute) {
  model::Score score = tune_of_signs({{"三"}, {"五↓10"}, {"?C5"}, {"1"}});
  score.header.flute = size(6);
  ResolveOptions options = options_for(Origin::fingers, size(8));
  options.refinger = Refinger::all;
  const Resolved done = resolved(score, options);
  EXPECT_THAT(signs_of(done.score), ElementsAre("二", "四↓10", "一", "0"));
  EXPECT_THAT(notes_of(done.score), ElementsAre("D5", "F5", "C5", "Bb5"));
}

TEST(Resolve, moving_by_semitones_moves_pitch_key_and_spelling) {
  model::Score score = tune_of_signs({{"一"}, {"三"}, {"四"}, {"三メ"}});
  score.header.flute = size(8);
  score.header.key = model::parse_key("C");
  ResolveOptions options = options_for(Origin::fingers);
  options.move_semitones = 2;
  const Resolved done = resolved(score, options);
  EXPECT_THAT(signs_of(done.score), ElementsAre("二", "五メ", "五", "四"));
  EXPECT_THAT(notes_of(done.score), ElementsAre("D5", "F#5", "G5", "F5"));
  EXPECT_EQ(done.score.header.key, model::parse_key("D"));
}

TEST(Resolve, changes_of_flute_in_the_score_are_followed_and_moved) {
  model::Score score = tune_of_signs({{"三", 4}, {"三", 4}});
  score.header.flute = size(6);
  score.directions.push_back({1, 0, model::FluteChange{size(7)}, {}});
  const Resolved own = resolved(score, options_for(Origin::fingers));
  EXPECT_THAT(keys_of(own.score), ElementsAre(74, 75));
  ASSERT_EQ(own.score.flutes.size(), 2u);
  EXPECT_EQ(own.score.flutes[1].measure, 1u);
  EXPECT_EQ(own.score.flutes[1].title, "7");
  const Resolved moved = resolved(score, options_for(Origin::fingers, size(8)));
  EXPECT_THAT(keys_of(moved.score), ElementsAre(76, 77));
  EXPECT_EQ(std::get<model::FluteChange>(moved.score.directions[0].value).flute, size(9));
  EXPECT_THAT(rules_of(score, options_for(Origin::fingers, size(13))),
              ElementsAre("flute-not-built-in 2"));
}

TEST(Resolve, a_flute_of_a_file_is_supplied_from_outside) {
  const model::FluteName path = model::FlutePath{"own.json"};
  model::Score score = tune_of_signs({{"い", 4}});
  score.header.flute = path;
  EXPECT_THAT(rules_of(score, options_for(Origin::fingers)), ElementsAre("flute-file-not-read"));
  EXPECT_FALSE(resolve(score, options_for(Origin::fingers)).value);
  ResolveOptions options = options_for(Origin::fingers);
  options.flutes = [&](const model::FluteName& name, double tuning_hz) {
    flute::FluteTable table;
    table.title = "own";
    table.name = name;
    table.tuning_hz = tuning_hz;
    table.ichi = {74, 20};
    table.hole_count = 3;
    table.entries.push_back({model::Sign("い"),
                             model::HalfHole::none,
                             150,
                             model::Register::low,
                             flute::EntryKind::plain,
                             {*model::parse_hole_pattern("xoo")}});
    return base::Outcome<flute::Flute>{flute::Flute(table), {}};
  };
  const Resolved done = resolved(score, options);
  EXPECT_EQ(done.score.notes[0].tone.pitch, (model::Pitch{76, -30}));
  EXPECT_EQ(printed(*done.score.notes[0].tone.holes), "●○○");
  EXPECT_EQ(done.score.flutes[0].title, "own");
  // A size in the score cannot follow to a file.
  model::Score changing = tune_of_signs({{"い", 4}, {"い", 4}});
  changing.header.flute = path;
  changing.directions.push_back({1, 0, model::FluteChange{size(6)}, {}});
  options.flute = model::FlutePath{"other.json"};
  EXPECT_THAT(rules_of(changing, options), ElementsAre("flute-not-moved 2"));
}

TEST(Resolve, grace_notes_are_fingered_too) {
  model::Score score = tune_of_notes({{"C5", 4}});
  const model::Score graces = tune_of_notes({{"D5"}, {"E5"}});
  score.notes[0].grace_before = {graces.notes[0].tone};
  score.notes[0].grace_after = {graces.notes[1].tone};
  score.header.flute = size(8);
  EXPECT_THAT(signs_of(resolved(score, options_for(Origin::staff)).score),
              ElementsAre("二", "一", "三"));
}

TEST(Resolve, midi_keeps_its_pitch_to_the_cent) {
  model::Score score = tune_of_notes({{"C5", 4}, {"C5", 4}});
  score.notes[0].tone.pitch->cents = -17.4;
  score.notes[1].tone.pitch->cents = 45;
  score.header.flute = size(8);
  const auto outcome = resolve(score, options_for(Origin::sound));
  EXPECT_THAT(signs_of(outcome.value->score), ElementsAre("一↓17", "?C5"));
  EXPECT_EQ(outcome.value->score.notes[0].tone.pitch, (model::Pitch{72, -17}));
  EXPECT_EQ(outcome.value->score.notes[1].tone.pitch, (model::Pitch{72, 45}));
  EXPECT_EQ(outcome.value->score.notes[1].tone.fingering->bend_cents, 45);
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("out-of-reach 2"));
  // On a flute that is 15 cents high MIDI needs bends; a staff means the flute's own notes.
  score = tune_of_notes({{"C5", 4}});
  score.header.flute = size(8, 15);
  EXPECT_THAT(signs_of(resolved(score, options_for(Origin::sound)).score), ElementsAre("一↓15"));
  EXPECT_THAT(signs_of(resolved(score, options_for(Origin::staff)).score), ElementsAre("一"));
}

TEST(Resolve, a_gap_that_moves_is_named_anew) {
  model::Score score = tune_of_signs({{"一", 2}, {"?F#4", 2}});
  score.header.flute = size(8);
  score.header.key = model::parse_key("C");
  ResolveOptions options = options_for(Origin::fingers);
  options.move_semitones = 1;
  EXPECT_THAT(signs_of(resolved(score, options).score), ElementsAre("二メ", "?G4"));
}

// Bends are told in whole cents: what that rounds is no reason to give a gap another name.
TEST(Resolve, a_gap_keeps_its_name_where_its_bend_is_rounded) {
  model::Score score = tune_of_notes({{"D#3", 4}});
  score.header.flute = size(8);
  score.header.key = model::parse_key("Bb");
  score.notes[0].tone.pitch->cents = 12.4;
  const Resolved done = resolved(score, options_for(Origin::sound));
  EXPECT_EQ(done.score.notes[0].tone.fingering, (model::Fingering{std::nullopt, {}, 12}));
  EXPECT_THAT(notes_of(done.score), ElementsAre("D#3"));
}

TEST(Resolve, a_gap_may_not_leave_the_pitches_of_a_score) {
  const model::Score score = tune_of_signs({{"?C12", 4}, {"?C5", 4}});
  ResolveOptions options = options_for(Origin::fingers, size(8));
  options.octave = 8;
  options.move_semitones = 48;
  EXPECT_THAT(signs_of(resolve(score, options).value->score), ElementsAre("?C24", "?C17"));
  EXPECT_FALSE(base::has_errors(resolve(score, options).diagnostics));
  options.move_semitones = 49;  // C24 is the highest
  const auto outcome = resolve(score, options);
  ASSERT_THAT(rule_names(outcome.diagnostics), ElementsAre("out-of-reach 1", "out-of-reach 2"));
  EXPECT_EQ(outcome.diagnostics[0].severity, base::Severity::error);
  EXPECT_THAT(outcome.diagnostics[0].message, HasSubstr("beyond the pitches"));
  EXPECT_EQ(outcome.diagnostics[1].severity, base::Severity::warning);
}

TEST(Resolve, half_sizes_come_back_from_their_staff) {
  model::Score score = tune_of_signs({{"一"}, {"三メ"}, {"5"}, {"8"}});
  score.header.flute = model::FluteSize{model::Rational(15, 2), 0};
  const Resolved there = resolved(score, options_for(Origin::fingers));
  const Resolved back = resolved(as_staff(there.score), options_for(Origin::staff));
  EXPECT_EQ(signs_of(back.score), signs_of(score));
  EXPECT_EQ(back.score.notes[0].tone.pitch, there.score.notes[0].tone.pitch);
}

TEST(Resolve, annotated_notes_keep_their_fingers_and_are_checked) {
  model::Score score = tune_of_notes({{"Bb5"}, {"E5"}, {"Bb5", 2}});
  score.header.flute = size(8);
  score.notes[0].tone.fingering = model::parse_printed("七メ");
  score.notes[1].tone.fingering = model::parse_printed("四↓30");
  const auto outcome = resolve(score, options_for(Origin::staff));
  EXPECT_THAT(signs_of(outcome.value->score), ElementsAre("七メ", "四↓30", "0"));
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("fingering-disagrees 1"));
  EXPECT_EQ(outcome.diagnostics[0].message,
            "四↓30 sounds F5 on the size 8 flute, but E5 is written");
  EXPECT_EQ(outcome.value->score.notes[1].tone.pitch, (model::Pitch{77, -30}));
  EXPECT_THAT(notes_of(outcome.value->score), ElementsAre("Bb5", "F5", "Bb5"));
  // New fingers follow the written pitch, where they agree with their bend.
  ResolveOptions anew = options_for(Origin::staff);
  anew.refinger = Refinger::all;
  EXPECT_THAT(signs_of(resolve(score, anew).value->score), ElementsAre("0", "三", "0"));
}

TEST(Resolve, names_a_sign_that_the_flute_does_not_have) {
  model::Score score = tune_of_signs({{"5", 3}, {"6̇"}, {"6̇", 4}});
  score.header.flute = size(6);
  const auto outcome = resolve(score, options_for(Origin::fingers));
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("sign-not-on-flute 1,2"));
  EXPECT_EQ(outcome.diagnostics[0].severity, base::Severity::error);
  EXPECT_EQ(outcome.diagnostics[0].message, "the size 6 flute has no 6̇ in its table: bars 1, 2");
  EXPECT_THAT(outcome.diagnostics[0].hint, HasSubstr("筒 一 二 三 四 五 六 七 0 1"));
}

TEST(Resolve, names_a_half_hole_that_the_flute_does_not_have_and_what_sounds_there) {
  const auto diagnostic = [](std::string_view sign) {
    model::Score score = tune_of_signs({{sign, 4}});
    score.header.flute = size(8);
    auto diagnostics = resolve(score, options_for(Origin::fingers)).diagnostics;
    EXPECT_THAT(rule_names(diagnostics), ElementsAre("half-hole-not-on-flute 1"));
    return diagnostics.at(0);
  };
  EXPECT_EQ(diagnostic("四メ").message, "the size 8 flute has no 四メ in its table");
  const auto hint = [&](std::string_view sign) { return diagnostic(sign).hint; };
  EXPECT_EQ(hint("四メ"),
            "三 sounds a semitone under 四; turning the flute is written `四↓30`, in cents");
  EXPECT_EQ(hint("4メ"),
            "3 sounds a semitone under 4; turning the flute is written `4↓30`, in cents");
  EXPECT_EQ(hint("1メ"),
            "七 sounds a semitone under 1; turning the flute is written `1↓30`, in cents");
  EXPECT_EQ(diagnostic("三カ").hint, "四 sounds a semitone over 三");
  // Nothing lies a semitone under these.
  EXPECT_EQ(hint("一メ"), "turning the flute is written `一↓30`, in cents");
  EXPECT_EQ(hint("筒メ"), "turning the flute is written `筒↓30`, in cents");
}

TEST(Resolve, a_missing_sign_beside_a_pitch_is_found_anew) {
  model::Score score = tune_of_notes({{"F5", 4}});
  score.header.flute = size(8);
  score.notes[0].tone.fingering = model::parse_printed("一メ");
  const auto outcome = resolve(score, options_for(Origin::staff));
  EXPECT_THAT(signs_of(outcome.value->score), ElementsAre("四"));
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("half-hole-not-on-flute 1"));
  EXPECT_EQ(outcome.diagnostics[0].severity, base::Severity::warning);
}

// A gap that only the wish for plain fingers makes says so.
TEST(Resolve, tells_gaps_of_the_flute_from_gaps_of_plain_fingers) {
  model::Score score = as_staff(resolved(sakura(), options_for(Origin::fingers, size(8))).score);
  score.notes[0].tone.pitch = model::Pitch{75, 0};
  score.notes[0].tone.spelling.reset();
  score.notes[1].tone.pitch = model::Pitch{40, 0};
  score.notes[1].tone.spelling.reset();
  ResolveOptions options = options_for(Origin::staff, size(8));
  options.allowed = Allowed::plain;
  const auto outcome = resolve(score, options);
  std::vector<std::string> said;
  for (const auto& found : outcome.diagnostics) said.push_back(found.message + "; " + found.hint);
  EXPECT_THAT(
      said,
      ElementsAre(HasSubstr("has no plain fingering on the size 8 flute; 三メ would sound it"),
                  HasSubstr("is out of reach of the size 8 flute; it stays")));
}

// Gaps are told once for each flute, with notes and bars, and what would help is tried before it is
// offered.
TEST(Resolve, offers_what_reaches_more) {
  const auto told = [](const model::Score& score, ResolveOptions options) {
    const auto outcome = resolve(score, options);
    const base::Diagnostic& found = outcome.diagnostics.back();
    EXPECT_EQ(found.rule, &rule::out_of_reach);
    return found.message + "; " + found.hint;
  };
  // B4 lies between 筒 and 一 of size 8; an octave higher it is 七.
  const model::Score low = tune_of_notes({{"B4", 4}, {"C#5", 4}, {"D#5", 4}, {"B4", 4}});
  ResolveOptions options = options_for(Origin::staff, size(8));
  EXPECT_EQ(
      told(low, options),
      "2 notes (B4) are out of reach of the size 8 flute: bars 1, 4; they stay in the score as "
      "gaps; --octave 1 would reach them all");
  // An octave that was weighed is not offered.
  const model::Score wide = tune_of_notes({{"B4", 4}, {"B5", 4}, {"B6", 4}, {"F#7", 4}});
  options.octave = AutoOctave{};
  EXPECT_EQ(told(wide, options),
            "2 notes (B4 to F#7) are out of reach of the size 8 flute: bars 1, 4; they stay in the "
            "score as gaps; --flute 7 would reach them all");
  // Fingers that are there stay unless they are asked to go.
  model::Score fingered = tune_of_signs({{"一", 2}, {"?B4", 2}});
  fingered.header.flute = size(8);
  EXPECT_EQ(told(fingered, options_for(Origin::fingers)),
            "B4 is out of reach of the size 8 flute; it stays in the score as a gap; --octave 1 "
            "would reach it");
  // A quarter tone on each flute lies between its notes.
  model::Score between = tune_of_notes({{"C5", 4}});
  between.notes[0].tone.pitch->cents = 50;
  between.notes[0].tone.spelling.reset();
  EXPECT_THAT(told(between, options_for(Origin::sound, size(8))), HasSubstr("reach"));
}

TEST(Resolve, tells_a_gap_that_the_flute_has_fingers_for) {
  model::Score score = tune_of_signs({{"三", 2}, {"?C5", 2}, {"?F#3", 4}});
  score.header.flute = size(6);
  const auto outcome = resolve(score, options_for(Origin::fingers));
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("needless-gap 1", "out-of-reach 2"));
  EXPECT_EQ(outcome.diagnostics[0].message,
            "C5 is a gap in the score, but the size 6 flute has fingers for it: 二");
  EXPECT_THAT(signs_of(outcome.value->score), ElementsAre("三", "?C5", "?F#3"));
}

TEST(Resolve, warns_of_bends_outside_the_limits) {
  model::Score score = tune_of_signs({{"五↑30"}, {"五↓50"}, {"五↑31"}, {"三メ↓31"}, {"五↑90", 4}});
  score.header.flute = size(8);
  const auto outcome = resolve(score, options_for(Origin::fingers));
  EXPECT_THAT(rule_names(outcome.diagnostics),
              ElementsAre("bend-too-far 1", "bend-too-far 1", "bend-too-far 2"));
  EXPECT_EQ(outcome.diagnostics[0].message,
            "五↑31 is bent further than the 30 cents up that the size 8 flute allows there");
  EXPECT_EQ(outcome.diagnostics[2].hint, "六メ↓10 sounds the same");
  EXPECT_THAT(signs_of(outcome.value->score), testing::Contains("五↑90"));
}

TEST(Resolve, looks_after_patterns_that_were_asked_for) {
  model::Score score = tune_of_signs({{"1"}, {"2"}, {"三", 2}});
  score.header.flute = size(8);
  score.notes[0].asked_holes = model::parse_hole_pattern("xxxxxxo");
  score.notes[2].asked_holes = model::parse_hole_pattern("oxxoo");
  const auto outcome = resolve(score, options_for(Origin::fingers));
  EXPECT_EQ(printed(*outcome.value->score.notes[0].tone.holes), "●●●●●●○");
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("holes-of-another-flute 1"));
  score.notes[2].asked_holes.reset();
  ResolveOptions options = options_for(Origin::fingers);
  options.move_semitones = 2;
  const auto moved = resolve(score, options);
  EXPECT_THAT(rule_names(moved.diagnostics), ElementsAre("asked-holes-left-out 1"));
  EXPECT_FALSE(moved.value->score.notes[0].asked_holes);
}

TEST(Resolve, a_tuning_given_as_an_option_counts) {
  ResolveOptions options = options_for(Origin::fingers, size(8));
  options.tuning_hz = 443;
  const Resolved done = resolved(sakura(), options);
  EXPECT_EQ(done.score.flutes[0].tuning_hz, 443);
  EXPECT_EQ(done.score.header.tuning_hz, 443);
}

TEST(Resolve, does_nothing_to_an_empty_score) {
  ResolveOptions options = options_for(Origin::staff, size(8));
  options.octave = AutoOctave{};
  const auto outcome = resolve({}, options);
  ASSERT_TRUE(outcome.value);
  EXPECT_EQ(outcome.value->octave_shift, 0);
  EXPECT_THAT(outcome.value->score.flutes, IsEmpty());
}

TEST(Resolve, an_annotation_stays_when_auto_octave_has_nothing_to_move) {
  model::Score score = tune_of_notes({{"Bb5", 4}});
  score.notes[0].tone.fingering = model::parse_printed("七メ");
  ResolveOptions options = options_for(Origin::staff, size(8));
  options.octave = AutoOctave{};
  EXPECT_THAT(signs_of(resolved(score, options).score), ElementsAre("七メ"));
}

}  // namespace
}  // namespace yubifu::fingering
