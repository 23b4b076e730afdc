#include "check/report.h"

#include <string>

#include <gmock/gmock.h>

#include "base/json.h"
#include "check/rules.h"

namespace yubifu::check {
namespace {

using testing::HasSubstr;
using testing::Not;

FileReport one_finding(const std::string& text, std::size_t begin, std::size_t end) {
  const base::SourceText source("tune.yubifu", text);
  FileReport report{source.name(), {}, {}};
  add_located(report,
              {base::report(rule::fast_leap, base::SourceRange{begin, end}, "too fast", "slower")},
              source);
  return report;
}

TEST(TextReport, MarksThePlaceUnderItsLine) {
  EXPECT_EQ(text_report(one_finding("五 六\n1 5 2\n", 10, 11), Colours::none),
            "tune.yubifu:2:3: warning: too fast (slower) [fast-leap]\n"
            "    1 5 2\n"
            "      ^\n");
}

// A MIDI file has no lines: its notes are found by their bars.
std::string without_lines(std::string message, std::vector<std::string> bars) {
  base::Diagnostic found =
      base::report(rule::fast_leap, base::SourceRange{}, std::move(message), "slower");
  found.measures = std::move(bars);
  const base::SourceText source("tune.mid", {});
  FileReport report{source.name(), {}, {}};
  add_located(report, {found}, source);
  return text_report(report, Colours::none);
}

TEST(TextReport, NamesTheBarsWhereAFileHasNoLines) {
  EXPECT_EQ(without_lines("too fast", {"3"}),
            "tune.mid: warning: too fast: bar 3 (slower) [fast-leap]\n");
  EXPECT_EQ(without_lines("bar 3: too fast", {"3"}),
            "tune.mid: warning: bar 3: too fast (slower) [fast-leap]\n");
  EXPECT_EQ(without_lines("too fast: bars 3, 5", {"3", "5"}),
            "tune.mid: warning: too fast: bars 3, 5 (slower) [fast-leap]\n");
  EXPECT_EQ(without_lines("too fast", {}), "tune.mid: warning: too fast (slower) [fast-leap]\n");
}

// A kanji takes two columns of a terminal, a combining dot none (Unicode Annex 11).
TEST(TextReport, CountsColumnsOfTheTerminal) {
  EXPECT_EQ(text_report(one_finding("五 2̇ 六メ 七\n", 8, 14), Colours::none),
            "tune.yubifu:1:6: warning: too fast (slower) [fast-leap]\n"
            "    五 2̇ 六メ 七\n"
            "         ^^^^\n");
}

TEST(TextReport, ShowsAWindowOfALongLine) {
  const std::string line = std::string(5000, 'a') + "五" + std::string(5000, 'b');
  const FileReport report = one_finding(line, 5000, 5003);
  const Place& place = report.findings[0].place.value();
  EXPECT_EQ(place.begin, (base::Position{1, 5001}));
  EXPECT_EQ(place.mark_column, 44);
  EXPECT_EQ(place.mark_width, 2);
  EXPECT_EQ(place.excerpt, std::string(44, 'a') + "五" + std::string(42, 'b'));
}

TEST(TextReport, MarksOneColumnWhereThePlaceIsEmpty) {
  EXPECT_THAT(text_report(one_finding("五 六\n", 7, 7), Colours::none),
              HasSubstr("\n         ^\n"));
}

TEST(TextReport, KeepsControlCharactersFromTheTerminal) {
  const std::string text = text_report(one_finding("a\x1b[31mb\tc\n", 1, 2), Colours::none);
  EXPECT_THAT(text, Not(HasSubstr("\x1b")));
  EXPECT_THAT(text, Not(HasSubstr("\t")));
}

TEST(TextReport, ColoursTheSeverityAlone) {
  EXPECT_THAT(text_report(one_finding("1 5\n", 2, 3), Colours::terminal),
              HasSubstr("tune.yubifu:1:3: \x1b[1;33mwarning\x1b[0m: too fast"));
}

TEST(TextReport, CountsWhatItDoesNotShow) {
  FileReport report = one_finding("1 5\n", 2, 3);
  report.findings.resize(kMostShownFindings + 7, report.findings[0]);
  EXPECT_THAT(text_report(report, Colours::none),
              HasSubstr("tune.yubifu: note: 7 more messages are not shown\n"));
}

const RunFacts kFacts{"1.2.3", "check", 1, {&rule::third_register, &rule::fast_leap}};

base::JsonValue parsed(const std::string& text) {
  auto value = base::parse_json(base::SourceText("report.json", text));
  EXPECT_TRUE(value.ok()) << text;
  return *std::move(value.value);
}

std::string written(ReportKind kind, const std::vector<FileReport>& files) {
  return report_writer(kind)(files, kFacts);
}

const base::JsonValue& at(const base::JsonValue& value, std::size_t index) {
  return value.as<base::JsonArray>()->at(index);
}

const base::JsonValue& at(const base::JsonValue& value, std::string_view key) {
  const base::JsonValue* found = value.find(key);
  if (found == nullptr) throw std::out_of_range(std::string(key));
  return *found;
}

std::string text_at(const base::JsonValue& value, std::string_view key) {
  return *at(value, key).as<std::string>();
}

std::int64_t whole_at(const base::JsonValue& value, std::string_view key) {
  return at(value, key).as<base::JsonNumber>()->whole.value();
}

TEST(JsonReport, SaysWhatAndWhere) {
  FileReport report = one_finding("五 2̇ 六\n", 8, 11);
  report.findings[0].measures = {"4"};
  const base::JsonValue json =
      parsed(written(ReportKind::json, {report, {"other.mid", {}, {"a remark"}}}));
  EXPECT_EQ(whole_at(json, "yubifu-report"), 1);
  EXPECT_EQ(whole_at(json, "status"), 1);
  EXPECT_EQ(whole_at(at(json, "counts"), "files"), 2);
  EXPECT_EQ(whole_at(at(json, "counts"), "warnings"), 1);
  const base::JsonValue& file = at(at(json, "files"), 0);
  EXPECT_EQ(text_at(file, "path"), "tune.yubifu");
  const base::JsonValue& finding = at(at(file, "findings"), 0);
  EXPECT_EQ(text_at(finding, "rule"), "fast-leap");
  EXPECT_EQ(text_at(finding, "severity"), "warning");
  EXPECT_EQ(whole_at(finding, "line"), 1);
  EXPECT_EQ(whole_at(finding, "column"), 6);
  EXPECT_EQ(whole_at(finding, "endColumn"), 7);
  EXPECT_EQ(text_at(finding, "hint"), "slower");
  EXPECT_EQ(*at(at(at(at(json, "files"), 1), "remarks"), 0).as<std::string>(), "a remark");
}

TEST(SarifReport, HoldsRulesAndResults) {
  FileReport report = one_finding("1 5\n", 2, 3);
  report.name = "tunes/渡し #1.yubifu";
  const base::JsonValue json = parsed(written(ReportKind::sarif, {report}));
  EXPECT_EQ(text_at(json, "version"), "2.1.0");
  const base::JsonValue& run = at(at(json, "runs"), 0);
  EXPECT_EQ(text_at(run, "columnKind"), "unicodeCodePoints");
  const base::JsonValue& driver = at(at(run, "tool"), "driver");
  EXPECT_EQ(text_at(at(at(driver, "rules"), 1), "id"), "fast-leap");
  const base::JsonValue& result = at(at(run, "results"), 0);
  EXPECT_EQ(text_at(result, "ruleId"), "fast-leap");
  EXPECT_EQ(whole_at(result, "ruleIndex"), 1);
  EXPECT_EQ(text_at(result, "level"), "warning");
  const base::JsonValue& place = at(at(at(result, "locations"), 0), "physicalLocation");
  // RFC 3986: the bytes of UTF-8, the space and the number sign are escaped.
  EXPECT_EQ(text_at(at(place, "artifactLocation"), "uri"),
            "tunes/%E6%B8%A1%E3%81%97%20%231.yubifu");
  EXPECT_EQ(whole_at(at(place, "region"), "startColumn"), 3);
  EXPECT_EQ(whole_at(at(place, "region"), "endColumn"), 4);
}

TEST(JunitReport, IsOneCaseAFile) {
  FileReport report = one_finding("a<b\n", 1, 2);
  const std::string text = written(ReportKind::junit, {report, {"good.mid", {}, {}}});
  EXPECT_THAT(text, HasSubstr("<testsuites tests=\"2\" failures=\"1\">"));
  EXPECT_THAT(text, HasSubstr("<testcase classname=\"yubifu.check\" name=\"good.mid\"/>"));
  EXPECT_THAT(text, HasSubstr("<failure message=\"too fast (slower)\" type=\"fast-leap\">"));
  EXPECT_THAT(text, HasSubstr("a&lt;b"));
}

TEST(JunitReport, NotesAreNoFailure) {
  FileReport report = one_finding("1 5\n", 2, 3);
  report.findings[0].severity = base::Severity::note;
  const std::string text = written(ReportKind::junit, {report});
  EXPECT_THAT(text, HasSubstr("failures=\"0\""));
  EXPECT_THAT(text, HasSubstr("<system-out>"));
}

TEST(ReportKinds, HaveNamesAndWriters) {
  EXPECT_EQ(kReportKinds.value_of("text"), ReportKind::text);
  EXPECT_EQ(kReportKinds.value_of("xml"), std::nullopt);
  const std::vector<FileReport> files{one_finding("1 5\n", 2, 3)};
  const auto named = [&](std::string_view name) {
    return written(kReportKinds.value_of(name).value(), files);
  };
  EXPECT_THAT(named("json"), HasSubstr("\"yubifu-report\": 1"));
  EXPECT_THAT(named("sarif"), HasSubstr("sarif-2.1.0.json"));
  EXPECT_THAT(named("junit"), HasSubstr("<testsuites "));
  EXPECT_EQ(report_writer(ReportKind::text), nullptr);
}

}  // namespace
}  // namespace yubifu::check
