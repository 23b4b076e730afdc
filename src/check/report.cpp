#include "check/report.h"

#include <algorithm>
#include <array>
#include <map>

#include <fmt/format.h>

#include "base/message.h"
#include "base/xml_writer.h"

namespace yubifu::check {
namespace {

std::string coloured(base::Severity severity, Colours colours) {
  const std::string_view word = base::name(severity);
  if (colours == Colours::none) return std::string(word);
  constexpr std::array kCodes{"31", "33", "36"};  // red, yellow, cyan: in the order of Severity
  return fmt::format("\x1b[1;{}m{}\x1b[0m", kCodes[static_cast<std::size_t>(severity)], word);
}

// "message (hint)".
std::string message_and_hint(const Finding& finding) {
  return finding.hint.empty() ? finding.message
                              : fmt::format("{} ({})", finding.message, finding.hint);
}

// The line under a message, and under it the mark.
std::string excerpt(const Place& place) {
  if (place.excerpt.empty()) return {};
  constexpr std::string_view kIndent = "    ";
  const std::string before(static_cast<std::size_t>(place.mark_column), ' ');
  const std::string mark(static_cast<std::size_t>(place.mark_width), '^');
  return fmt::format("{}{}\n{}{}{}\n", kIndent, place.excerpt, kIndent, before, mark);
}

// JSON, by schemas/report.schema.json.

using base::JsonLayout;
using base::JsonWriter;

std::int64_t whole(std::size_t value) {
  return static_cast<std::int64_t>(value);
}

void write_list(JsonWriter& json, std::string_view key, const std::vector<std::string>& list) {
  if (list.empty()) return;
  json.key(key).begin_array();
  for (const std::string& text : list) json.text(text);
  json.end_array();
}

void write_place(JsonWriter& json, const Place& place,
                 const std::array<std::string_view, 4>& keys) {
  const std::array numbers{place.begin.line, place.begin.column, place.end.line, place.end.column};
  for (std::size_t i = 0; i < keys.size(); ++i) json.key(keys[i]).number(whole(numbers[i]));
}

void write_finding(JsonWriter& json, const Finding& finding) {
  json.begin_object(JsonLayout::one_line);
  json.key("rule").text(finding.rule->name);
  json.key("severity").text(base::name(finding.severity));
  if (finding.place) {
    write_place(json, *finding.place, {"line", "column", "endLine", "endColumn"});
  }
  json.key("message").text(finding.message);
  if (!finding.hint.empty()) json.key("hint").text(finding.hint);
  write_list(json, "measures", finding.measures);
  json.end_object();
}

void write_file(JsonWriter& json, const FileReport& file) {
  json.begin_object();
  json.key("path").text(file.name);
  json.key("findings").begin_array();
  for (const Finding& finding : file.findings) write_finding(json, finding);
  json.end_array();
  write_list(json, "remarks", file.remarks);
  json.end_object();
}

std::string json_report(const std::vector<FileReport>& files, const RunFacts& facts) {
  const auto [errors, warnings, notes] = count(files);
  JsonWriter json;
  json.begin_object();
  json.key("yubifu-report").number(std::int64_t{1});
  json.key("version").text(facts.version);
  json.key("verb").text(facts.verb);
  json.key("status").number(std::int64_t{facts.status});
  json.key("counts").begin_object(JsonLayout::one_line);
  json.key("files").number(whole(files.size()));
  json.key("errors").number(whole(errors));
  json.key("warnings").number(whole(warnings));
  json.key("notes").number(whole(notes));
  json.end_object();
  write_files(json, files);
  json.end_object();
  return json.take();
}

// SARIF 2.1.0 (OASIS).

// A path as a URI reference (RFC 3986): what is neither unreserved nor a slash is escaped.
std::string uri_of(std::string_view path) {
  std::string uri;
  if (path.starts_with('/')) uri = "file://";
  for (const char c : path) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '/' || c == '-' || c == '.' || c == '_' || c == '~';
    if (plain) {
      uri += c;
    } else {
      uri += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
  }
  return uri;
}

void write_text(JsonWriter& json, std::string_view key, std::string_view text) {
  json.key(key).begin_object(JsonLayout::one_line);
  json.key("text").text(text);
  json.end_object();
}

void write_rules(JsonWriter& json, const std::vector<const base::Rule*>& rules) {
  json.key("rules").begin_array();
  for (const base::Rule* rule : rules) {
    json.begin_object(JsonLayout::one_line);
    json.key("id").text(rule->name);
    write_text(json, "shortDescription", rule->sentence);
    write_text(json, "help", fmt::format("wrong: {}\nright: {}", rule->wrong, rule->right));
    json.key("defaultConfiguration").begin_object();
    json.key("level").text(base::name(rule->severity));
    json.end_object();
    json.end_object();
  }
  json.end_array();
}

void write_result(JsonWriter& json, const std::string& file, const Finding& finding,
                  const std::map<std::string_view, std::size_t>& rule_index) {
  json.begin_object(JsonLayout::one_line);
  json.key("ruleId").text(finding.rule->name);
  const auto index = rule_index.find(finding.rule->name);
  if (index != rule_index.end()) json.key("ruleIndex").number(whole(index->second));
  json.key("level").text(base::name(finding.severity));
  write_text(json, "message", message_and_hint(finding));
  json.key("locations").begin_array();
  json.begin_object();
  json.key("physicalLocation").begin_object();
  json.key("artifactLocation").begin_object();
  json.key("uri").text(uri_of(file));
  json.end_object();
  if (finding.place) {
    json.key("region").begin_object();
    write_place(json, *finding.place, {"startLine", "startColumn", "endLine", "endColumn"});
    json.end_object();
  }
  json.end_object();
  json.end_object();
  json.end_array();
  json.end_object();
}

std::string sarif_report(const std::vector<FileReport>& files, const RunFacts& facts) {
  std::map<std::string_view, std::size_t> rule_index;
  for (std::size_t i = 0; i < facts.rules.size(); ++i) rule_index.emplace(facts.rules[i]->name, i);
  JsonWriter json;
  json.begin_object();
  json.key("$schema").text("https://json.schemastore.org/sarif-2.1.0.json");
  json.key("version").text("2.1.0");
  json.key("runs").begin_array();
  json.begin_object();
  json.key("tool").begin_object();
  json.key("driver").begin_object();
  json.key("name").text("yubifu");
  json.key("version").text(facts.version);
  write_rules(json, facts.rules);
  json.end_object();
  json.end_object();
  json.key("columnKind").text("unicodeCodePoints");
  json.key("results").begin_array();
  for (const FileReport& file : files) {
    for (const Finding& finding : file.findings) {
      write_result(json, file.name, finding, rule_index);
    }
  }
  json.end_array();
  json.end_object();
  json.end_array();
  json.end_object();
  return json.take();
}

// The XML in which test runners report and which CI services read: one test case a file.

bool is_fault(const Finding& finding) {
  return finding.severity != base::Severity::note;
}

std::string lines_of(const FileReport& file, bool (*wanted)(const Finding&)) {
  FileReport part{file.name, {}, {}};
  std::copy_if(file.findings.begin(), file.findings.end(), std::back_inserter(part.findings),
               wanted);
  return text_report(part, Colours::none);
}

void write_case(base::XmlWriter& out, const FileReport& file, const RunFacts& facts) {
  out.open("testcase");
  out.attribute("classname", fmt::format("yubifu.{}", facts.verb));
  out.attribute("name", without_control_characters(file.name, "\n"));
  const auto fault = std::find_if(file.findings.begin(), file.findings.end(), is_fault);
  if (fault != file.findings.end()) {
    out.open("failure");
    out.attribute("message", without_control_characters(message_and_hint(*fault), "\n"));
    out.attribute("type", fault->rule->name);
    out.close_with_text(without_control_characters(lines_of(file, is_fault), "\n"));
  }
  std::string said = lines_of(file, [](const Finding& finding) { return !is_fault(finding); });
  for (const std::string& remark : file.remarks) said += remark + '\n';
  if (!said.empty()) out.text("system-out", without_control_characters(said, "\n"));
  out.close();
}

std::string junit_report(const std::vector<FileReport>& files, const RunFacts& facts) {
  const auto tests = static_cast<std::int64_t>(files.size());
  const std::int64_t failures =
      std::count_if(files.begin(), files.end(), [](const FileReport& file) {
        return std::any_of(file.findings.begin(), file.findings.end(), is_fault);
      });
  base::XmlWriter out;
  out.raw_line("<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
  out.open("testsuites");
  out.attribute("tests", tests);
  out.attribute("failures", failures);
  out.open("testsuite");
  out.attribute("name", fmt::format("yubifu {}", facts.verb));
  out.attribute("tests", tests);
  out.attribute("failures", failures);
  out.attribute("errors", std::int64_t{0});
  for (const FileReport& file : files) write_case(out, file, facts);
  out.close();
  out.close();
  return out.take();
}

}  // namespace

std::string text_report(const FileReport& file, Colours colours) {
  std::string text;
  const std::string name = without_control_characters(file.name, {});
  std::size_t shown = 0;
  for (const Finding& finding : file.findings) {
    if (++shown > kMostShownFindings) break;
    text += name;
    if (finding.place) {
      text += fmt::format(":{}:{}", finding.place->begin.line, finding.place->begin.column);
    }
    text +=
        fmt::format(": {}: {} [{}]\n", coloured(finding.severity, colours),
                    without_control_characters(message_and_hint(finding), {}), finding.rule->name);
    if (finding.place) text += excerpt(*finding.place);
  }
  if (file.findings.size() > kMostShownFindings) {
    text += fmt::format(
        "{}: {}: {}\n", name, base::name(base::Severity::note),
        base::message("{} more messages are not shown", file.findings.size() - kMostShownFindings));
  }
  return text;
}

void write_files(JsonWriter& json, const std::vector<FileReport>& files) {
  json.key("files").begin_array();
  for (const FileReport& file : files) write_file(json, file);
  json.end_array();
}

ReportWriter report_writer(ReportKind kind) {
  // In the order of ReportKind.
  constexpr std::array<ReportWriter, 4> kWriters{nullptr, json_report, sarif_report, junit_report};
  return kWriters[static_cast<std::size_t>(kind)];
}

}  // namespace yubifu::check
