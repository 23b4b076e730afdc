#include "check/findings.h"

#include <algorithm>
#include <tuple>
#include <utility>

#include "base/diagnostic.h"
#include "base/utf8.h"

namespace yubifu::check {
namespace {

bool is_control(char32_t value) {
  return value < 0x20 || value == 0x7F || (value >= 0x80 && value < 0xA0);
}

// The longest beginning of a text that fits into so many columns.
std::string_view fitting(std::string_view text, int columns) {
  std::size_t size = 0;
  while (size < text.size()) {
    const base::CodePoint point = base::first_code_point(text.substr(size));
    columns -= base::display_width(point.value);
    if (columns < 0) break;
    size += point.size;
  }
  return text.substr(0, size);
}

// The longest end of a text that fits into so many columns.
std::string_view fitting_end(std::string_view text, int columns) {
  std::size_t begin = text.size();
  while (begin > 0) {
    std::size_t before = begin - 1;
    while (before > 0 && (static_cast<unsigned char>(text[before]) & 0xC0U) == 0x80U) --before;
    columns -= base::display_width(base::first_code_point(text.substr(before)).value);
    if (columns < 0) break;
    begin = before;
  }
  return text.substr(begin);
}

Place located(const base::SourceRange& where, const base::SourceText& source) {
  Place place;
  place.begin = source.position(where.begin);
  place.end = source.position(std::max(where.begin, where.end));
  const std::string_view line = source.line(place.begin.line);
  // A place may be a line end, which is not part of the line, or before a byte-order mark.
  const auto start = static_cast<std::size_t>(line.data() - source.text().data());
  const auto in_line = [&](std::size_t offset) {
    return std::clamp(offset, start, start + line.size()) - start;
  };
  const std::size_t begin = in_line(where.begin);
  const std::size_t end = std::max(begin, in_line(where.end));
  constexpr int kBefore = kExcerptWidth / 2;
  const std::string_view before = fitting_end(line.substr(0, begin), kBefore);
  const int before_width = base::display_width(without_control_characters(before, {}));
  const std::string_view rest = fitting(line.substr(begin), kExcerptWidth - before_width);
  place.excerpt = without_control_characters(before, {}) + without_control_characters(rest, {});
  while (place.excerpt.ends_with(' ')) place.excerpt.pop_back();
  place.mark_column = before_width;
  const std::string_view marked = rest.substr(0, std::min(end - begin, rest.size()));
  place.mark_width = std::max(1, base::display_width(without_control_characters(marked, {})));
  return place;
}

// In a file without lines, such as a MIDI file, only the bars tell the place: a message that counts
// on a line gets them.
std::string message_without_lines(const base::Diagnostic& diagnostic) {
  if (!diagnostic.where || diagnostic.measures.empty()) return diagnostic.message;
  const std::string bars = base::bar_list(diagnostic.measures);
  const bool named = diagnostic.message.find(bars) != std::string::npos;
  return named ? diagnostic.message : diagnostic.message + ": " + bars;
}

bool comes_before(const base::Diagnostic& a, const base::Diagnostic& b) {
  const auto place = [](const base::Diagnostic& d) {
    return std::tuple(d.where.has_value(), d.where ? d.where->begin : 0);
  };
  return place(a) < place(b);
}

}  // namespace

void add_located(FileReport& report, const base::Diagnostics& diagnostics,
                 const base::SourceText& source) {
  std::vector<const base::Diagnostic*> ordered;
  for (const base::Diagnostic& diagnostic : diagnostics) ordered.push_back(&diagnostic);
  std::stable_sort(ordered.begin(), ordered.end(),
                   [](const auto* a, const auto* b) { return comes_before(*a, *b); });
  for (const base::Diagnostic* diagnostic : ordered) {
    Finding finding{diagnostic->rule, diagnostic->severity, diagnostic->message,
                    diagnostic->hint, diagnostic->measures, std::nullopt};
    if (source.text().empty()) {
      finding.message = message_without_lines(*diagnostic);
    } else if (diagnostic->where) {
      finding.place = located(*diagnostic->where, source);
    }
    report.findings.push_back(std::move(finding));
  }
}

Counts count(const std::vector<FileReport>& files) {
  Counts counts;
  for (const FileReport& file : files) {
    for (const Finding& finding : file.findings) {
      switch (finding.severity) {
        case base::Severity::error:
          ++counts.errors;
          break;
        case base::Severity::warning:
          ++counts.warnings;
          break;
        case base::Severity::note:
          ++counts.notes;
          break;
      }
    }
  }
  return counts;
}

std::string without_control_characters(std::string_view text, std::string_view kept) {
  std::string clean;
  clean.reserve(text.size());
  while (!text.empty()) {
    const base::CodePoint point = base::first_code_point(text);
    const bool is_kept = point.size == 1 && kept.find(text.front()) != std::string_view::npos;
    if (is_control(point.value) && !is_kept) {
      // A tab between words is no more than a space in a line that is shown.
      base::append_utf8(clean, text.front() == '\t' ? U' ' : char32_t{0xFFFD});
    } else {
      base::append_utf8(clean, point.value);
    }
    text.remove_prefix(point.size);
  }
  return clean;
}

std::optional<std::optional<base::Severity>> parse_choice(std::string_view word) {
  using Choice = std::optional<base::Severity>;
  if (word == kOff) return Choice();
  const Choice severity = base::kSeverities.value_of(word);
  if (!severity) return std::nullopt;
  return severity;
}

std::vector<std::string_view> choice_words() {
  std::vector<std::string_view> words = base::kSeverities.words();
  words.push_back(kOff);
  return words;
}

bool is_on(const base::Rule& rule, const RuleChoices& choices) {
  const auto choice = choices.find(rule.name);
  return choice == choices.end() ? rule.standing == base::Standing::on : choice->second.has_value();
}

void choose(FileReport& report, const RuleChoices& choices) {
  std::erase_if(report.findings,
                [&](const Finding& finding) { return !is_on(*finding.rule, choices); });
  for (Finding& finding : report.findings) {
    const auto choice = choices.find(finding.rule->name);
    if (choice != choices.end()) finding.severity = *choice->second;
  }
}

}  // namespace yubifu::check
