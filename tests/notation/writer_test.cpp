#include "notation/write/writer.h"

#include <regex>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/read/reader.h"
#include "notation/tune.h"
#include "support/invariants.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

using model::BarStyle;
using model::Cue;
using model::LineBreak;
using model::Mark;
using model::Rational;
using testing::IsEmpty;

// The text of a sound score, which must have nothing to report.
std::string text_of(const model::Score& score, Alphabet alphabet = Alphabet::printed) {
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
  const auto written = write_notation(score, {alphabet});
  EXPECT_THAT(support::rule_names(written.diagnostics), IsEmpty());
  return written.value.value_or("nothing");
}

// The same without the header that every score has.
std::string music_of(const model::Score& score, Alphabet alphabet = Alphabet::printed) {
  const std::string text = text_of(score, alphabet);
  const std::size_t music = text.find("\n\n");
  return music == std::string::npos ? text : text.substr(music + 2);
}

// --- the whole page ------------------------------------------------------------------------------

TEST(Writer, PutsTheSongUnderItsNotes) {
  Tune tune;
  tune.score.header.title = "Ferry Lanterns";
  tune.score.header.flute = model::FluteSize{6, 0};
  tune.score.header.tempo = model::Tempo{76, 1};
  tune.bar("三 三 五 六").bar("七 六:1/2 五:1/2 六 -").bar("1 -:1/2 七:1/2 六 五");
  tune.bar("三メ 三 - ・");
  tune.last().right = BarStyle::final;
  tune.sing("1", 0, "み な と の あ か り が ゆ れ て い ま す");
  EXPECT_EQ(text_of(tune.score),
            "title: Ferry Lanterns\n"
            "flute: 6\n"
            "meter: 4/4\n"
            "tempo: 76\n"
            "\n"
            "  三 三 五 六 | 七 (六 五) 六 - | 1  (- 七) 六 五 | 三メ 三 - ・ |=\n"
            "> み な と の   あ  か り  が     ゆ    れ  て い   ま   す\n");
}

TEST(Writer, LinesUpTheBeatsOfASection) {
  Tune tune;
  tune.bar("三 五 六 五").bar("七 六:1/2 五:1/2 六 -").bar("1 七 六 五").bar("三 - - ・");
  tune.bar("三:1/2 三:1/2 五 六 七").bar("六 - 五 -").bar("三メ 三 一 二").bar("三 - - -");
  tune.last().right = BarStyle::final;
  EXPECT_EQ(music_of(tune.score),
            "三      五 六 五 | 七 (六 五) 六 - | 1    七 六 五 | 三 - - ・ |\n"
            "(三 三) 五 六 七 | 六 -       五 - | 三メ 三 一 二 | 三 - - -  |=\n");
}

TEST(Writer, WritesTheWholePage) {
  Tune tune;
  tune.score.header.title = "Lantern Dance";
  tune.bar("五").direct(0, model::SectionStart{"Intro"});
  tune.bar("六 - 五 三").bar("二 三:1/2 五:1/2 三 五").bar("六 - 七 六").bar("六 - ・");
  tune.last().right = BarStyle::section;
  tune.bar("五").direct(0, model::SectionStart{"A"});
  tune.direct(0, model::TempoChange{{120, 1}});
  tune.last().repeat_start = true;
  tune.bar("六:1/2 六:1/2 五 三 五").bar("1:1/3 七:1/3 六:1/3 五 三 二").bar("三 - - 五");
  tune.direct(0, model::TextDirection{"softly"});
  tune.bar("六 五 三");
  tune.last().ending = {1};
  tune.last().repeat_end = true;
  tune.bar("六 五 六 -");
  tune.last().ending = {2};
  tune.last().right = BarStyle::section;
  tune.bar("2 - 1 七").direct(0, model::SectionStart{"B"});
  tune.bar("六 七:1/2 1:1/2 七 六").direct(2, Cue::rit);
  tune.bar("五 三 二 三").bar("五 - - -");
  tune.bar("2 3 2 1").bar("七 六 五 六").bar("三メ 三 五 三").bar("二 - - ・");
  tune.direct(4, Cue::fine);
  tune.last().right = BarStyle::final;
  EXPECT_EQ(text_of(tune.score),
            "title: Lantern Dance\n"
            "meter: 4/4\n"
            "\n"
            "{section \"Intro\"}\n"
            "五 | 六 - 五 三 | 二 (三 五) 三 五 | 六 - 七 六 | 六 - ・ ||\n"
            "\n"
            "|: {section \"A\"} {tempo 120}\n"
            "      五 | (六 六) 五 三 五 | (1 七 六) 五 三 二 | {text \"softly\"} 三 - - 五 | "
            "{ending 1} 六 五 三 :|\n"
            "{ending 2} 六      五 六 -  ||\n"
            "\n"
            "{section \"B\"}\n"
            "2 - 1 七 | 六 (七 1) {rit} 七 六 | 五   三 二 三 | 五 - - -  |\n"
            "2 3 2 1  | 七 六     五       六 | 三メ 三 五 三 | 二 - - ・ {fine} |=\n");
}

