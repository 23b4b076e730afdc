#include "check/findings.h"

#include <algorithm>
#include <utility>

#include "base/findings.h"
#include "base/message.h"
#include "base/utf8.h"
#include "check/rules.h"

namespace yubifu::check {
namespace {

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

using base::message;

std::string_view without_spaces_before(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  return first == std::string_view::npos ? std::string_view() : text.substr(first);
}

// An allowed rule with the measure it is for; none: the whole score.
struct PlacedAllowance {
  const base::Rule* rule;
  std::optional<std::size_t> measure;
  bool used = false;
};

struct Allowances {
  const model::Score& score;
  const std::vector<const base::Rule*>& known;
  std::vector<PlacedAllowance> allowances = {};
  base::Diagnostics remarks = {};

  base::Diagnostics run(base::Diagnostics found) {
    for (const std::string& comment : score.header.comments) add(comment, std::nullopt);
    for (std::size_t i = 0; i < score.measures.size(); ++i) {
      for (const model::Comment& comment : score.measures[i].comments) add(comment.text, i);
    }
    base::Diagnostics left;
    for (base::Diagnostic& diagnostic : found) {
      if (!silences(diagnostic)) left.push_back(std::move(diagnostic));
    }
    for (const auto& [rule, measure, used] : allowances) {
      if (used || rule->standing != base::Standing::on) continue;
      remark(rule::allow_idle, measure,
             measure ? message("nothing in this bar breaks {}", rule->name)
                     : message("nothing in this score breaks {}", rule->name),
             message("take the comment out"));
    }
    base::append(left, std::move(remarks));
    return left;
  }

  void add(const std::string& comment, std::optional<std::size_t> measure) {
    const auto parsed = parse_allowance(comment);
    if (!parsed) return;
    if (parsed->reason.empty()) {
      remark(rule::allow_form, measure,
             message("this comment does not say why it allows {}", parsed->rule),
             message("write `# allow {}: REASON`", parsed->rule));
      return;
    }
    std::vector<std::string_view> names;
    for (const base::Rule* rule : known) {
      if (rule->name == parsed->rule) return allowances.push_back({rule, measure});
      names.push_back(rule->name);
    }
    const auto meant = base::nearest_word(parsed->rule, names);
    remark(
        rule::allow_unknown, measure, message("there is no rule {} to allow", parsed->rule),
        meant ? message("did you mean {}?", *meant) : message("`yubifu check --rules` lists them"));
  }

  void remark(const base::Rule& rule, std::optional<std::size_t> measure, std::string text,
              std::string hint) {
    remarks.push_back(measure ? model::report_measure(rule, score.measures[*measure],
                                                      std::move(text), std::move(hint))
                              : base::report(rule, {}, std::move(text), std::move(hint)));
  }

  // The measure whose source holds a place; the first one where bars share theirs.
  std::optional<std::size_t> measure_at(const base::SourceRange& where) const {
    const auto found = std::partition_point(
        score.measures.begin(), score.measures.end(),
        [&](const model::Measure& measure) { return measure.source.end <= where.begin; });
    if (found == score.measures.end() || found->source.begin > where.begin) return std::nullopt;
    return static_cast<std::size_t>(found - score.measures.begin());
  }

  // True when nothing of the finding is left; else takes out the measures that are allowed.
  bool silences(base::Diagnostic& diagnostic) {
    const auto at = diagnostic.where ? measure_at(*diagnostic.where) : std::nullopt;
    auto& numbers = diagnostic.measures;
    for (auto& [rule, measure, used] : allowances) {
      if (rule->name != diagnostic.rule->name) continue;
      const bool one_place = numbers.size() <= 1 && at;
      const bool is_here = at && measure && *at == *measure;
      auto here = numbers.end();
      if (measure) here = std::find(numbers.begin(), here, score.measures[*measure].number);
      if (measure && (one_place ? !is_here : here == numbers.end())) continue;
      used = true;
      if (!measure || one_place) return true;
      numbers.erase(here);
      if (numbers.empty()) return true;
      if (!is_here) continue;
      // The place of the first measure that is left.
      const auto left =
          std::find_if(score.measures.begin(), score.measures.end(),
                       [&](const model::Measure& one) { return one.number == numbers.front(); });
      if (left != score.measures.end()) diagnostic.where = model::place_of(*left);
    }
    return false;
  }
};

}  // namespace

void add_located(FileReport& report, const base::Diagnostics& diagnostics,
                 const base::SourceText& source) {
  std::vector<const base::Diagnostic*> ordered;
  for (const base::Diagnostic& diagnostic : diagnostics) ordered.push_back(&diagnostic);
  const auto place = [](const base::Diagnostic* d) { return d->where ? d->where->begin + 1 : 0; };
  std::stable_sort(ordered.begin(), ordered.end(),
                   [&](const auto* a, const auto* b) { return place(a) < place(b); });
  for (const base::Diagnostic* diagnostic : ordered) {
    Finding finding{diagnostic->rule, diagnostic->severity, diagnostic->message,
                    diagnostic->hint, diagnostic->measures, std::nullopt};
    if (source.text().empty()) {
      // A MIDI file has no lines: a message that counts on one gets the bars.
      const bool counts_on_line = diagnostic->where && !diagnostic->measures.empty();
      const std::string bars = counts_on_line ? base::bar_list(diagnostic->measures) : "";
      if (finding.message.find(bars) == std::string::npos) finding.message += ": " + bars;
    } else if (diagnostic->where) {
      finding.place = located(*diagnostic->where, source);
    }
    report.findings.push_back(std::move(finding));
  }
}

std::array<std::size_t, 3> count(const std::vector<FileReport>& files) {
  std::array<std::size_t, 3> counts{};  // in the order of Severity
  for (const FileReport& file : files) {
    for (const Finding& finding : file.findings) {
      ++counts[static_cast<std::size_t>(finding.severity)];
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
    const bool control = point.value < 0x20 || (point.value >= 0x7F && point.value < 0xA0);
    if (control && !is_kept) {
      // A tab between words is no more than a space in a line that is shown.
      base::append_utf8(clean, text.front() == '\t' ? U' ' : char32_t{0xFFFD});
    } else {
      base::append_utf8(clean, point.value);
    }
    text.remove_prefix(point.size);
  }
  return clean;
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

std::optional<Allowance> parse_allowance(std::string_view comment) {
  constexpr std::string_view kWord = "allow ";
  comment = without_spaces_before(comment);
  if (!comment.starts_with(kWord)) return std::nullopt;
  const std::string_view rest = without_spaces_before(comment.substr(kWord.size()));
  const std::size_t end = std::min(rest.find_first_of(": \t"), rest.size());
  const std::string rule(rest.substr(0, end));
  const std::string_view after = without_spaces_before(rest.substr(end));
  if (!after.starts_with(':')) {
    if (rule.find('-') == std::string::npos) return std::nullopt;
    return Allowance{rule, {}};
  }
  if (rule.empty()) return Allowance{};
  return Allowance{rule, std::string(without_spaces_before(after.substr(1)))};
}

base::Diagnostics without_allowed(base::Diagnostics found, const model::Score& score,
                                  const std::vector<const base::Rule*>& known) {
  return Allowances{score, known}.run(std::move(found));
}

}  // namespace yubifu::check
