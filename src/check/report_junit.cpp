// The XML in which test runners report and which CI services read: one test case a file.
#include <algorithm>

#include <fmt/format.h>

#include "base/xml_text.h"
#include "check/report_writers.h"

namespace yubifu::check {
namespace {

// Text for XML, also inside attributes, where only a reference keeps a line end.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : base::xml_escaped(without_control_characters(text, "\n"))) {
    if (c == '\n') {
      out += "&#10;";
    } else {
      out += c;
    }
  }
  return out;
}

bool is_fault(const Finding& finding) {
  return finding.severity != base::Severity::note;
}

std::string lines_of(const FileReport& file, bool (*wanted)(const Finding&)) {
  FileReport part{file.name, {}, {}};
  std::copy_if(file.findings.begin(), file.findings.end(), std::back_inserter(part.findings),
               wanted);
  return text_report(part, Colours::none);
}

std::string test_case(const FileReport& file, const RunFacts& facts) {
  std::string out = fmt::format("    <testcase classname=\"yubifu.{}\" name=\"{}\"", facts.verb,
                                escaped(file.name));
  const auto fault = std::find_if(file.findings.begin(), file.findings.end(), is_fault);
  const std::string notes = lines_of(file, [](const Finding& f) { return !is_fault(f); });
  if (fault == file.findings.end() && notes.empty() && file.remarks.empty()) return out + "/>\n";
  out += ">\n";
  if (fault != file.findings.end()) {
    out += fmt::format("      <failure message=\"{}\" type=\"{}\">{}</failure>\n",
                       escaped(message_and_hint(*fault)), fault->rule->name,
                       escaped(lines_of(file, is_fault)));
  }
  if (!notes.empty() || !file.remarks.empty()) {
    std::string said = notes;
    for (const std::string& remark : file.remarks) said += remark + '\n';
    out += fmt::format("      <system-out>{}</system-out>\n", escaped(said));
  }
  return out + "    </testcase>\n";
}

}  // namespace

std::string junit_report(const std::vector<FileReport>& files, const RunFacts& facts) {
  const auto failures = std::count_if(files.begin(), files.end(), [](const FileReport& file) {
    return std::any_of(file.findings.begin(), file.findings.end(), is_fault);
  });
  std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  out += fmt::format("<testsuites tests=\"{}\" failures=\"{}\">\n", files.size(), failures);
  out += fmt::format("  <testsuite name=\"yubifu {}\" tests=\"{}\" failures=\"{}\" errors=\"0\">\n",
                     facts.verb, files.size(), failures);
  for (const FileReport& file : files) out += test_case(file, facts);
  return out + "  </testsuite>\n</testsuites>\n";
}

}  // namespace yubifu::check