TEST(Writer, WritesTheAsciiSpellings) {
  Tune tune;
  tune.score.header.title = "渡しの灯";
  tune.score.header.zero = model::ZeroSign::tube;
  tune.bar("筒 一 二メ 七↓20").bar("1 -:1/2 7メ↑5:1/2 8 ・").bar("5̇ 三カ 七 1");
  tune.direct(1, model::TextDirection{"静かに 三"});
  tune.note(0).marks = {Mark::fermata};
  tune.note(0).asked_holes = model::parse_hole_pattern("○◐●◎");
  tune.note(1).grace_before.resize(1);
  tune.note(1).grace_before[0].fingering = model::parse_printed("六メ");
  tune.note(2).slur_to_next = true;
  tune.note(3).tone.fingering = model::Fingering{std::nullopt, model::HalfHole::none, -20};
  tune.note(3).tone.spelling = model::Spelling{model::Step::b, -1, 3};
  tune.sing("1", 0, "三 - い");
  EXPECT_EQ(text_of(tune.score, Alphabet::ascii),
            "title: 渡しの灯\n"
            "meter: 4/4\n"
            "zero: tube\n"
            "\n"
            "  rt{fermata}{holes ohxs} r1{pre r6m} r2m~ ?Bb3v20 | 1 (- 7m^5) 8 . | "
            "d5 {text \"静かに 三\"} r3k r7 1 |\n"
            "> 三                      \\-          い   /         /    /     /     /"
            "                     /   /  /\n");
  EXPECT_THAT(music_of(tune.score),
              testing::StartsWith(
                  "  筒{fermata}{holes ○◐●◎} 一{pre 六メ} 二メ~ ?Bb3↓20 | 1 (- 7メ↑5) 8 ・ |"));
}

// --- header --------------------------------------------------------------------------------------

TEST(Writer, WritesTheHeaderInItsOrder) {
  Tune tune({6, 8});
  model::Header& header = tune.score.header;
  header.unknown = {{"troupe", "Hill Street"}, {"year", ""}};
  header.comments = {"by hand", ""};
  header.zero = model::ZeroSign::tube;
  header.staff = model::StaffMode::sounding;
  header.key = model::Key{3, model::Mode::minor};
  header.tempo = model::Tempo{Rational(185, 2), Rational(3, 2)};
  header.beat = Rational(3, 2);
  header.tuning_hz = 442;
  header.flute = model::FlutePath{"flutes/old one.json"};
  header.rights = "free";
  header.source = "heard";
  header.lyricist = "B";
  header.composer = "A";
  header.subtitle = "two";
  header.title = "  One ";
  tune.bar("五 六 七");
  tune.last().beat = Rational(3, 2);
  EXPECT_EQ(text_of(tune.score),
            "# by hand\n"
            "#\n"
            "title: One\n"
            "subtitle: two\n"
            "composer: A\n"
            "lyricist: B\n"
            "source: heard\n"
            "rights: free\n"
            "flute: flutes/old one.json\n"
            "tuning: 442\n"
            "meter: 6/8\n"
            "beat: 3/8\n"
            "tempo: 92.5\n"
            "key: F# minor\n"
            "staff: sounding\n"
            "zero: tube\n"
            "troupe: Hill Street\n"
            "year:\n"
            "\n"
            "(五 六 七):2 |\n");
}

