// The verb compare, across formats.
#include <array>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kCompared =
    "title: Rain\nflute: 6\ntempo: 90\n\n"
    "|: 五 六{accent} 七 (六 五) | 1 (2 3~) 一 三メ :|\n"
    "> あ め が ふ る よ る に は あ\n"
    ">2 か ぜ が ふ く よ る に は あ\n"
    "三↓20{pre 四} - ・ 五 |=\n";

// Files of every format made from one tune, and a folder for more.
class Compare : public testing::Test {
 protected:
  Compare() {
    folder_.write("tune.yubifu", kCompared);
    for (const char* name : {"tune.musicxml", "tune.mxl", "tune.mid", "tune.json"}) convert(name);
  }

  void convert(const std::string& to, const std::vector<std::string>& options = {}) const {
    std::vector<std::string> words{"convert", "tune.yubifu", "-o", to};
    words.insert(words.end(), options.begin(), options.end());
    const ProgramRun run = run_yubifu(words, folder_.path());
    EXPECT_EQ(run.status, 0) << run.err;
  }

  ProgramRun compare(std::vector<std::string> words) const {
    words.insert(words.begin(), "compare");
    return run_yubifu(words, folder_.path());
  }

  // The tune with one part of its text changed.
  void write_changed(const std::string& name, const std::string& from,
                     const std::string& to) const {
    std::string text = kCompared;
    text.replace(text.find(from), from.size(), to);
    folder_.write(name, text);
  }

  TemporaryFolder folder_;
};

TEST_F(Compare, EveryFormatHoldsTheSameMusic) {
  const std::vector<std::string> names{"tune.yubifu", "tune.musicxml", "tune.mxl", "tune.mid",
                                       "tune.json"};
  for (const std::string& a : names) {
    for (const std::string& b : names) {
      const ProgramRun run = compare({a, b});
      EXPECT_EQ(run.status, 0) << a << " " << b << "\n" << run.err;
      EXPECT_THAT(run.err, HasSubstr(a + " and " + b + " hold the same music\n"));
      EXPECT_THAT(run.out, IsEmpty());
    }
  }
}

TEST_F(Compare, SaysWhatAFileDoesNotHold) {
  EXPECT_THAT(compare({"tune.yubifu", "tune.mid"}).err,
              HasSubstr("tune.mid says nothing about marks, lyrics, form, so that is not"));
  convert("words.mid", {"--lyrics", "song"});
  const ProgramRun words = compare({"tune.yubifu", "words.mid"});
  EXPECT_EQ(words.status, 0) << words.err;
  EXPECT_THAT(words.err, HasSubstr("words.mid says nothing about fingering, marks, form, so that"));
  convert("bare.musicxml", {"--fingering", "none"});
  const ProgramRun bare = compare({"tune.yubifu", "bare.musicxml", "--cents", "50"});
  EXPECT_THAT(bare.err, HasSubstr("bare.musicxml says nothing about fingering"));
}

TEST_F(Compare, FindsAChangeInEveryFormat) {
  write_changed("other.yubifu", "五 六{accent} 七", "五 六{accent} 六");
  for (const char* name : {"tune.yubifu", "tune.musicxml", "tune.mxl", "tune.json"}) {
    const ProgramRun run = compare({"other.yubifu", name});
    EXPECT_EQ(run.status, 1) << name;
    EXPECT_THAT(run.err,
                AllOf(HasSubstr("other.yubifu:5:16: error: bar 1, beat 3: 六 (G5) here, 七 (A5) "
                                "there (there: " +
                                std::string(name)),
                      HasSubstr("bar 1, beat 3) [pitch-differs]"), HasSubstr(": 1 difference\n")))
        << name;
  }
  // The repeat plays it twice.
  const ProgramRun sound = compare({"tune.mid", "other.yubifu"});
  EXPECT_EQ(sound.status, 1);
  EXPECT_THAT(sound.err, HasSubstr("there: other.yubifu:5:16, bar 1, beat 3"));
  EXPECT_THAT(sound.err, HasSubstr(": 2 differences\n"));
}

// A MIDI file that plays at the tempo of last year, under another title, is no export of the tune.
TEST_F(Compare, FindsAChangedHeaderInEveryFormat) {
  for (const auto& [from, to, told] : std::vector<std::array<std::string, 3>>{
           {"title: Rain", "title: Snow", "title: \"Snow\" here, \"Rain\" there"},
           {"tempo: 90", "tempo: 96", "tempo: \"1/4=96\" here, \"1/4=90\" there"}}) {
    write_changed("other.yubifu", from, to);
    for (const char* name : {"tune.musicxml", "tune.mxl", "tune.mid", "tune.json"}) {
      const ProgramRun run = compare({"other.yubifu", name});
      EXPECT_EQ(run.status, 1) << name;
      EXPECT_THAT(run.err, HasSubstr(told)) << name;
      EXPECT_EQ(compare({"other.yubifu", name, "--ignore", "header"}).status, 0) << name;
    }
  }
  write_changed("other.yubifu", "tempo: 90", "tempo: 1/8=180");
  EXPECT_EQ(compare({"other.yubifu", "tune.mid"}).status, 0);
}

