// Damaged staff files: never a crash, a hang or a broken score; always a score or an error that
// says where.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/encoding.h"
#include "fingering/resolve.h"
#include "model/play_out.h"
#include "musicxml/read/reader.h"
#include "musicxml/rules.h"
#include "musicxml/staff_text.h"
#include "musicxml/write/writer.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/document_text.h"
#include "support/dice.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/score_generator.h"

namespace yubifu::musicxml {
namespace {

using support::Dice;

constexpr std::size_t kNowhere = std::string::npos;

// What stands where a number or a word should.
const std::vector<std::string> kOddValues{"",
                                          "0",
                                          "-1",
                                          "1",
                                          "2",
                                          "3",
                                          "7",
                                          "99",
                                          "1000000000",
                                          "x",
                                          "0.5",
                                          "1e9",
                                          "nan",
                                          "-0.5",
                                          "4294967296",
                                          "9223372036854775807",
                                          "start",
                                          "stop",
                                          "三",
                                          "五五",
                                          "?F#4",
                                          "free",
                                          "yes",
                                          "no",
                                          "continue",
                                          "16/4",
                                          "\xF0\x9F\x8E\xB5",
                                          "breve",
                                          "1024th",
                                          "quarter",
                                          "percussion",
                                          "D.C.",
                                          "coda",
                                          "backward",
                                          "forward"};

// Elements that the reader has a use for.
const std::vector<std::string> kNames{"note",       "rest",      "chord",
                                      "grace",      "cue",       "pitch",
                                      "backup",     "forward",   "duration",
                                      "type",       "dot",       "voice",
                                      "staff",      "tie",       "notations",
                                      "lyric",      "text",      "syllabic",
                                      "attributes", "divisions", "time",
                                      "beats",      "transpose", "direction",
                                      "barline",    "repeat",    "ending",
                                      "measure",    "part",      "sound",
                                      "unpitched",  "key",       "time-modification"};

// A stretch that begins with a start tag and ends with its end tag.
struct Stretch {
  std::size_t begin = 0;
  std::size_t size = 0;
};

Stretch some_element(const std::string& text, Dice& dice) {
  for (int attempt = 0; attempt < 20; ++attempt) {
    const std::size_t begin = text.find('<', dice.below(text.size()));
    if (begin == kNowhere || begin + 1 >= text.size() || text[begin + 1] == '/') continue;
    const std::size_t end_of_name = text.find_first_of(" />", begin);
    if (end_of_name == kNowhere) continue;
    const std::size_t close = text.find('>', begin);
    if (close == kNowhere) continue;
    if (text[close - 1] == '/') return {begin, close + 1 - begin};
    const std::string end = "</" + text.substr(begin + 1, end_of_name - begin - 1) + ">";
    const std::size_t last = text.find(end, close);
    if (last != kNowhere) return {begin, last + end.size() - begin};
  }
  return {};
}

Stretch some_bytes(const std::string& text, Dice& dice) {
  const std::size_t begin = dice.below(text.size());
  return {begin, std::min(text.size() - begin, 1 + dice.below(200))};
}

void change_byte(std::string& text, Dice& dice) {
  text[dice.below(text.size())] = static_cast<char>(dice.below(256));
}

void insert(std::string& text, const std::string& part, Dice& dice) {
  const std::size_t at = text.find('<', dice.below(text.size()));
  text.insert(at == kNowhere ? 0 : at, part);
}

// The text of an element or the value of an attribute.
void change_value(std::string& text, Dice& dice) {
  const char open = dice.percent(70) ? '>' : '"';
  const char shut = open == '>' ? '<' : '"';
  const std::size_t begin = text.find(open, dice.below(text.size()));
  if (begin == kNowhere) return;
  const std::size_t end = text.find(shut, begin + 1);
  if (end == kNowhere) return;
  text.replace(begin + 1, end - begin - 1, dice.pick(kOddValues));
}

// The tags of one element get another name.
void rename_element(std::string& text, Dice& dice) {
  const Stretch element = some_element(text, dice);
  if (element.size == 0) return;
  const std::string old =
      text.substr(element.begin + 1, text.find_first_of(" />", element.begin) - element.begin - 1);
  const std::string& name = dice.pick(kNames);
  const std::size_t last = element.begin + element.size - 1 - old.size();
  const bool closes = text.compare(last, old.size(), old) == 0 && text[last - 1] == '/';
  if (closes) text.replace(last, old.size(), name);
  text.replace(element.begin + 1, old.size(), name);
}

void mutate(std::string& text, Dice& dice) {
  if (text.empty()) return;
  const int kind = dice.between(0, 99);
  if (kind < 45) {
    change_value(text, dice);
  } else if (kind < 60) {
    const Stretch element = some_element(text, dice);
    text.erase(element.begin, element.size);
  } else if (kind < 70) {
    const Stretch element = some_element(text, dice);
    insert(text, text.substr(element.begin, element.size), dice);
  } else if (kind < 80) {
    const Stretch element = some_element(text, dice);
    const std::string moved = text.substr(element.begin, element.size);
    text.erase(element.begin, element.size);
    if (!text.empty()) insert(text, moved, dice);
  } else if (kind < 92) {
    rename_element(text, dice);
  } else if (kind < 95) {
    change_byte(text, dice);
  } else if (kind < 97) {
    const Stretch bytes = some_bytes(text, dice);
    text.erase(bytes.begin, bytes.size);
  } else if (kind < 99) {
    const Stretch bytes = some_bytes(text, dice);
    text.insert(dice.below(text.size()), text.substr(bytes.begin, bytes.size));
  } else {
    text.resize(dice.below(text.size()));
  }
}

// The text with one to four faults: bytes changed, stretches cut out, doubled, moved, tags of other
// elements, numbers and words that nobody expects; the same for the same seed. Mostly well-formed
// afterwards when the text was.
std::string mutated(std::string text, std::mt19937_64& random) {
  Dice dice(random);
  for (int faults = dice.between(1, 4); faults > 0; --faults) mutate(text, dice);
  return text;
}

// The bytes with one to four of them changed, cut out or doubled.
std::string mutated_bytes(std::string bytes, std::mt19937_64& random) {
  Dice dice(random);
  for (int faults = dice.between(1, 4); faults > 0 && !bytes.empty(); --faults) {
    const Stretch stretch = some_bytes(bytes, dice);
    switch (dice.between(0, 4)) {
      case 0:
        bytes.erase(stretch.begin, stretch.size);
        break;
      case 1:
        bytes.insert(dice.below(bytes.size()), bytes.substr(stretch.begin, stretch.size));
        break;
      default:
        change_byte(bytes, dice);
    }
  }
  return bytes;
}

using testing::AllOf;
using testing::HasSubstr;

// A bit of everything that other programs write.
std::string rich_score() {
  const std::string tuplet =
      "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
      "</time-modification>";
  const std::string first =
      attributes(480, "4/4") +
      "<attributes><key><fifths>2</fifths></key><clef><sign>G</sign><line>2</line></clef>"
      "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>"
      "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>96"
      "</per-minute></metronome></direction-type><sound tempo=\"96\"/></direction>"
      "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" +
      grace("E5") + note("D5", 480, "<tie type=\"start\"/><voice>1</voice><type>quarter</type>") +
      note("D5", 160, "<tie type=\"stop\"/><voice>1</voice><type>eighth</type>" + tuplet) +
      note("E5", 160, "<voice>1</voice><type>eighth</type>" + tuplet) +
      note_with("<chord/>", "G5", 160, "<voice>1</voice><type>eighth</type>" + tuplet) +
      note("F#5", 160,
           "<voice>1</voice><type>eighth</type>" + tuplet +
               "<notations><slur type=\"start\"/><fermata/><slide type=\"start\"/></notations>" +
               lyric("1", "begin", "lan") + lyric("2", "single", "一")) +
      note("G5", 960,
           "<voice>1</voice><type>half</type><notations><slur type=\"stop\"/><articulations>"
           "<breath-mark/></articulations></notations><lyric><text>tern</text><extend/></lyric>") +
      "<backup><duration>1920</duration></backup>" +
      note("C4", 1920, "<voice>2</voice><type>whole</type><staff>2</staff>");
  const std::string second =
      "<barline location=\"left\"><ending number=\"1\" type=\"start\"/></barline>"
      "<direction><direction-type><segno/></direction-type><sound segno=\"s\"/></direction>" +
      note("A5", 720, "<voice>1</voice><type>quarter</type><dot/>") +
      "<forward><duration>240</duration><voice>1</voice></forward>" +
      "<note><rest measure=\"yes\"/><duration>960</duration><voice>1</voice></note>"
      "<direction><direction-type><words>D.S. al Coda</words></direction-type>"
      "<sound dalsegno=\"s\"/></direction>"
      "<barline location=\"right\"><bar-style>light-heavy</bar-style>"
      "<ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\" times=\"3\"/></barline>";
  const std::string drum =
      measure("1", "<note><unpitched/><duration>4</duration></note>") + measure("2", rest(4));
  return document(
      "<work><work-title>Ferry Lanterns</work-title></work><part-list><score-part id=\"P1\">"
      "<part-name>Flute</part-name></score-part></part-list><part id=\"P1\">" +
      measure("1", first) + measure("2", second) + measure("3\" implicit=\"yes", note("B5", 480)) +
      "</part><part id=\"P2\">" + drum + "</part>");
}

std::string timewise_score() {
  return "<score-timewise><measure number=\"1\"><part id=\"P1\">" + attributes(1, "3/4") +
         note("D5", 2) + "</part><part id=\"P2\">" + rest(3) +
         "</part></measure><measure number=\"2\"><part id=\"P1\">" + note("E5", 3) +
         "</part></measure></score-timewise>";
}

std::vector<std::string> sources() {
  std::vector<std::string> list{rich_score(), timewise_score()};
  support::GeneratorOptions small;
  small.most_measures = 4;
  constexpr Annotation kKinds[] = {Annotation::lyric, Annotation::technical, Annotation::words};
  for (std::uint64_t seed = 1; list.size() < 14; ++seed) {
    auto resolved = fingering::resolve(support::random_score(seed, small), {});
    MusicXmlWriteOptions options;
    options.annotation = kKinds[seed % 3];
    options.holes = seed % 2 == 0;
    base::Outcome<std::string> text = write_musicxml(resolved.value.value().score, options);
    if (text.ok()) list.push_back(*std::move(text.value));
  }
  return list;
}

// What is wrong with a result; empty when all is well.
std::string fault_of(const base::Outcome<model::Score>& outcome) {
  if (!outcome.value) {
    for (const base::Diagnostic& diagnostic : outcome.diagnostics) {
      if (diagnostic.severity == base::Severity::error && diagnostic.where) return {};
    }
    return "neither a score nor an error with a place";
  }
  const std::vector<std::string> broken = support::broken_invariants(*outcome.value);
  if (!broken.empty()) return broken.front();
  return model::play_out(*outcome.value).value ? "" : "it cannot be played";
}

TEST(DamagedStaffFiles, GiveAScoreOrAnErrorWithAPlace) {
  const std::vector<std::string> texts = sources();
  std::mt19937_64 random(7);
  std::uint64_t scores = 0;
  const std::uint64_t count = support::rounds(4000);
  for (std::uint64_t i = 0; i < count; ++i) {
    const std::string text = mutated(texts[i % texts.size()], random);
    const base::SourceText source("damaged.musicxml", text);
    const base::Outcome<model::Score> outcome = read_musicxml(source, {});
    ASSERT_EQ(fault_of(outcome), "") << "mutation " << i << "\n" << text;
    if (outcome.value) ++scores;
  }
  // Damage that only makes broken XML would test the parser alone.
  EXPECT_GT(scores, count / 2);
  RecordProperty("scores", std::to_string(scores));
}

TEST(DamagedStaffFiles, GiveATextOrAnErrorWhateverTheBytes) {
  std::vector<std::string> files{make_container(rich_score()).value.value(),
                                 "\xFF\xFE" + base::from_utf8(timewise_score(), "UTF-16LE").text,
                                 "<?xml version=\"1.0\" encoding=\"Shift_JIS\"?>" +
                                     base::from_utf8("<a>渡し場の灯</a>", "Shift_JIS").text};
  std::mt19937_64 random(8);
  const std::uint64_t count = support::rounds(2000);
  for (std::uint64_t i = 0; i < count; ++i) {
    const std::string bytes = mutated_bytes(files[i % files.size()], random);
    const base::Outcome<std::string> text = xml_text(bytes);
    ASSERT_TRUE(text.value || base::has_errors(text.diagnostics)) << "mutation " << i;
    if (!text.value) continue;
    const base::SourceText source("damaged.mxl", *text.value);
    ASSERT_EQ(fault_of(read_musicxml(source, {})), "") << "mutation " << i << "\n" << *text.value;
  }
}

// Those of a megabyte are looked through beside the parser.
TEST(LargeStaffFiles, AreReadAndRefusedAsSmallOnes) {
  std::string bars;
  while (bars.size() < 1'500'000) bars += measure("1", attributes(2, "4/4") + note("D5", 8));
  const std::string whole = one_part(bars);
  const Reading reading = read(whole);
  EXPECT_EQ(reading.score.notes.size(), reading.score.measures.size());
  // A fault that only the look finds, one that only the parser finds, and both.
  const std::string last = measure("2", "<note>&nobody;</note>");
  EXPECT_THAT(refusal(one_part(bars + last)),
              AllOf(HasSubstr("xml-syntax"), HasSubstr("'&nobody;' names no character of XML")));
  EXPECT_THAT(refusal(whole.substr(0, whole.size() - 20)), HasSubstr("xml-syntax"));
  EXPECT_THAT(refusal(one_part(bars + last).substr(0, whole.size() + 40)),
              HasSubstr("'&nobody;' names no character of XML"));
}

TEST(StaffLimits, MeasuresAreCounted) {
  std::string measures;
  for (int i = 0; i < 200'001; ++i) measures += "<measure/>";
  EXPECT_EQ(refusal(document("<part id=\"P1\">" + measures + "</part>")),
            "2:1 staff-limits: a part holds more than 200000 bars");
}

TEST(StaffLimits, MeasuresOfTimewisePartsAreCounted) {
  std::string text = "<score-timewise>";
  for (int i = 0; i < 2001; ++i) {
    text += "<measure><part id=\"" + std::to_string(i) + "\"/></measure>";
  }
  EXPECT_EQ(refusal(text + "</score-timewise>"),
            "1:1 staff-limits: the file holds more than 4000000 bars of parts");
}

}  // namespace
}  // namespace yubifu::musicxml