TEST(Writer, NamesTheUnitOfATempoThatIsNotTheFeltBeat) {
  Tune tune({6, 8});
  tune.score.header.tempo = model::Tempo{180, Rational(1, 2)};
  tune.bar("五 五 五").direct(1, model::TempoChange{{60, Rational(3, 2)}});
  EXPECT_EQ(text_of(tune.score),
            "meter: 6/8\n"
            "tempo: 1/8=180\n"
            "\n"
            "五 - {tempo 60} 五 - 五 - |\n");
}

TEST(Writer, APathThatLooksLikeASizeStaysAPath) {
  Tune tune;
  tune.score.header.flute = model::FlutePath{"6"};
  tune.bar("五 五 五 五");
  EXPECT_THAT(text_of(tune.score), testing::HasSubstr("flute: ./6\n"));
}

// --- words ---------------------------------------------------------------------------------------

TEST(Writer, WritesMarksInTheirOrderThenGraceNotesHolesAndSlur) {
  Tune tune;
  tune.bar("五 五 ・ 五");
  model::Note& note = tune.note(0);
  note.marks = {Mark::fermata, Mark::breath, Mark::uchi,   Mark::age,      Mark::suri,
                Mark::yuri,    Mark::trill,  Mark::accent, Mark::staccato, Mark::tenuto};
  note.slur_to_next = true;
  note.asked_holes = model::parse_hole_pattern("ooxxxxx");
  note.grace_before.resize(2);
  note.grace_before[0].fingering = model::parse_printed("六");
  note.grace_before[1].fingering = model::Fingering{};
  note.grace_before[1].spelling = model::Spelling{model::Step::f, 1, 4};
  note.grace_after.resize(1);
  note.grace_after[0].fingering = model::parse_printed("七メ↑3");
  tune.score.rests.push_back({0, 2, {Mark::optional_breath}, {}});
  EXPECT_EQ(music_of(tune.score),
            "五{fermata}{breath}{uchi}{age}{suri}{yuri}{trill}{accent}{staccato}{tenuto}"
            "{pre 六 ?F#4}{post 七メ↑3}{holes ○○●●●●●}~ 五 ・{breath?} 五 |\n");
}

TEST(Writer, WritesASignOfTheFlutesOwnAsItIs) {
  Tune tune;
  tune.bar("五 五 五 五");
  tune.note(1).tone.fingering->sign = model::Sign("甲");
  EXPECT_EQ(music_of(tune.score), "五 甲 五 五 |\n");
  EXPECT_EQ(music_of(tune.score, Alphabet::ascii), "r5 甲 r5 r5 |\n");
}

TEST(Writer, HoldsNotesAndGoesOnWithRests) {
  Tune tune;
  tune.bar("五 - - -").bar("- -:1/2 ・:3/2 ・").bar("・ ・ ・:1/2 五:1/2 -");
  EXPECT_EQ(music_of(tune.score), "五 - - - | - (- ・) ・ ・ | ・ ・ (・ 五) - |\n");
}

TEST(Writer, AMarkedRestIsOneOfItsOwn) {
  Tune tune;
  tune.bar("五 ・ ・ ・");
  tune.score.rests.push_back({0, 2, {Mark::fermata, Mark::breath}, {}});
  EXPECT_EQ(music_of(tune.score), "五 ・ ・{fermata}{breath} ・ |\n");
}

TEST(Writer, WritesTupletsAndIncompleteWords) {
  Tune tune;
  tune.bar("五:1/2");
  tune.bar("五:2/3 六:2/3 七:2/3 五:1/2 六:1/4 七:1/4 ・").bar("五 六 七 -:1/4");
  tune.last().right = BarStyle::section;
  tune.last().irregular = true;
  tune.bar("五:3/4 六:1/4 七 -:1/2 六 -:1/2 五:1/2");
  tune.last().irregular = true;
  tune.bar("五 六 七 六 五").last().irregular = true;
  EXPECT_EQ(music_of(tune.score),
            "(五):1/2 | (五 六 七):2 (五 (六 七)) ・ | "
            "{irregular} 五 六 七 (-):1/4 ||\n"
            "\n"
            "{irregular} (五 (- 六)) 七 (- 六) - (五):1/2 | {irregular} 五 六 七 六 五 |\n");
}