// It is for any flute, and its fingering for one of them changes nothing in it.
TEST_F(Compare, AMelodyWithoutAFluteIsWhatWasMadeOfIt) {
  folder_.write("melody.musicxml", R"(<?xml version="1.0"?><score-partwise version="4.0">
<part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions>
<time><beats>4</beats><beat-type>4</beat-type></time></attributes>
<note><pitch><step>E</step><octave>5</octave></pitch><duration>4</duration></note></measure></part>
</score-partwise>)");
  for (const std::string name : {"made.mid", "made.yubifu", "made.musicxml", "made.json"}) {
    run_yubifu({"convert", "melody.musicxml", "--flute", "7", "-o", name}, folder_.path());
    const ProgramRun run = compare({"melody.musicxml", name});
    EXPECT_EQ(run.status, 0) << name << run.err;
    EXPECT_EQ(compare({name, "melody.musicxml"}).status, 0) << name;
  }
  // Asked for a certain flute, it is the one.
  EXPECT_THAT(compare({"melody.musicxml", "made.mid", "--flute", "8"}).err,
              HasSubstr("flute: \"8\" here, \"7\" there"));
}

TEST_F(Compare, TheSameFingersOnAnotherFluteAreOneLine) {
  for (const std::string name : {"high.yubifu", "high.musicxml", "high.mid", "high.json"}) {
    convert(name, {"--flute", "8"});
    const ProgramRun run = compare({"tune.yubifu", name});
    EXPECT_EQ(run.status, 1) << name;
    EXPECT_THAT(run.err, HasSubstr("same fingers, another flute: all sounds 2 semitones higher "
                                   "(there: " +
                                   name + ") [pitch-differs]\n"));
    EXPECT_THAT(run.err, HasSubstr(": 1 difference\n")) << name;
  }
}

// A MIDI file has the pitch of a gap and no letter for it.
TEST_F(Compare, GapsOfOnePitchAreOneInSound) {
  folder_.write("flat.yubifu", "flute: 6\n\n五 ?Cb4 七 - |=\n");
  folder_.write("sharp.yubifu", "flute: 6\n\n五 ?B3 七 - |=\n");
  for (const std::string name : {"flat", "sharp"}) {
    run_yubifu({"convert", name + ".yubifu", "-o", name + ".mid"}, folder_.path());
  }
  for (const std::string a : {"flat.mid", "flat.yubifu"}) {
    for (const std::string b : {"sharp.mid", "sharp.yubifu"}) {
      const bool written = a == "flat.yubifu" && b == "sharp.yubifu";
      const ProgramRun run = compare({a, b});
      EXPECT_EQ(run.status, written ? 1 : 0) << a << " " << b << run.err;
      EXPECT_THAT(run.err, HasSubstr(written ? "fingering: ?Cb4 here, ?B3 there" : "same music"));
    }
  }
}

// A MIDI file has every tempo, on its tick.
TEST_F(Compare, FindsAChangedTempoInTheMiddle) {
  const auto write = [&](const std::string& name, const std::string& tempo,
                         const std::string& last = "") {
    folder_.write(name, "flute: 6\ntempo: 90\n\n|: 五 六 七 六 | 五 " + tempo + " 六 七 - :| " +
                            last + " 五 六 七 - |=\n");
  };
  write("slow.yubifu", "{tempo 60}");
  write("slower.yubifu", "{tempo 54}");
  write("same.yubifu", "{tempo 1/8=120}");
  write("steady.yubifu", "");
  write("again.yubifu", "{tempo 60}", "{tempo 120}");
  write("rit.yubifu", "{rit}");
  run_yubifu({"convert", "slow.yubifu", "-o", "slow.mid"}, folder_.path());
  EXPECT_EQ(compare({"slow.yubifu", "slow.mid"}).status, 0);
  EXPECT_EQ(compare({"slow.mid", "same.yubifu"}).status, 0);
  EXPECT_THAT(compare({"slower.yubifu", "slow.mid"}).err,
              AllOf(HasSubstr("bar 2, beat 2: change of tempo: 1/4=54 here, 1/4=60 there"),
                    HasSubstr(": 1 difference\n")));
  EXPECT_THAT(compare({"slow.mid", "steady.yubifu"}).err,
              HasSubstr("change of tempo: 1/4=60 here, none there"));
  EXPECT_THAT(compare({"again.yubifu", "slow.mid"}).err,
              HasSubstr("change of tempo: 1/4=120 here, none there"));
  // How much a rit. slows down, nobody has written.
  EXPECT_EQ(compare({"slow.mid", "rit.yubifu"}).status, 0);
  EXPECT_EQ(compare({"slow.mid", "slower.yubifu", "--ignore", "header"}).status, 0);
}

