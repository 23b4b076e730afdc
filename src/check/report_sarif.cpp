// SARIF 2.1.0, OASIS standard of 27 March 2020.
#include <map>

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

void write_region(JsonWriter& json, const Place& place) {
  json.key("region").begin_object();
  json.key("startLine").number(whole(place.begin.line));
  json.key("startColumn").number(whole(place.begin.column));
  json.key("endLine").number(whole(place.end.line));
  json.key("endColumn").number(whole(place.end.column));
  json.end_object();
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
  if (finding.place) write_region(json, *finding.place);
  json.end_object();
  json.end_object();
  json.end_array();
  json.end_object();
}

}  // namespace

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

}  // namespace yubifu::check