// --- directions ----------------------------------------------------------------------------------

TEST(Writer, WritesDirectionsAtTheirPlaces) {
  Tune tune;
  tune.bar("五 - 六:1/2 七:1/2 六").direct(0, Cue::segno);
  tune.direct(1, Cue::rit).direct(2, model::Dynamic{"mf"}).direct(Rational(5, 2), Cue::accel);
  tune.direct(Rational(7, 2), Cue::a_tempo).direct(4, Cue::caesura).direct(4, Cue::to_coda);
  tune.bar("五 - - -").direct(0, Cue::coda).direct(0, model::KeyChange{{-1, model::Mode::minor}});
  tune.direct(4, Cue::dal_segno);
  EXPECT_EQ(music_of(tune.score),
            "{segno} 五 {rit} - {dyn mf} (六 {accel} 七) (六 {a-tempo} -) {caesura} {to-coda} | "
            "{coda} {key D minor} 五 - - - {ds} |\n");
}

TEST(Writer, PutsValuesInQuotesWhereTheyNeedThem) {
  Tune tune;
  tune.bar("五 五 五 五").direct(1, model::TextDirection{"a \"b\" \\ } |"});
  tune.direct(2, model::Dynamic{"molto f"});
  tune.bar("五 五 五 五").direct(0, model::FluteChange{model::FluteSize{Rational(15, 2), -5}});
  tune.bar("五 五 五 五").direct(0, model::FluteChange{model::FlutePath{"my flute.json"}});
  EXPECT_EQ(music_of(tune.score),
            "五 {text \"a \\\"b\\\" \\\\ } |\"} 五 {dyn \"molto f\"} 五 五 | "
            "{flute 7.5-5c} 五 五 五 五 | {flute \"my flute.json\"} 五 五 五 五 |\n");
}

TEST(Writer, ANewMeterSetsTheBeatBack) {
  Tune tune;
  tune.bar("五 五 五 五");
  tune.bar("五 五 五");
  tune.last().meter = {6, 8};
  tune.last().beat = Rational(3, 2);
  tune.bar("五 五 五");
  tune.last().meter = {6, 8};
  tune.last().beat = Rational(1, 2);
  tune.bar("五 五 五 五");
  tune.bar("五 五");
  tune.last().meter = model::Meter::free_time();
  EXPECT_EQ(music_of(tune.score),
            "五 五 五 五 | {meter 6/8} {beat 3/8} (五 五 五):2 | {beat 1/8} 五 - 五 - 五 - | "
            "{meter 4/4} 五 五 五 五 |\n"
            "{meter free} 五 五 |\n");
}

TEST(Writer, ABeatThatChangesInsideABarLastsOn) {
  Tune tune;
  tune.bar("五 五 五 五").direct(2, model::BeatChange{Rational(1, 2)});
  tune.bar("五 五 五 五").last().beat = Rational(1, 2);
  tune.bar("五 五 五 五");
  EXPECT_EQ(music_of(tune.score),
            "五 五 {beat 1/8} 五 - 五 - | 五 - 五 - 五 - 五 - | {beat 1/4} 五 五 五 五 |\n");
}

TEST(Writer, ATempoBesideAChangeOfBeatNamesItsUnitWhereItIsUnclear) {
  Tune tune;
  tune.bar("五 五:1/2 五:1/2 五 五");
  tune.direct(Rational(3, 2), model::BeatChange{Rational(1, 2)});
  tune.direct(Rational(3, 2), model::TempoChange{{90, 1}});
  tune.direct(3, model::TempoChange{{90, Rational(1, 2)}});
  EXPECT_EQ(music_of(tune.score), "五 (五 {beat 1/8} {tempo 1/4=90} 五) 五 - {tempo 90} 五 - |\n");
}

// --- bars and form -------------------------------------------------------------------------------

