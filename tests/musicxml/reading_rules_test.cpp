// Every reading rule's wrong example breaks that rule and no other; the right one breaks none.
#include <algorithm>
#include <set>
#include <string>
#include <string_view>

#include <gtest/gtest.h>

#include "musicxml/container.h"
#include "musicxml/document_text.h"
#include "musicxml/reader.h"
#include "musicxml/rules.h"
#include "musicxml/staff_text.h"
#include "musicxml/zip_archive.h"

namespace yubifu::musicxml {
namespace {

using Names = std::set<std::string_view>;

// The rules broken by bytes. Notes count only for the rule that is one.
Names broken_by(std::string_view bytes, const base::Rule& rule,
                const MusicXmlReadOptions& options = {}) {
  base::Outcome<std::string> text = xml_text(bytes);
  base::Diagnostics all = std::move(text.diagnostics);
  if (text.value) {
    const base::SourceText source("example.musicxml", *std::move(text.value));
    base::append(all, read_musicxml(source, options).diagnostics);
  }
  Names names;
  for (const base::Diagnostic& finding : all) {
    const bool counts = finding.severity != base::Severity::note || finding.rule == &rule;
    if (counts) names.insert(finding.rule->name);
  }
  return names;
}

Names only(const base::Rule& rule) {
  return {rule.name};
}

class ReadingRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(ReadingRule, IsBrokenByItsWrongExampleOnly) {
  const base::Rule& rule = *GetParam();
  EXPECT_EQ(broken_by(rule.wrong, rule), only(rule)) << rule.wrong;
  EXPECT_EQ(broken_by(rule.right, rule), Names{}) << rule.right;
}

INSTANTIATE_TEST_SUITE_P(
    MusicXml, ReadingRule,
    testing::Values(&rule::xml_syntax, &rule::xml_limits, &rule::not_a_staff_file,
                    &rule::no_measures, &rule::unpitched_part, &rule::staff_limits,
                    &rule::staff_overflow, &rule::left_out, &rule::detail_left_out,
                    &rule::tie_without_partner, &rule::odd_duration, &rule::odd_position,
                    &rule::overlapping_notes, &rule::uneven_bar, &rule::strokes_differ,
                    &rule::octave_twice, &rule::silent_voice, &rule::voice_followed,
                    &rule::not_a_fingering, &rule::unknown_value, &rule::misplaced_sign,
                    &rule::annotated_octave, &rule::jump_in_words, &rule::no_meter),
    [](const auto& test) {
      std::string name(test.param->name);
      std::replace(name.begin(), name.end(), '-', '_');
      return name;
    });

// --- Rules whose examples are bytes or options, and so stand in words

TEST(ReadingRuleInWords, UnreadableTextAndDeclaredEncoding) {
  const std::string rest = one_bar(note("D5", 8));
  const std::string title = "<!-- caf\xE9 -->";
  const std::string after = rest.substr(rest.find("?>") + 2);
  EXPECT_EQ(broken_by("<?xml version=\"1.0\"?>" + title + after, rule::unreadable_text),
            only(rule::unreadable_text));
  EXPECT_EQ(broken_by("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" + title + after,
                      rule::unreadable_text),
            Names{});
  const std::string japanese = "<!-- 灯 -->";
  EXPECT_EQ(broken_by("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>" + japanese + after,
                      rule::declared_encoding),
            only(rule::declared_encoding));
  EXPECT_EQ(broken_by("<?xml version=\"1.0\" encoding=\"UTF-8\"?>" + japanese + after,
                      rule::declared_encoding),
            Names{});
}

TEST(ReadingRuleInWords, Containers) {
  const std::string score = one_bar(note("D5", 8));
  const std::string whole = make_container(score).value.value();
  EXPECT_EQ(broken_by(whole.substr(0, whole.size() / 2), rule::broken_container),
            only(rule::broken_container));
  EXPECT_EQ(broken_by(whole, rule::broken_container), Names{});
  EXPECT_EQ(broken_by(zip_archive(
                          {container_naming({"../score.musicxml"}), {"../score.musicxml", score}}),
                      rule::unsafe_container),
            only(rule::unsafe_container));
  EXPECT_EQ(
      broken_by(zip_archive({container_naming({"score.musicxml"}), {"score.musicxml", score}}),
                rule::unsafe_container),
      Names{});
  EXPECT_EQ(broken_by(zip_archive({{"score.musicxml", score}}), rule::container_without_rootfile),
            only(rule::container_without_rootfile));
}

TEST(ReadingRuleInWords, PartsAndVoices) {
  const std::string flute = one_bar(note("D5", 8));
  MusicXmlReadOptions options;
  options.part = "Drum";
  EXPECT_EQ(broken_by(flute, rule::unknown_part, options), only(rule::unknown_part));
  options.part = "Flute";
  EXPECT_EQ(broken_by(flute, rule::unknown_part, options), Names{});
  options.voice = "2";
  EXPECT_EQ(broken_by(flute, rule::unknown_voice, options), only(rule::unknown_voice));
  options.voice = "1";
  EXPECT_EQ(broken_by(flute, rule::unknown_voice, options), Names{});
  const std::string voices =
      one_bar(note("D5", 8, "<voice>1</voice>") + "<backup><duration>8</duration></backup>" +
              note("E4", 8, "<voice>2</voice>"));
  EXPECT_EQ(broken_by(voices, rule::voice_chosen), only(rule::voice_chosen));
  EXPECT_EQ(broken_by(voices, rule::voice_chosen, options), Names{});
}

TEST(ReadingRuleInWords, OverflowNamesItsBar) {
  EXPECT_EQ(refusal(std::string(rule::staff_overflow.wrong)),
            "7:5 staff-overflow: the durations of bar 1 are too fine or too long to be added up");
}

}  // namespace
}  // namespace yubifu::musicxml