TEST_F(Compare, AStartThatIsNotInTempoIsNoDifference) {
  for (const std::string start :
       {"{rit} 五 六", "{accel} 五 六", "五{fermata} 六", "・{fermata} 六"}) {
    folder_.write("free.yubifu", "flute: 6\ntempo: 90\n\n" + start + " 七 六 | 五 六 七 - |=\n");
    run_yubifu({"convert", "free.yubifu", "-o", "free.mid"}, folder_.path());
    const ProgramRun run = compare({"free.yubifu", "free.mid"});
    EXPECT_EQ(run.status, 0) << start << run.err;
  }
}

TEST_F(Compare, ANoteMovedUnderItsFingeringIsFound) {
  std::string staff = folder_.read("tune.musicxml");
  const std::size_t step = staff.find("<step>", staff.find("<note>"));
  staff.replace(step, std::string("<step>G").size(), "<step>A");
  folder_.write("moved.musicxml", staff);
  const ProgramRun run = compare({"tune.yubifu", "moved.musicxml"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("[pitch-differs]"));
}

TEST_F(Compare, IgnoresWhatItIsTold) {
  write_changed("other.yubifu", "> あ め", "> お め");
  EXPECT_EQ(compare({"tune.yubifu", "other.yubifu"}).status, 1);
  EXPECT_EQ(compare({"tune.yubifu", "other.yubifu", "--ignore", "lyrics"}).status, 0);
  write_changed("other.yubifu", "title: Rain", "title: Snow");
  EXPECT_EQ(compare({"tune.yubifu", "other.yubifu", "--ignore", "lyrics,header"}).status, 0);
  write_changed("other.yubifu", "三↓20", "三↓40");
  EXPECT_EQ(compare({"tune.mid", "other.yubifu", "--ignore", "fingering"}).status, 1);
  EXPECT_EQ(compare({"tune.mid", "other.yubifu", "--ignore", "fingering", "--cents", "21"}).status,
            0);
}

TEST_F(Compare, ShowsTheFirstDifferencesOnly) {
  std::string many = "flute: 6\n\n";
  std::string other = many;
  for (int i = 0; i < 10; ++i) {
    many += "五 六 五 六 |\n";
    other += "三 四 三 四 |\n";
  }
  folder_.write("a.yubifu", many);
  folder_.write("b.yubifu", other);
  const ProgramRun run = compare({"a.yubifu", "b.yubifu"});
  EXPECT_THAT(run.err, HasSubstr("20 more differences are not shown\n"));
  EXPECT_THAT(run.err, HasSubstr("a.yubifu and b.yubifu: 40 differences\n"));
}

TEST_F(Compare, ReportsForMachines) {
  write_changed("other.yubifu", "五 六{accent} 七", "五 六{accent} 六");
  const ProgramRun run = compare({"tune.yubifu", "other.yubifu", "--report", "json"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.out,
              AllOf(HasSubstr("\"verb\": \"compare\""), HasSubstr("\"rule\": \"pitch-differs\"")));
  EXPECT_THAT(run.err, IsEmpty());
}

// As check and tidy take it: what begins like nothing else is fingering text.
TEST_F(Compare, TakesFingeringTextFromStandardInput) {
  const ProgramRun run =
      run_yubifu({"compare", "-", "tune.yubifu"}, folder_.path(), folder_.read("tune.yubifu"));
  EXPECT_EQ(run.status, 0) << run.err;
}

TEST_F(Compare, RefusesWhatItCannotCompare) {
  EXPECT_EQ(compare({"tune.yubifu"}).status, 2);
  EXPECT_EQ(compare({"tune.yubifu", "missing.mid"}).status, 2);
  folder_.write("faulty.yubifu", "flute: 6\n\n五 六 七 六 | 五 六 七 | 五 - - - |=\n");
  const ProgramRun faulty = compare({"tune.yubifu", "faulty.yubifu"});
  EXPECT_EQ(faulty.status, 2);
  EXPECT_THAT(faulty.err, HasSubstr("[bar-length]"));
  EXPECT_THAT(compare({"tune.yubifu", "tune.mid", "--ignore", "lirics"}).err,
              HasSubstr("one of pitch, onset"));
  EXPECT_THAT(compare({"tune.yubifu", "tune.mid", "--cents", "-3"}).err, HasSubstr("from 0 to"));
}

}  // namespace
}  // namespace yubifu::tests