TEST(Writer, WritesBarSignsAndEndings) {
  Tune tune;
  tune.bar("五 六 七 六").last().repeat_start = true;
  tune.bar("五 - - -").last().ending = {1, 3};
  tune.last().repeat_end = true;
  tune.last().times = 4;
  tune.bar("三 - - -").last().ending = {2, 4};
  tune.bar("三 - - -").last().ending = {2, 4};
  tune.bar("一 - - -");
  tune.bar("二 二 二 二").last().repeat_start = true;
  tune.last().repeat_end = true;
  tune.bar("三 三 三 三").last().repeat_start = true;
  tune.last().repeat_end = true;
  tune.last().right = BarStyle::final;
  EXPECT_EQ(music_of(tune.score),
            "|:           五 六 七 六 | {ending 1,3} 五 - - - :|x4\n"
            "{ending 2,4} 三 -  -  -  |              三 - - - | {ending end} 一 - - - |\n"
            "|:           二 二 二 二 :|\n"
            "|:           三 三 三 三 :| |=\n");
}

TEST(Writer, SignsThatMeetInALineAreAllWritten) {
  Tune tune;
  tune.bar("五 六 七 六").bar("五 六 七 六").last().repeat_start = true;
  tune.last().repeat_end = true;
  tune.bar("五 六 七 六").last().repeat_start = true;
  tune.last().right = BarStyle::section;
  tune.last().repeat_end = true;
  tune.bar("五 六 七 六");
  tune.bar("五 六 七 六").last().break_before = LineBreak::line;
  EXPECT_EQ(music_of(tune.score),
            "五 六 七 六 |: 五 六 七 六 :| |: 五 六 七 六 :| || 五 六 七 六 |\n"
            "五 六 七 六 |\n");
}

// --- lines ---------------------------------------------------------------------------------------

TEST(Writer, BreaksAfterFourWholeBars) {
  Tune tune;
  tune.bar("五").bar("五 五 五 五").bar("五 五 五 五").bar("五 五 五 五").bar("五 五 五 五");
  tune.bar("五 五 五 五");
  EXPECT_EQ(music_of(tune.score),
            "五 | 五 五 五 五 | 五 五 五 五 | 五 五 五 五 | 五 五 五 五 |\n"
            "     五 五 五 五 |\n");
}

TEST(Writer, AWidePickupDoesNotMoveTheOtherLines) {
  const std::string beat = "五:1/3 五:1/3 五:1/3 ";
  Tune tune;
  tune.bar(beat + beat + beat);
  for (int i = 0; i < 5; ++i) tune.bar("五 五 五 五");
  EXPECT_EQ(music_of(tune.score),
            "(五 五 五) (五 五 五) (五 五 五) | 五 五 五 五 | 五 五 五 五 | 五 五 五 五 | "
            "五 五 五 五 |\n"
            "五 五 五 五 |\n");
}

TEST(Writer, BreaksWhereTheScoreDoes) {
  Tune tune;
  tune.bar("五 五 五 五").bar("五 五 五 五").bar("五 五 五 五").bar("五 五 五 五");
  tune.bar("五 五 五 五").bar("五 五 五 五").last().break_before = LineBreak::line;
  tune.bar("五 五 五 五").last().break_before = LineBreak::blank_line;
  EXPECT_EQ(music_of(tune.score),
            "五 五 五 五 | 五 五 五 五 | 五 五 五 五 | 五 五 五 五 | 五 五 五 五 |\n"
            "五 五 五 五 |\n"
            "\n"
            "五 五 五 五 |\n");
}

// A system is as long as its paper is wide; what the author of a text wrote stays.
TEST(Writer, BreaksWithinALongSystem) {
  const auto music = [](std::size_t bars, LineBreak kind) {
    Tune tune;
    tune.bar("五 五 五 五").bar("五 五 五 五").last().break_before = kind;
    while (tune.score.measures.size() <= bars) tune.bar("五 五 五 五");
    return std::regex_replace(music_of(tune.score), std::regex("五 五 五 五 \\|"), ".");
  };
  EXPECT_EQ(music(8, LineBreak::system), ".\n. . . . . . . .\n");
  EXPECT_EQ(music(9, LineBreak::system), ".\n. . . .\n. . . . .\n");
  EXPECT_EQ(music(10, LineBreak::system), ".\n. . . .\n. . . .\n. .\n");
  EXPECT_EQ(music(12, LineBreak::line), ".\n. . . . . . . . . . . .\n");
}

