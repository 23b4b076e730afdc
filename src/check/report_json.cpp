#include <fmt/format.h>

#include "base/json_writer.h"
#include "check/report_writers.h"

namespace yubifu::check {
namespace {

using base::JsonLayout;
using base::JsonWriter;

std::int64_t whole(std::size_t value) {
  return static_cast<std::int64_t>(value);
}

void write_finding(JsonWriter& json, const Finding& finding) {
  json.begin_object(JsonLayout::one_line);
  json.key("rule").text(finding.rule->name);
  json.key("severity").text(base::name(finding.severity));
  if (finding.place) {
    json.key("line").number(whole(finding.place->begin.line));
    json.key("column").number(whole(finding.place->begin.column));
    json.key("endLine").number(whole(finding.place->end.line));
    json.key("endColumn").number(whole(finding.place->end.column));
  }
  json.key("message").text(finding.message);
  if (!finding.hint.empty()) json.key("hint").text(finding.hint);
  if (!finding.measures.empty()) {
    json.key("measures").begin_array();
    for (const std::string& number : finding.measures) json.text(number);
    json.end_array();
  }
  json.end_object();
}

void write_file(JsonWriter& json, const FileReport& file) {
  json.begin_object();
  json.key("path").text(file.name);
  json.key("findings").begin_array();
  for (const Finding& finding : file.findings) write_finding(json, finding);
  json.end_array();
  if (!file.remarks.empty()) {
    json.key("remarks").begin_array();
    for (const std::string& remark : file.remarks) json.text(remark);
    json.end_array();
  }
  json.end_object();
}

}  // namespace

std::string json_report(const std::vector<FileReport>& files, const RunFacts& facts) {
  const Counts counts = count(files);
  JsonWriter json;
  json.begin_object();
  json.key("yubifu-report").number(std::int64_t{1});
  json.key("version").text(facts.version);
  json.key("verb").text(facts.verb);
  json.key("status").number(std::int64_t{facts.status});
  json.key("counts").begin_object(JsonLayout::one_line);
  json.key("files").number(whole(files.size()));
  json.key("errors").number(whole(counts.errors));
  json.key("warnings").number(whole(counts.warnings));
  json.key("notes").number(whole(counts.notes));
  json.end_object();
  json.key("files").begin_array();
  for (const FileReport& file : files) write_file(json, file);
  json.end_array();
  json.end_object();
  return json.take();
}

}  // namespace yubifu::check