TEST(Writer, CommentsFollowTheirMeasure) {
  Tune tune;
  tune.bar("五 五 五 五").last().comments = {{"slower", false}, {"", true}, {"# twice", true}};
  tune.bar("五 五 五 五").last().comments = {{"own", true}};
  tune.sing("1", 0, "ka ze");
  EXPECT_EQ(music_of(tune.score),
            "  五 五 五 五 | # slower\n"
            "> ka ze /  /\n"
            "#\n"
            "# # twice\n"
            "  五 五 五 五 |\n"
            "# own\n");
}

// A comment with a blank line above it is the heading of what follows, and stays so.
TEST(Writer, BlankLinesStayOnTheirSideOfAComment) {
  const std::string text =
      "flute: 6\n"
      "meter: 4/4\n"
      "\n"
      "五 六 七 六 |\n"
      "五 六 七 六 | # beside\n"
      "\n"
      "# heading\n"
      "# more of it\n"
      "1 2 3 4 |\n"
      "# below the line\n"
      "\n"
      "\n"
      "# between\n"
      "\n"
      "5 6 7 5 |=\n"
      "\n"
      "# last\n";
  const base::SourceText source("tune.yubifu", text);
  const auto read = read_notation(source);
  ASSERT_TRUE(read.ok());
  const auto written = write_notation(*read.value, {});
  std::string expected = text;
  expected.erase(expected.find("\n\n\n"), 1);
  EXPECT_EQ(written.value, expected);
}

TEST(Writer, OneLongDirectionDoesNotTearTheLinesApart) {
  Tune tune;
  tune.bar("五 五 五 五").direct(1, model::TextDirection{"as slowly as you like"});
  tune.bar("五 五 五 五").bar("五 五 五 五").last().break_before = LineBreak::line;
  tune.bar("五 五 五 五");
  EXPECT_EQ(music_of(tune.score),
            "五 {text \"as slowly as you like\"} 五 五 五 | 五 五 五 五 |\n"
            "五 五 五 五 | 五 五 五 五 |\n");
}

// --- song text -----------------------------------------------------------------------------------

TEST(Writer, WritesEachVerseWithItsLabel) {
  Tune tune;
  tune.bar("五 - 六 七:1/2 六:1/2").bar("五 六 五 六");
  tune.note(2).grace_before.resize(1);
  tune.note(2).grace_before[0].fingering = model::parse_printed("一");
  tune.last().break_before = LineBreak::line;
  tune.sing("1", 0, "ha- na / ga sa ~ ku");
  tune.sing("2", 0, "yu ki");
  tune.sing("shoga", 0, "ト ヒャ / / ラ");
  EXPECT_EQ(music_of(tune.score),
            "       五  -  六   (七{pre 一} 六) |\n"
            ">      ha-    na    /          ga\n"
            ">2     yu     ki    /          /\n"
            ">shoga ト     ヒャ  /          /\n"
            "       五  六 五   六              |\n"
            ">      sa  ~  ku   /\n"
            ">shoga ラ  /  /    /\n");
}

TEST(Writer, EscapesWhatASongLineWouldReadOtherwise) {
  Tune tune({5, 4});
  tune.bar("五 五 五 五 五").bar("五 五 五 五 五");
  tune.score.verses = {"1"};
  const std::vector<std::string> texts{"a b", "~", "/x", "a|b", "c-", "\\", "~~", "-a", ">", "　"};
  for (std::size_t i = 0; i < texts.size(); ++i) {
    tune.note(i).syllables = {{"1", texts[i], model::SyllableKind::single, false}};
  }
  tune.note(3).syllables[0].kind = model::SyllableKind::begin;
  tune.note(4).syllables[0].kind = model::SyllableKind::end;
  EXPECT_EQ(music_of(tune.score),
            "  五   五 五  五    五  | 五 五  五 五 五  |\n"
            "> a\\ b \\~ \\/x a\\|b- c\\-   \\\\ \\~~ -a >  \\　\n");
}

}  // namespace
}  // namespace yubifu::notation
